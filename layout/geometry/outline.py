"""Simple polygons: area, bounds, triangles, how deep two of them overlap.

A polygon is a sequence of (n) Points, closed, first not repeated.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot, inf

from layout.geometry.point import Point
from layout.geometry.tolerance import EPS

Triangle = tuple[Point, Point, Point]


def area(points: Sequence[Point]) -> float:
    """Signed area in square mm, positive counter-clockwise (shoelace formula)."""
    total = 0.0
    x0, y0 = points[-1]
    for x, y in points:
        total += x0 * y - x * y0
        x0, y0 = x, y
    return total / 2


def bounds(points: Sequence[Point]) -> tuple[float, float, float, float]:
    """Lowest x, lowest y, highest x, highest y."""
    xs = [p.x for p in points]
    ys = [p.y for p in points]
    return min(xs), min(ys), max(xs), max(ys)


def without_repeats(points: Sequence[Point]) -> list[Point]:
    """The same polygon with points that repeat their neighbour left out."""
    kept: list[Point] = []
    for point in points:
        if not kept or not _same(point, kept[-1]):
            kept.append(point)
    while len(kept) > 1 and _same(kept[0], kept[-1]):
        kept.pop()
    return kept


def _same(p: Point, q: Point) -> bool:
    return hypot(p[0] - q[0], p[1] - q[1]) <= EPS


def triangles(points: Sequence[Point]) -> list[Triangle]:
    """Cuts a counter-clockwise simple polygon into triangles (ear cutting).

    Raises ValueError when the polygon crosses itself.
    """
    ring = without_repeats(points)
    if len(ring) > 3 and crosses_itself(ring):
        raise ValueError("the outline crosses itself")
    found: list[Triangle] = []
    while len(ring) > 3:
        ear = next((i for i in range(len(ring)) if _is_ear(ring, i)), None)
        if ear is None:
            raise ValueError("the outline crosses itself")
        tip = (ring[ear - 1], ring[ear], ring[(ear + 1) % len(ring)])
        if area(tip) > EPS * EPS:
            found.append(tip)
        del ring[ear]
    rest = area(ring)
    if rest < -EPS:
        raise ValueError("the outline crosses itself")
    if rest > EPS * EPS:
        found.append((ring[0], ring[1], ring[2]))
    return found


def hull(points: Sequence[Point]) -> list[Point]:
    """The corners of the tightest convex outline round the points, counter-clockwise.

    points: (n) Points, three of them not in a line
    """

    def chain(ordered: Sequence[Point]) -> list[Point]:
        kept: list[Point] = []
        for p in ordered:
            while (
                len(kept) > 1
                and kept[-1].minus(kept[-2]).cross(p.minus(kept[-1])) <= EPS
            ):
                kept.pop()
            kept.append(p)
        return kept[:-1]

    ordered = sorted(set(points))
    return chain(ordered) + chain(ordered[::-1])


def crosses_itself(ring: Sequence[Point]) -> bool:
    """True when two sides of a polygon cross; touching is no crossing.

    The sides are looked at from left to right, so that only those over each
    other are held against each other.
    """
    count = len(ring)
    sides = []
    for i, p in enumerate(ring):
        q = ring[(i + 1) % count]
        sides.append((min(p.x, q.x), max(p.x, q.x), i, p, q))
    sides.sort()
    for at, (_, right, i, a, b) in enumerate(sides):
        for other in range(at + 1, count):
            left, _, j, c, d = sides[other]
            if left > right:
                break
            if abs(i - j) not in (1, count - 1) and _cross(a, b, c, d):
                return True
    return False


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    """True when a-b and c-d cross, each by more than EPS."""
    return _parts(a, b, c, d) and _parts(c, d, a, b)


def _parts(a: Point, b: Point, c: Point, d: Point) -> bool:
    """True when c and d lie on either side of the line a-b, off it."""
    (ax, ay), dx, dy = a, b.x - a.x, b.y - a.y
    one = dx * (c.y - ay) - dy * (c.x - ax)
    two = dx * (d.y - ay) - dy * (d.x - ax)
    off = EPS * hypot(dx, dy)
    return (one > off and two < -off) or (one < -off and two > off)


def _is_ear(ring: list[Point], i: int) -> bool:
    a, b, c = ring[i - 1], ring[i], ring[(i + 1) % len(ring)]
    into_x, into_y, out_x, out_y = b.x - a.x, b.y - a.y, c.x - b.x, c.y - b.y
    turn = into_x * out_y - into_y * out_x
    # Over a metre of side, rounding alone turns a straight corner by this much.
    straight = EPS * (abs(into_x) + abs(into_y) + abs(out_x) + abs(out_y))
    if turn < -straight:
        return False
    if turn <= straight:
        return True
    return not any(_strictly_inside(p, a, b, c) for p in ring if p not in (a, b, c))


def _strictly_inside(p: Point, a: Point, b: Point, c: Point) -> bool:
    px, py = p
    ax, ay = a
    bx, by = b
    cx, cy = c
    return (
        (bx - ax) * (py - ay) - (by - ay) * (px - ax) > EPS
        and (cx - bx) * (py - by) - (cy - by) * (px - bx) > EPS
        and (ax - cx) * (py - cy) - (ay - cy) * (px - cx) > EPS
    )


def are_parted(one: Sequence[Point], two: Sequence[Point]) -> bool:
    """True when a side of one of two counter-clockwise polygons parts them.

    Quick; False says nothing where a polygon is not convex.
    """
    return _has_parting_side(one, two) or _has_parting_side(two, one)


def _has_parting_side(one: Sequence[Point], two: Sequence[Point]) -> bool:
    ax, ay = one[-1]
    for bx, by in one:
        dx, dy = bx - ax, by - ay
        off = EPS * (abs(dx) + abs(dy))
        if all(dx * (y - ay) - dy * (x - ax) <= off for x, y in two) and all(
            dx * (y - ay) - dy * (x - ax) >= -off for x, y in one
        ):
            return True
        ax, ay = bx, by
    return False


def overlap_depth(one: Sequence[Triangle], two: Sequence[Triangle]) -> float:
    """How deep two cut-up polygons lie in each other, mm; 0 when they only touch.

    Separating axes over the triangles: the least shift that would part the
    worst pair.
    """
    deepest = 0.0
    boxed = [(bounds(t), t) for t in two]
    for first in one:
        ax0, ay0, ax1, ay1 = bounds(first)
        for (bx0, by0, bx1, by1), second in boxed:
            if ax1 <= bx0 or bx1 <= ax0 or ay1 <= by0 or by1 <= ay0:
                continue
            if not are_parted(first, second):
                deepest = max(deepest, _depth(first, second))
    return deepest


def _depth(one: Triangle, two: Triangle) -> float:
    least = inf
    for a, b in (*_sides(one), *_sides(two)):
        nx, ny = b[1] - a[1], a[0] - b[0]
        size = hypot(nx, ny)
        first = [(p[0] * nx + p[1] * ny) / size for p in one]
        second = [(p[0] * nx + p[1] * ny) / size for p in two]
        gap = min(max(first), max(second)) - max(min(first), min(second))
        if gap <= 0:
            return 0.0
        least = min(least, gap)
    return least


def _sides(t: Triangle) -> tuple[tuple[Point, Point], ...]:
    return (t[0], t[1]), (t[1], t[2]), (t[2], t[0])
