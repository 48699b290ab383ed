"""A standing seam pan: seam legs on both sides, folded head and foot.

Takes the strip's or the pan's own width, gives the pan as it lies on the roof,
foot at y = 0. A head that is turned up is pocketed with the legs, so that it is
made without a cut.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import partial
from typing import Literal

from layout.families.assembly import Assembly
from layout.families.draft import Draft, Label, drafted
from layout.folding.facts import ShopFacts
from layout.folding.leg import Edge, stand
from layout.folding.seam import Part, Seam
from layout.folding.sheet import ROOF, Sheet
from layout.folding.tuck import tuck
from layout.geometry.space import Vec

UP = Vec(0, 0, 1)
Head = Literal["turned up", "lock", "plain"]
Foot = Literal["hook", "plain"]


@dataclass(frozen=True, slots=True)
class Pan:
    """width: finished, from seam to seam; length: from the foot's crease to the
    head's; head_height: 0 for a head that is not turned up; mm."""

    width: float
    length: float
    head: Head
    head_height: float
    foot: Foot
    seam: Seam
    pitch: float


@dataclass(slots=True)
class PanAlone(Assembly):
    """One pan, with its measures for the rules."""

    pan: Pan = field(kw_only=True)


def finished_width(sheet: float, seam: Seam) -> float:
    """What a strip leaves between the seams, mm.

    Example: 600 with legs of 35 and 45 -> 520 (producers' hand legs).
    """
    return sheet - seam.lost()


def assemble(pan: Pan, shop: ShopFacts) -> PanAlone:
    """The pan, the covering leg on its left."""
    made = PanAlone(roof_seam=pan.seam, pitch=pan.pitch, pan=pan)
    made.make(partial(draft, pan, shop.number("lock")))
    return made


def draft(pan: Pan, lock: float) -> Draft:
    """lock: width of a hook or lock folded across the slope, mm.

    Raises CannotFold where the head's pockets have no room.
    """
    sheet = Sheet()
    low, high = Vec(0, 0, 0), Vec(0, pan.length, 0)
    low_right, high_right = (p.plus(Vec(pan.width, 0, 0)) for p in (low, high))
    base = sheet.add_folded("base", "roof", ROOF, [low, low_right, high_right, high])
    sides: tuple[tuple[str, Vec, Vec, Part], ...] = (
        ("left seam", low, high, "covering"),
        ("right seam", low_right, high_right, "receiving"),
    )
    legs = {}
    for name, a, b, part in sides:
        made = stand(sheet, name, [Edge(base, a, b)], UP, pan.seam, part)
        legs[name] = made.legs[0]
        sheet.joint_line(name, made.legs[0], a, b, pan.seam.leg(part))
    if pan.head == "turned up":
        _turned_up(sheet, pan, base, legs)
    elif pan.head == "lock":
        fold = Vec(0, -lock, 0)
        sheet.strip("head lock", "hem", base, high, high_right, fold, "hem", closed=1)
    if pan.foot == "hook":
        fold = Vec(0, lock, 0)
        sheet.strip("foot hook", "hook", base, low, low_right, fold, "hook", closed=-1)
    return drafted(Label("RP", "pan", "Roof pan"), sheet, notes=_notes(pan))


def _turned_up(sheet: Sheet, pan: Pan, base: int, legs: dict[str, int]) -> None:
    """The head stood up, its pockets behind it: the seams stay free to fold."""
    left, right = Vec(0, pan.length, 0), Vec(pan.width, pan.length, 0)
    up = UP.scaled(pan.head_height)
    head = sheet.strip("head", "leg", base, left, right, up, "upstand")
    height = min(pan.head_height, pan.seam.height)
    tuck(sheet, "left pocket", base, left, legs["left seam"], head, height)
    tuck(sheet, "right pocket", base, right, legs["right seam"], head, height)


def _notes(pan: Pan) -> tuple[str, ...]:
    if pan.foot == "hook":
        return ("Leave the hook open until it is on the eave strip or the lock below.",)
    return ()
