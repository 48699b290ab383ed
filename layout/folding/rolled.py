"""Rolled metal: round and conical sleeves in the flat, by true lengths.

Takes a cone or cylinder cut square at its top and by a roof at its foot, gives
its flat and, rolled up again, where each place of it comes to lie.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import asin, atan2, cos, degrees, hypot, pi, radians, sin, tan
from typing import NamedTuple

from layout.geometry.point import Point
from layout.geometry.space import Plane, Vec


class Sector(NamedTuple):
    """The flat of a frustum: a part of a ring. inner, outer: radii; angle: degrees."""

    inner: float
    outer: float
    angle: float

    @property
    def slant(self) -> float:
        return self.outer - self.inner

    @property
    def area(self) -> float:
        """Example: radius 7, arc 14 -> 49 (Sheet Metal Drafting, p.82)."""
        return radians(self.angle) * (self.outer**2 - self.inner**2) / 2


def frustum(foot: float, top: float, height: float) -> Sector:
    """The flat of a cone cut off square. foot, top: diameters, foot > top >= 0;
    height: along its axis; any one unit.

    Example: 8, 5, 4 -> 7.12, 11.39 and 126.4 degrees.
    """
    slant = hypot(height, (foot - top) / 2)
    narrowing = (foot - top) / 2 / slant
    return Sector(top / 2 / narrowing, foot / 2 / narrowing, 360 * narrowing)


@dataclass(frozen=True, slots=True)
class Sleeve:
    """A sleeve about an axis, its foot on a roof.

    foot, top: radii at the height of the foot's short side and at the top;
    height: of the short side, along the axis, mm
    tilt: between the axis and the roof's own square, degrees
    Turns are radians from the short side. In its own frame the axis is z, the
    short side lies towards +y, its foot at z = 0.
    """

    foot: float
    top: float
    height: float
    tilt: float

    @property
    def is_round(self) -> bool:
        return self.foot == self.top

    @property
    def narrowing(self) -> float:
        """Sine of the half angle at the apex; 0 for a round sleeve."""
        return sin(atan2(self.foot - self.top, self.height))

    @property
    def closes(self) -> bool:
        """False where the cone is so flat that the roof never cuts its low side."""
        return (self.foot - self.top) / self.height * tan(radians(self.tilt)) < 1

    def drop(self, turn: float) -> float:
        """How far the foot lies under its short side, along the axis, mm.

        Round: r tan(tilt) (1 - cos turn). Example: r 2, 6:12, half a turn -> 2.
        """
        steep = tan(radians(self.tilt))
        leaning = (self.foot - self.top) / self.height * steep * cos(turn)
        return self.foot * (1 - cos(turn)) * steep / (1 + leaning)

    def on_foot(self, turn: float) -> Vec:
        """The foot's place at a turn, in the sleeve's own frame."""
        return self._at(turn, -self.drop(turn))

    def _at(self, turn: float, z: float) -> Vec:
        radius = self.foot - (self.foot - self.top) * z / self.height
        return Vec(radius * sin(turn), radius * cos(turn), z)

    def roof(self) -> Plane:
        """The roof in the sleeve's own frame."""
        a = radians(self.tilt)
        return Plane(Vec(0, self.foot, 0), Vec(0, -sin(a), cos(a)))

    # --- the flat ----------------------------------------------------------

    def flat(self, turn: float, from_top: float) -> Point:
        """A place in the flat, from_top mm along the axis under the top edge.

        Round: x round from the short side, y down from the top, which is the
        datum edge. Conical: polar about the apex, the short side along x.
        """
        if self.is_round:
            return Point(self.foot * turn, from_top)
        narrow = self.narrowing
        slant = self.top / narrow + from_top / cos(asin(narrow))
        return Point(slant, 0).turned(degrees(turn * narrow))

    def flat_foot(self, turn: float) -> Point:
        return self.flat(turn, self.height + self.drop(turn))

    def flat_top(self, turn: float) -> Point:
        return self.flat(turn, 0.0)

    def rolled(self, place: Point, near: float) -> Vec:
        """Where a place of the flat lies once rolled up.

        near: its turn, to half a turn, since a wide sector comes round again
        """
        if self.is_round:
            turn = place.x / self.foot
            return self._at(turn, self.height - place.y)
        narrow = self.narrowing
        heading = atan2(place.y, place.x)
        heading += 2 * pi * round((near * narrow - heading) / (2 * pi))
        from_top = (place.length() - self.top / narrow) * cos(asin(narrow))
        return self._at(heading / narrow, self.height - from_top)

    # --- the lap -----------------------------------------------------------

    def has_room(self, lap: float) -> bool:
        """False where a lap is so wide that the flat would lie on itself."""
        if self.is_round:
            return True
        quarter = min(2 * pi, pi / 2 / self.narrowing)
        if min(self.flat_top(quarter).y, self.flat_foot(quarter).y) < lap:
            return False
        past = max(self.lap_turn(lap, at_top) for at_top in (True, False))
        return (2 * pi + past) * self.narrowing < 2 * pi

    def lap_turn(self, lap: float, at_top: bool) -> float:
        """The turn past a whole one where a lap of that width ends, radians.

        Its edge runs along the seam, `lap` mm from it.
        """
        if self.is_round:
            return lap / self.foot
        low, high = 0.0, min(2 * pi, pi / 2 / self.narrowing)
        for _ in range(60):
            middle = (low + high) / 2
            flat = self.flat_top(middle) if at_top else self.flat_foot(middle)
            if flat.y < lap:
                low = middle
            else:
                high = middle
        return (low + high) / 2
