"""Tapered blanks head to tail: two of them in one rectangle, as an offer.

Takes outlines in mm, gives how far apart two of them must stand. The pair comes
off by straight through cuts and is parted by one slanted cut.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from layout.geometry.outline import hull
from layout.geometry.point import Point
from layout.geometry.tolerance import EPS


def closest(one: Sequence[Point], two: Sequence[Point]) -> float:
    """How far right of the first outline the second must stand, mm, so that a
    straight cut parts them. Both stand on one line. No hollow is used: the hulls
    only touch, and two that touch are parted along a side of one of them.

    Both: (n) Points, closed, first not repeated
    Where they share no row the answer is 0.
    """
    first, second = hull(one), hull(two)
    heights = sorted({p.y for p in (*first, *second)})
    low = max(min(p.y for p in first), min(p.y for p in second))
    high = min(max(p.y for p in first), max(p.y for p in second))
    gap = 0.0
    for y in (h for h in heights if low - EPS <= h <= high + EPS):
        right = max(_crossings(first, y), default=0.0)
        left = min(_crossings(second, y), default=0.0)
        gap = max(gap, right - left)
    return gap


def _crossings(points: Sequence[Point], y: float) -> list[float]:
    """Where a polygon's edges meet the row at height y, ends included."""
    found = []
    for a, b in pairwise((*points, points[0])):
        low, high = min(a.y, b.y), max(a.y, b.y)
        if not low - EPS <= y <= high + EPS:
            continue
        if high - low <= EPS:
            found += [a.x, b.x]
        else:
            share = min(1.0, max(0.0, (y - a.y) / (b.y - a.y)))
            found.append(a.x + (b.x - a.x) * share)
    return found


def parting_line(
    one: Sequence[Point], two: Sequence[Point], part: tuple[float, float, float, float]
) -> tuple[tuple[float, float], tuple[float, float]] | None:
    """The straight line that has the outlines on its two sides, within the
    rectangle `part` (x, y, width, length); None where there is none."""
    hulls = hull(one), hull(two)
    for mine, other in (hulls, hulls[::-1]):
        for a, b in pairwise((*mine, mine[0])):
            along = b.minus(a)
            if along.length() <= EPS:
                continue
            along = along.unit()
            sides = [along.cross(p.minus(a)) for p in mine]
            others = [along.cross(p.minus(a)) for p in other]
            for sign in (1, -1):
                if (
                    min(sign * s for s in sides) >= -10 * EPS
                    and max(sign * s for s in others) <= 10 * EPS
                ):
                    return _within(a, along, part)
    return None


def _within(
    a: Point, along: Point, part: tuple[float, float, float, float]
) -> tuple[tuple[float, float], tuple[float, float]]:
    """The line through a, cut off at the rectangle's sides."""
    low, high = -float("inf"), float("inf")
    for way in (0, 1):
        if abs(along[way]) <= EPS:
            continue
        ends = sorted(
            (edge - a[way]) / along[way]
            for edge in (part[way], part[way] + part[way + 2])
        )
        low, high = max(low, ends[0]), min(high, ends[1])
    start, end = a.plus(along, low), a.plus(along, high)
    return (start.x, start.y), (end.x, end.y)
