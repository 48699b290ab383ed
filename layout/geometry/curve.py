"""Curves of the plane as chords that keep close to them."""

from __future__ import annotations

from collections.abc import Callable
from math import hypot

from layout.geometry.point import Point

Curve = Callable[[float], Point]

PARTS = 8
"""A curve is looked at in so many parts at least: a chord through a turning
point would pass for straight."""
SHARE = 0.9
"""Chords are held to this share of the stray: it is measured at places only."""


def chords(curve: Curve, low: float, high: float, stray: float) -> list[Point]:
    """Points on a curve, ends included, whose chords stray no further, mm.

    curve: a smooth function of one parameter, from low to high
    """
    stops = [low + (high - low) * i / PARTS for i in range(PARTS + 1)]
    points = [curve(low)]
    for a, b in zip(stops, stops[1:], strict=False):
        points += _part(curve, a, b, stray * SHARE)
    return _without_straight(points)


def _part(curve: Curve, low: float, high: float, stray: float) -> list[Point]:
    """Points after the first."""
    a, b = curve(low), curve(high)
    between = (curve(low + (high - low) * share) for share in (0.25, 0.5, 0.75))
    if all(_off(p, a, b) <= stray for p in between):
        return [b]
    middle = (low + high) / 2
    return [*_part(curve, low, middle, stray), *_part(curve, middle, high, stray)]


def _off(p: Point, a: Point, b: Point) -> float:
    """Distance of a place from the line a-b; from a where both are one."""
    along = b.minus(a)
    size = hypot(*along)
    arm = p.minus(a)
    return abs(along.cross(arm)) / size if size else arm.length()


def _without_straight(points: list[Point]) -> list[Point]:
    """Leaves out places that lie on the line between their neighbours."""
    kept = points[:1]
    for p, after in zip(points[1:], points[2:], strict=False):
        if _off(p, kept[-1], after) > 1e-9:
            kept.append(p)
    return [*kept, points[-1]]
