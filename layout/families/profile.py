"""A profile: any section of straight legs, folds and hems, straight or tapered."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from layout.families.chain import Between, Strip
from layout.families.draft import Label
from layout.families.long_run import Bent, LongRun, add
from layout.folding.allowance import Bend, Faces
from layout.folding.corner import CannotFold
from layout.folding.facts import ShopFacts


@dataclass(frozen=True, slots=True)
class Part:
    """One leg or hem of a section, and the fold before it.

    width, far: mm at either end; fold: degrees, up positive, 0 before the first
    hem: "", "closed" or "open"
    """

    width: float
    far: float
    fold: float
    hem: str = ""


@dataclass(frozen=True, slots=True)
class Profile:
    """length, radius (inside): mm; faces: what each leg is measured to."""

    length: float
    parts: Sequence[Part]
    radius: float
    faces: Faces


def assemble(profile: Profile, shop: ShopFacts) -> LongRun:
    """The profile, in one piece or in lengths that lap.

    The widest leg is the one the others are folded from.
    """
    made = LongRun()
    metal = shop.metal
    if profile.radius < metal.smallest_radius:
        made.refused.append(
            CannotFold(
                f"profile: the inside radius {{0}} is smaller than {metal.name} "
                f"stands, {{1}} ({metal.source})",
                profile.radius,
                metal.smallest_radius,
            )
        )
        return made
    strips = [
        Strip(
            f"{'hem' if p.hem else 'leg'} {i}",
            "hem" if p.hem else "face",
            p.width,
            p.far,
        )
        for i, p in enumerate(profile.parts, start=1)
    ]
    folds = [
        Between(after.fold, "hem" if before.hem or after.hem else "leg")
        for before, after in zip(profile.parts, profile.parts[1:], strict=False)
    ]
    legs = [i for i, part in enumerate(profile.parts) if not part.hem]
    root = max(legs, key=lambda i: profile.parts[i].width)
    bent = Bent(profile.length, strips, folds, root)
    add(made, shop, Label("P", "profile", "Profile"), bent)
    made.bend = Bend(profile.radius, metal.thickness, metal.kind)
    made.faces = profile.faces
    return made
