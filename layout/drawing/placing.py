"""Where words go so that nothing meets: a record of what is taken on a page.

Rectangles may lie at any angle. Used for every label whose place isn't fixed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from itertools import accumulate
from math import cos, hypot, inf, pi, sin
from typing import NamedTuple

from layout.drawing.paper import Box
from layout.geometry.point import Point

Quad = tuple[Point, ...]


class Spot(NamedTuple):
    """A rectangle words may be put in. cost: how much it is disliked."""

    centre: Point
    along: Point
    width: float
    height: float
    cost: float

    def is_upright(self) -> bool:
        return self.along.y == 0

    def shape(self) -> Quad:
        return turned_box(self.centre, self.along, self.width, self.height)

    def around(self) -> Box:
        """The upright box around it."""
        c, s = abs(self.along.x), abs(self.along.y)
        wide = (self.width * c + self.height * s) / 2
        high = (self.width * s + self.height * c) / 2
        x, y = self.centre
        return Box(x - wide, y - high, x + wide, y + high)


LEVEL = Point(1.0, 0.0)


def quad(box: Box) -> Quad:
    """An upright box as its corners."""
    return (
        Point(box.left, box.bottom),
        Point(box.right, box.bottom),
        Point(box.right, box.top),
        Point(box.left, box.top),
    )


def turned_box(centre: Point, along: Point, width: float, height: float) -> Quad:
    """A rectangle by its centre, unit direction and size, counter-clockwise."""
    wx, wy = along.x * width / 2, along.y * width / 2
    hx, hy = -along.y * height / 2, along.x * height / 2
    x, y = centre
    return (
        Point(x - wx - hx, y - wy - hy),
        Point(x + wx - hx, y + wy - hy),
        Point(x + wx + hx, y + wy + hy),
        Point(x - wx + hx, y - wy + hy),
    )


def around(shape: Sequence[Point]) -> Box:
    """The upright box around a shape."""
    xs = [p[0] for p in shape]
    ys = [p[1] for p in shape]
    return Box(min(xs), min(ys), max(xs), max(ys))


def meet(one: Sequence[Point], two: Sequence[Point], gap: float = 0.0) -> bool:
    """True when two convex shapes come nearer than `gap` mm (separating axes)."""
    for a, b in (*_sides(one), *_sides(two)):
        nx, ny = b[1] - a[1], a[0] - b[0]
        size = hypot(nx, ny)
        if size == 0:
            continue
        first = [p[0] * nx + p[1] * ny for p in one]
        second = [p[0] * nx + p[1] * ny for p in two]
        space = gap * size
        if min(first) >= max(second) + space or min(second) >= max(first) + space:
            return False
    return True


def _sides(shape: Sequence[Point]) -> Iterator[tuple[Point, Point]]:
    return zip(shape, (*shape[1:], shape[0]), strict=True)


def _crosses(line: tuple[Point, Point], box: Box) -> bool:
    """True when a line whose own box meets an upright box crosses it: not all of
    the box's corners lie on one side of the line."""
    (ax, ay), (bx, by) = line
    dx, dy = bx - ax, by - ay
    left, bottom, right, top = box
    low = dx * (bottom - ay)
    high = dx * (top - ay)
    near = dy * (left - ax)
    far = dy * (right - ax)
    sides = (low - near, low - far, high - near, high - far)
    return min(sides) <= 0 <= max(sides)


