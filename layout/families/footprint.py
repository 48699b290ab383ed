"""The true footprint of a penetration from its four sides and a diagonal.

Takes measures at the roof line, mm, gives the four corners. Two triangles
stand on the diagonal from front left to back right.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

from layout.families.site import square_corners
from layout.geometry.point import Point, angle_between
from layout.geometry.space import Vec

Corners = tuple[Vec, Vec, Vec, Vec]


class Unclosed(ValueError):
    """Sides that can't close with the diagonal, or one that was not taken."""


@dataclass(frozen=True, slots=True)
class Sides:
    """Four sides and a diagonal, mm. diagonal None: taken as square."""

    front: float
    right: float
    back: float
    left: float
    diagonal: float | None = None

    def is_square(self, tolerance: float) -> bool:
        """True when opposite sides, and the diagonal where taken, agree with a
        rectangle within the tolerance, mm."""
        width, depth = (self.front + self.back) / 2, (self.left + self.right) / 2
        diagonal = sqrt(width**2 + depth**2)
        return (
            abs(self.front - self.back) <= tolerance
            and abs(self.left - self.right) <= tolerance
            and (self.diagonal is None or abs(self.diagonal - diagonal) <= tolerance)
        )


def corners(sides: Sides, tolerance: float) -> Corners:
    """Front left, front right, back right, back left in the roof frame.

    tolerance: within it the penetration is taken as square, its sides as the
    means of opposite ones. Raises Unclosed.
    """
    if sides.is_square(tolerance):
        return square_corners(
            (sides.front + sides.back) / 2, (sides.left + sides.right) / 2
        )
    if sides.diagonal is None:
        raise Unclosed("out of square, and no diagonal was taken")
    back_right = _third(sides.front, sides.right, sides.diagonal)
    along = back_right.unit()
    # Seen along the diagonal the back left corner lies on the left.
    t, off = _foot(sides.diagonal, sides.back, sides.left)
    back_left = along.scaled(t).plus(along.left(), off)
    return (
        Vec(0, 0, 0),
        Vec(sides.front, 0, 0),
        Vec(back_right.x, back_right.y, 0),
        Vec(back_left.x, back_left.y, 0),
    )


def _third(base: float, far: float, near: float) -> Point:
    """Apex of a triangle on the x axis: `near` from its start, `far` from its
    end, above it."""
    t, off = _foot(base, far, near)
    return Point(t, off)


def _foot(base: float, far: float, near: float) -> tuple[float, float]:
    """Along the base to the foot of the apex, and its height over the base."""
    t = (base**2 + near**2 - far**2) / (2 * base)
    if near**2 - t**2 <= 0:
        raise Unclosed("the sides don't reach each other")
    return t, sqrt(near**2 - t**2)


def span(sides: Sides) -> tuple[float, float]:
    """The shortest and the longest diagonal the four sides can have, mm."""
    least = max(abs(sides.front - sides.right), abs(sides.left - sides.back))
    most = min(sides.front + sides.right, sides.left + sides.back)
    return least, most


def angles(found: Corners) -> tuple[float, ...]:
    """The inside angle at each corner, degrees, in the corners' order."""
    inside = []
    for i, corner in enumerate(found):
        after = found[(i + 1) % 4].minus(corner)
        before = found[i - 1].minus(corner)
        turn = angle_between(Point(after.x, after.y), Point(before.x, before.y))
        inside.append(turn % 360)
    return tuple(inside)
