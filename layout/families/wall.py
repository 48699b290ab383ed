"""A wall's run of flashing: up a side wall, or across a head wall.

Base on the roof and upstand on the wall from one strip. Takes the measured
run, gives its lengths and the caps at its closed ends.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import partial
from math import cos, radians, sin
from typing import Literal

from layout.families import end_cap
from layout.families.chain import Between, Strip
from layout.families.draft import Label
from layout.families.long_run import Bent, LongRun, add
from layout.folding.facts import ShopFacts
from layout.folding.sheet import Patch
from layout.geometry.point import Point
from layout.geometry.space import Plane, Vec

End = Literal["open", "closed"]


@dataclass(frozen=True, slots=True)
class Wall:
    """One run along a wall.

    kind: "side wall" (the run climbs the slope) or "head wall" (level)
    roof_side: of a side wall, where the roof lies, seen from the eave
    length, upstand, onto_roof: mm, at the roof line; pitch: degrees
    near_end, far_end: lower and upper, or left and right, end of the run
    """

    kind: Literal["side wall", "head wall"]
    roof_side: Literal["left", "right"] | None
    length: float
    upstand: float
    onto_roof: float
    near_end: End
    far_end: End
    pitch: float

    @property
    def fold(self) -> float:
        """Turn from the roof to the wall, degrees: 90 at a side wall, 90 less
        the pitch at a head wall."""
        return 90.0 if self.kind == "side wall" else 90.0 - self.pitch

    @property
    def along(self) -> Vec:
        """Unit direction of the run, from its near end."""
        return Vec(0, 1, 0) if self.kind == "side wall" else Vec(1, 0, 0)

    @property
    def out(self) -> Vec:
        """Unit direction from the wall's foot on to the roof."""
        if self.kind == "head wall":
            return Vec(0, -1, 0)
        return Vec(-1 if self.roof_side == "left" else 1, 0, 0)

    @property
    def up(self) -> Vec:
        """Unit direction up the wall, square to the run."""
        if self.kind == "side wall":
            return Vec(0, 0, 1)
        return Vec(0, sin(radians(self.pitch)), cos(radians(self.pitch)))

    @property
    def wall(self) -> str:
        """Which wall of a chimney it is like."""
        return "front" if self.kind == "head wall" else self.roof_side or "left"


@dataclass(slots=True)
class AlongWall(LongRun):
    """The pieces along one wall, with the wall for the rules."""

    wall: Wall = field(kw_only=True)


def assemble(wall: Wall, shop: ShopFacts) -> AlongWall:
    """Lengths along the wall, in the roof's frame, the foot's near end at its
    origin; caps where an end is closed."""
    # Square to foot and upstand, on the side where the roof lies.
    normal = wall.up.cross(wall.along)
    normal = normal if normal.dot(wall.out) > 0 else normal.scaled(-1)
    planes = {wall.wall: Plane(Vec(0, 0, 0), normal)}
    made = AlongWall(pitch=wall.pitch, walls=planes, wall=wall)
    title = "Side wall" if wall.kind == "side wall" else "Head wall"
    add(made, shop, Label("W", "wall", f"{title} flashing"), bent(wall, shop))
    for mark, closed, at, inward in (
        ("E1", wall.near_end, 0.0, wall.along),
        ("E2", wall.far_end, wall.length, wall.along.scaled(-1)),
    ):
        if closed == "closed":
            foot = wall.along.scaled(at)
            section = [
                foot.plus(wall.out, wall.onto_roof),
                foot,
                foot.plus(wall.up, wall.upstand),
            ]
            label, flange = Label(mark, "end_cap", "End cap"), shop.number("cap_flange")
            made.make(partial(end_cap.end_cap, label, section, inward, flange))
    return made


def bent(wall: Wall, shop: ShopFacts) -> Bent:
    """Its strips: hem at the wall's top, upstand, base, hem on the roof.

    The roof's hem turns up, to turn water back and to hold cleats; a head
    wall's turns under. Girth: both legs and both hems (8 + 4 + 1/2 + 1/2 in).
    """
    hem = shop.number("hem")
    roof_hem = -180.0 if wall.kind == "head wall" else 180.0
    strips = [
        Strip("top hem", "hem", hem, hem),
        Strip("upstand", "wall", wall.upstand, wall.upstand, wall.wall),
        Strip("base", "roof", wall.onto_roof, wall.onto_roof),
        Strip("hem", "hem", hem, hem),
    ]
    folds = [
        Between(180.0, "hem"),
        Between(wall.fold, "upstand"),
        Between(roof_hem, "hem"),
    ]
    across = Vec(0, 0, 1).cross(wall.along)
    if across.dot(wall.out) > 0:
        place = Patch(Point(0, 0), Point(1, 0), Vec(0, 0, 0), wall.along, across)
        return Bent(wall.length, strips, folds, 2, place)
    corner = wall.out.scaled(wall.onto_roof)
    place = Patch(Point(0, 0), Point(1, 0), corner, wall.along, across)
    return Bent(wall.length, strips[::-1], folds[::-1], 1, place)
