"""An end cap: from a record as read to its one piece."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from layout.families import end_cap
from layout.families.assembly import Assembly
from layout.faults import Fault
from layout.folding.facts import ShopFacts
from shop.units import Unit


def faults(read: dict[str, Any]) -> Iterator[Fault]:
    """A section that is not leg, fold, leg and so on, or that turns both ways."""
    yield from order_faults("end_cap.section", read["end_cap"]["section"])


def order_faults(path: str, section: Sequence[dict[str, Any]]) -> Iterator[Fault]:
    """The parts from edge to edge, or what is wrong with their order."""
    for i, item in enumerate(section):
        wanted = "fold" if i % 2 else "leg"
        if wanted not in item:
            yield Fault(
                f"{path}[{i}]",
                f"is not a {wanted}",
                "give leg, fold, leg and so on, from edge to edge",
            )
    if len(section) % 2 == 0:
        yield Fault(path, "ends with a fold", "give the leg after it")
    ways = {item["direction"] for item in section if "fold" in item}
    if len(ways) > 1:
        yield Fault(
            path,
            "folds both up and down",
            "cap each part that turns one way by itself",
        )


def assemble(read: dict[str, Any], unit: Unit, shop: ShopFacts) -> Assembly:
    """The plate with its folded edges."""
    section, flange = read["end_cap"]["section"], read["end_cap"]["flange"]
    legs = [item["leg"] for item in section if "leg" in item]
    folds = [item["fold"] for item in section if "fold" in item]
    return end_cap.assemble(legs, folds, flange)
