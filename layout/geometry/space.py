"""Points and directions in space, in mm; planes."""

from __future__ import annotations

from math import atan2, cos, degrees, radians, sin, sqrt
from typing import NamedTuple

_new = tuple.__new__  # quicker than a NamedTuple's own, as in point.py


class Vec(NamedTuple):
    """A place or a direction in space."""

    x: float
    y: float
    z: float

    def plus(self, other: Vec, times: float = 1.0) -> Vec:
        return _new(
            Vec,
            (
                self.x + other.x * times,
                self.y + other.y * times,
                self.z + other.z * times,
            ),
        )

    def minus(self, other: Vec) -> Vec:
        return _new(Vec, (self.x - other.x, self.y - other.y, self.z - other.z))

    def scaled(self, by: float) -> Vec:
        return _new(Vec, (self.x * by, self.y * by, self.z * by))

    def dot(self, other: Vec) -> float:
        return self.x * other.x + self.y * other.y + self.z * other.z

    def cross(self, other: Vec) -> Vec:
        return _new(
            Vec,
            (
                self.y * other.z - self.z * other.y,
                self.z * other.x - self.x * other.z,
                self.x * other.y - self.y * other.x,
            ),
        )

    def length(self) -> float:
        return sqrt(self.dot(self))

    def unit(self) -> Vec:
        """The same direction, 1 mm long. Raises ValueError for a zero length."""
        size = self.length()
        if size == 0:
            raise ValueError("a point has no direction")
        return self.scaled(1 / size)

    def turned(self, axis: Vec, angle: float) -> Vec:
        """Turned by angle degrees about a unit axis through the origin."""
        c, s = cos(radians(angle)), sin(radians(angle))
        across = axis.cross(self)
        along = axis.scaled(axis.dot(self) * (1 - c))
        return self.scaled(c).plus(across, s).plus(along)


def angle_in_space(a: Vec, b: Vec) -> float:
    """Degrees between two directions, 0 to 180."""
    return degrees(atan2(a.cross(b).length(), a.dot(b)))


class Plane(NamedTuple):
    """A plane by a point on it and its unit normal."""

    point: Vec
    normal: Vec

    def distance(self, place: Vec) -> float:
        """Signed distance in mm, positive on the side of the normal."""
        return place.minus(self.point).dot(self.normal)

    def mirrored(self, width: float) -> Plane:
        """The plane seen in a mirror that swaps x = 0 and x = width."""
        return Plane(mirrored(self.point, width), flipped(self.normal))


def flipped(direction: Vec) -> Vec:
    """A direction with its x turned round."""
    return Vec(-direction.x, direction.y, direction.z)


def mirrored(place: Vec, width: float) -> Vec:
    """A place seen in the mirror that swaps x = 0 and x = width."""
    return Vec(width - place.x, place.y, place.z)


def meeting_direction(a: Plane, b: Plane) -> Vec:
    """Unit direction of the line where two planes meet.

    Raises ValueError when they are parallel.
    """
    return a.normal.cross(b.normal).unit()
