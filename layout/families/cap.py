"""A ridge or hip cap: over two roofs that fall away from one line.

Takes both pitches and the plan angle, gives the cap in the main roof's frame,
its line through the origin, in one piece or in lengths that lap.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians, sin
from typing import Literal

from layout.families.chain import Between, Strip
from layout.families.draft import Label
from layout.families.long_run import Bent, LongRun, add
from layout.families.valley import fold_angle
from layout.folding.facts import ShopFacts
from layout.folding.sheet import Patch
from layout.geometry.point import Point
from layout.geometry.space import Vec


@dataclass(frozen=True, slots=True)
class Cap:
    """wing, other_wing: on the main and the other roof; leg: height at which
    the cap stands over the roofs, 0 = it lies on them; mm. pitch, other_pitch,
    plan_angle: degrees; plan_angle: between the eaves, 0 for a ridge."""

    length: float
    wing: float
    other_wing: float
    leg: float
    edge: Literal["hem", "plain"]
    pitch: float
    other_pitch: float
    plan_angle: float

    @property
    def fold(self) -> float:
        """How far the cap turns from flat, degrees. Example: two roofs of 6:12
        at 90 in plan -> 36.87; a ridge of 6:12 and 6:12 -> 53.13."""
        return fold_angle(self.pitch, self.other_pitch, self.plan_angle)

    def normals(self) -> tuple[Vec, Vec]:
        """Of the main and the other roof, in the main roof's frame.

        Seen up the hip the main roof lies on the left. In plan the roofs fall
        in directions 180 - plan angle apart.
        """
        a, b = radians(self.pitch), radians(self.other_pitch)
        turn = radians(self.plan_angle)
        # x along the main eave, y level into the main roof, z plumb.
        other = Vec(sin(b) * sin(turn), sin(b) * cos(turn), cos(b))
        return Vec(0, 0, 1), Vec(
            other.x,
            other.y * cos(a) + other.z * sin(a),
            other.z * cos(a) - other.y * sin(a),
        )


def assemble(cap: Cap, shop: ShopFacts) -> LongRun:
    """The cap: two wings, folded legs where it stands over the roofs, hems."""
    main, other = cap.normals()
    # The line rises with a hip; a ridge's leaves the main roof on its left too.
    up = main.cross(other).unit()
    # Both wings stand off their roofs by the leg: along the line's bisector.
    off = main.plus(other).scaled(cap.leg / (1 + main.dot(other)))
    place = Patch(Point(0, 0), Point(1, 0), off, up, main.cross(up))
    strips, folds, root = _section(cap, shop.number("hem"))
    made = LongRun(pitch=cap.pitch)
    add(
        made,
        shop,
        Label("RC", "cap", "Ridge cap" if cap.plan_angle == 0 else "Hip cap"),
        Bent(cap.length, strips, folds, root, place),
    )
    return made


def _section(cap: Cap, hem: float) -> tuple[list[Strip], list[Between], int]:
    """From the other roof's edge to the main roof's."""

    def strip(name: str, role: Literal["hem", "leg"], width: float) -> Strip:
        return Strip(name, role, width, width)

    lies = cap.leg == 0
    wing = Strip("wing", "roof" if lies else "face", cap.wing, cap.wing)
    strips = [Strip("other wing", "face", cap.other_wing, cap.other_wing), wing]
    folds = [Between(-cap.fold, "ridge")]
    if cap.leg:
        legs = [strip("other leg", "leg", cap.leg), strip("leg", "leg", cap.leg)]
        strips = [legs[0], *strips, legs[1]]
        folds = [Between(-90.0, "leg"), *folds, Between(-90.0, "leg")]
    if cap.edge == "hem":
        hems = [strip("other hem", "hem", hem), strip("hem", "hem", hem)]
        strips = [hems[0], *strips, hems[1]]
        folds = [Between(-180.0, "hem"), *folds, Between(-180.0, "hem")]
    return strips, folds, strips.index(wing)
