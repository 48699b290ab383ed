"""A profile: from a record as read to its one piece."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from layout.families import profile
from layout.families.assembly import Assembly
from layout.families.profile import Part, Profile
from layout.faults import Fault
from layout.folding.facts import ShopFacts
from shop.units import Unit

Items = Sequence[dict[str, Any]]


def faults(read: dict[str, Any]) -> Iterator[Fault]:
    """A section that can't be followed from edge to edge, or two that differ."""
    section, far = read["profile"]["section"], read["profile"]["far_end"]
    yield from order_faults("profile.section", section)
    if far is None:
        return
    yield from order_faults("profile.far_end", far)
    kinds = [_kind(item) for item in section]
    if [_kind(item) for item in far] != kinds:
        yield Fault(
            "profile.far_end",
            "has other parts than the section",
            "give the same legs, folds and hems in the same order",
        )
        return
    for i, (one, other) in enumerate(zip(section, far, strict=True)):
        if "fold" in one and one != other:
            yield Fault(
                f"profile.far_end[{i}].fold",
                f"was {other['fold']:g}° {other['direction']}",
                f"give the section's own, {one['fold']:g}° {one['direction']}",
            )


def _kind(item: dict[str, Any]) -> str:
    return next(kind for kind in ("leg", "fold", "hem") if kind in item)


def order_faults(path: str, section: Items) -> Iterator[Fault]:
    """Legs with a fold between each two; hems at the ends only."""
    kinds = [_kind(item) for item in section]
    if "leg" not in kinds:
        yield Fault(path, "has no leg", "give at least one leg")
    for i, kind in enumerate(kinds):
        before = kinds[i - 1] if i else ""
        if kind == "hem" and 0 < i < len(kinds) - 1:
            yield Fault(f"{path}[{i}]", "is a hem inside the section", "hem the ends")
        if kind == "leg" and before == "leg":
            yield Fault(f"{path}[{i}]", "follows a leg", "give the fold between them")
        if kind == "fold" and (before != "leg" or kinds[i + 1 : i + 2] != ["leg"]):
            yield Fault(
                f"{path}[{i}]", "is a fold without a leg on both sides", "give the legs"
            )


def assemble(read: dict[str, Any], unit: Unit, shop: ShopFacts) -> Assembly:
    """The profile's one piece."""
    asked = read["profile"]
    parts = _parts(asked["section"], asked["far_end"] or asked["section"])
    return profile.assemble(
        Profile(asked["length"], parts, asked["radius"], asked["faces"]), shop
    )


def _parts(section: Items, far: Items) -> list[Part]:
    """Legs and hems, each with the fold that leads to it."""
    parts: list[Part] = []
    turn = 0.0
    for near, end in zip(section, far, strict=True):
        sign = -1 if near.get("direction") == "down" else 1
        if "fold" in near:
            turn = sign * near["fold"]
        elif "leg" in near:
            # A hem before the first leg is folded on to it.
            parts.append(Part(near["leg"], end["leg"], turn))
            turn = 0.0
        else:
            closed = sign * 180.0
            parts.append(Part(near["hem"], end["hem"], closed, near["kind"]))
            turn = closed if len(parts) == 1 else 0.0
    return parts
