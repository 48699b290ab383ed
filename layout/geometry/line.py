"""Straight lines and rounded corners in the plane."""

from __future__ import annotations

from collections.abc import Sequence
from math import acos, ceil, degrees, hypot, radians, tan

from layout.geometry.point import Point, angle_between
from layout.geometry.tolerance import EPS


def crossing(p: Point, along: Point, q: Point, other: Point) -> Point:
    """Where the line through p along one direction meets the line through q.

    Raises ValueError when the lines are parallel.
    """
    turn = along.cross(other)
    if abs(turn) < EPS * EPS:
        raise ValueError("parallel lines do not meet")
    return p.plus(along, q.minus(p).cross(other) / turn)


def is_on_segment(p: Point, a: Point, b: Point) -> bool:
    """True when p lies on the segment a-b, ends included, within EPS."""
    return bool(on_segment((p,), a, b))


def on_segment(points: Sequence[Point], a: Point, b: Point) -> list[Point]:
    """Those of the points that lie on the segment a-b, ends included, within EPS."""
    ax, ay = a
    dx, dy = b.x - ax, b.y - ay
    size = hypot(dx, dy)
    if size < EPS:
        return [p for p in points if abs(p.x - ax) < EPS and abs(p.y - ay) < EPS]
    dx, dy = dx / size, dy / size
    most = size + EPS
    found = []
    for p in points:
        x, y = p
        x, y = x - ax, y - ay
        if -EPS <= dx * y - dy * x <= EPS and -EPS <= dx * x + dy * y <= most:
            found.append(p)
    return found


def chord_count(radius: float, sweep: float, stray: float) -> int:
    """How many chords keep an arc within `stray` mm: sagitta r(1 - cos(a/2))."""
    if radius <= stray:
        return 1
    step = degrees(2 * acos(1 - stray / radius))
    return max(1, ceil(abs(sweep) / step))


def rounded(
    corner: Point, into: Point, out: Point, radius: float, chords: int
) -> list[Point]:
    """Points of an arc tangent to both sides of a corner, ends included.

    into, out: unit directions of travel before and after the corner.
    The arc's angles depend on the sides alone, so arcs of other radii on
    parallel sides about the same centre are parallel curves, chord by chord.
    """
    sweep = angle_between(into, out)
    reach = radius * tan(radians(abs(sweep) / 2))
    start = corner.plus(into, -reach)
    side = into.left() if sweep > 0 else into.left().scaled(-1)
    centre = start.plus(side, radius)
    arm = start.minus(centre)
    return [centre.plus(arm.turned(sweep * i / chords)) for i in range(chords + 1)]


def cut_at(path: Sequence[Point], origin: Point, ray: Point) -> tuple[int, Point]:
    """Where a ray from origin first crosses a path of points.

    Returns the index of the path's stretch and the place.
    Raises ValueError when it does not cross.
    """
    best: tuple[float, int, Point] | None = None
    for i in range(len(path) - 1):
        a, b = path[i], path[i + 1]
        along = b.minus(a)
        turn = ray.cross(along)
        if abs(turn) < EPS * EPS:
            continue
        to_a = a.minus(origin)
        far = to_a.cross(along) / turn
        share = to_a.cross(ray) / turn
        if far > EPS and -1e-9 <= share <= 1 + 1e-9 and (not best or far < best[0]):
            best = (far, i, origin.plus(ray, far))
    if best is None:
        raise ValueError("the ray misses the path")
    return best[1], best[2]
