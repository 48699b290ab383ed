"""Points and directions of the plane, in mm, x to the right, y up."""

from __future__ import annotations

from math import atan2, cos, degrees, hypot, radians, sin
from typing import NamedTuple

_new = tuple.__new__
# A NamedTuple's own constructor takes twice as long; points are made by the
# hundred thousand.


class Point(NamedTuple):
    """A place or a direction in the plane."""

    x: float
    y: float

    def plus(self, other: Point, times: float = 1.0) -> Point:
        return _new(Point, (self.x + other.x * times, self.y + other.y * times))

    def minus(self, other: Point) -> Point:
        return _new(Point, (self.x - other.x, self.y - other.y))

    def scaled(self, by: float) -> Point:
        return _new(Point, (self.x * by, self.y * by))

    def dot(self, other: Point) -> float:
        return self.x * other.x + self.y * other.y

    def cross(self, other: Point) -> float:
        """Positive when other lies counter-clockwise of this direction."""
        return self.x * other.y - self.y * other.x

    def length(self) -> float:
        return hypot(self.x, self.y)

    def unit(self) -> Point:
        """The same direction, 1 mm long. Raises ValueError for a zero length."""
        size = self.length()
        if size == 0:
            raise ValueError("a point has no direction")
        return _new(Point, (self.x / size, self.y / size))

    def left(self) -> Point:
        """This direction turned 90 degrees counter-clockwise."""
        return _new(Point, (-self.y, self.x))

    def turned(self, angle: float) -> Point:
        """Turned about the origin by angle degrees, counter-clockwise positive."""
        c, s = cos(radians(angle)), sin(radians(angle))
        return _new(Point, (self.x * c - self.y * s, self.x * s + self.y * c))

    def heading(self) -> float:
        """Direction in degrees from +x, -180 to 180."""
        return degrees(atan2(self.y, self.x))


def angle_between(a: Point, b: Point) -> float:
    """Degrees from direction a to b, counter-clockwise positive, -180 to 180."""
    return degrees(atan2(a.cross(b), a.dot(b)))