class Taken:
    """What is taken inside an area, and what lines should be kept free."""

    def __init__(self, area: Box, gap: float = 0.7) -> None:
        self.area, self.gap = area, gap
        self.shapes: list[tuple[Box, Quad, bool]] = []
        self.lines: list[tuple[Box, tuple[Point, Point]]] = []

    def take(self, shape: Quad) -> None:
        """Nothing else may come nearer to this shape than the gap."""
        upright = abs(shape[0].y - shape[1].y) < 1e-9 or (
            abs(shape[0].x - shape[1].x) < 1e-9
        )
        self.shapes.append((around(shape).shrunk(-self.gap), shape, upright))

    def keep_free(self, points: Sequence[Point], closed: bool = False) -> None:
        """A line that words should rather not lie on."""
        ring = (*points, points[0]) if closed else points
        for a, b in zip(ring, ring[1:], strict=False):
            self.lines.append((around((a, b)), (a, b)))

    def is_free(self, spot: Spot) -> bool:
        """True inside the area and clear of all that is taken."""
        left, bottom, right, top = box = spot.around()
        area = self.area
        if (
            left < area.left
            or bottom < area.bottom
            or right > area.right
            or top > area.top
        ):
            return False
        level = spot.is_upright()
        for near, other, upright in self.shapes:
            if (
                left < near[2]
                and near[0] < right
                and bottom < near[3]
                and near[1] < top
                and ((level and upright) or meet(quad_of(spot, box), other, self.gap))
            ):
                return False
        return True

    def crossings(self, spot: Spot, most: float) -> float:
        """How many of the lines to be kept free run through it; stops at `most`."""
        left, bottom, right, top = box = spot.around()
        count = 0.0
        level = spot.is_upright()
        shape: Quad | None = None
        for near, line in self.lines:
            if (
                near[0] <= right
                and left <= near[2]
                and near[1] <= top
                and bottom <= near[3]
            ):
                if level:
                    crosses = _crosses(line, box)
                else:
                    shape = shape or spot.shape()
                    crosses = meet(shape, line)
                if crosses:
                    count += 1
                    if count >= most:
                        break
        return count

    def best(self, spots: Iterable[Spot]) -> Spot | None:
        """Takes the free spot with the least cost; None where none is free.

        spots: the cheapest first; every line one lies on costs one more
        """
        least, best = inf, None
        for spot in spots:
            if spot.cost >= least:
                break
            if self.is_free(spot):
                whole = spot.cost + self.crossings(spot, least - spot.cost)
                if whole < least:
                    least, best = whole, spot
        if best is not None:
            self.take(best.shape())
        return best


def quad_of(spot: Spot, box: Box) -> Quad:
    return quad(box) if spot.is_upright() else spot.shape()


class Fan(NamedTuple):
    """How far round a place spots are looked for, mm: nearest first.

    first, step: distance from the place; rounds: how many steps
    dear: cost of a step; start: of the first one
    """

    first: float
    step: float
    rounds: int
    dear: float
    start: float = 0.0


@cache
def _fan(fan: Fan) -> tuple[tuple[float, float, float, float], ...]:
    """(x, y, reach, cost) of every direction and distance."""
    found = []
    for i in range(fan.rounds):
        reach = fan.first + fan.step * i
        for angle in range(16):
            x, y = cos(angle * pi / 8), sin(angle * pi / 8)
            found.append((x, y, reach, fan.start + fan.dear * i))
    return tuple(found)


def beside(place: Point, width: float, height: float, fan: Fan) -> Iterator[Spot]:
    """Level spots round a place, the nearest first."""
    for x, y, reach, cost in _fan(fan):
        centre = Point(
            place.x + x * (reach + width / 2), place.y + y * (reach + height / 2)
        )
        yield Spot(centre, LEVEL, width, height, cost)


def spread(
    wanted: Sequence[float], sizes: Sequence[float], low: float, high: float
) -> list[float]:
    """Middles of things side by side, as near as can be to the wanted ones.

    wanted: (n) rising; sizes: (n) room each takes; all of it between low and high.
    Raises ValueError where they have no room.
    """
    if sum(sizes) > high - low + 1e-6:
        raise ValueError(f"{len(sizes)} figures have no room")
    # Where each lies when all are pushed together from low on.
    packed = [
        end - size / 2 for end, size in zip(accumulate(sizes), sizes, strict=True)
    ]
    # Neighbours that push each other form pools, each round its own mean.
    pools: list[tuple[float, int]] = []
    for place, at in zip(wanted, packed, strict=True):
        total, number = place - at, 1
        while pools and pools[-1][0] / pools[-1][1] > total / number:
            before = pools.pop()
            total, number = total + before[0], number + before[1]
        pools.append((total, number))
    places: list[float] = []
    last = max(low, high - sum(sizes))
    for total, number in pools:
        start = min(max(total / number, low), last)
        for _ in range(number):
            places.append(start + packed[len(places)])
    return places
