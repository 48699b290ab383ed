"""Where words go so that nothing meets: a record of what is taken on a page.

Rectangles may lie at any angle. Used for every label whose place isn't fixed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import hypot

from layout.drawing.paper import Box
from layout.geometry.point import Point

Quad = tuple[Point, ...]


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
    wide, high = along.scaled(width / 2), along.left().scaled(height / 2)
    cx, cy = centre
    return (
        Point(cx - wide.x - high.x, cy - wide.y - high.y),
        Point(cx + wide.x - high.x, cy + wide.y - high.y),
        Point(cx + wide.x + high.x, cy + wide.y + high.y),
        Point(cx - wide.x + high.x, cy - wide.y + high.y),
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


class Taken:
    """What is taken inside an area, and what lines should be kept free."""

    def __init__(self, area: Box, gap: float = 0.7) -> None:
        self.area, self.gap = area, gap
        self.quads: list[tuple[Box, Quad]] = []
        self.lines: list[tuple[Box, tuple[Point, Point]]] = []

    def take(self, shape: Quad) -> None:
        """Nothing else may come nearer to this shape than the gap."""
        self.quads.append((around(shape).shrunk(-self.gap), shape))

    def keep_free(self, points: Sequence[Point], closed: bool = False) -> None:
        """A line that words should rather not lie on."""
        ring = (*points, points[0]) if closed else points
        for a, b in zip(ring, ring[1:], strict=False):
            self.lines.append((around((a, b)), (a, b)))

    def is_free(self, shape: Quad) -> bool:
        """True inside the area and clear of all that is taken."""
        box, area = around(shape), self.area
        if (
            box.left < area.left
            or box.bottom < area.bottom
            or box.right > area.right
            or box.top > area.top
        ):
            return False
        return not any(
            box.meets(near) and meet(shape, other, self.gap)
            for near, other in self.quads
        )

    def crossings(self, shape: Quad) -> int:
        """How many of the lines to be kept free run through it."""
        box = around(shape)
        return sum(
            near.left <= box.right
            and box.left <= near.right
            and near.bottom <= box.top
            and box.bottom <= near.top
            and meet(shape, line)
            for near, line in self.lines
        )

    def best(self, shapes: Iterable[tuple[Quad, float]]) -> int | None:
        """Index of the free shape with the least cost; None where none is free.

        shapes: each with its own cost, the cheapest first; every line it lies
        on costs one more
        """
        least, best = float("inf"), None
        for i, (shape, cost) in enumerate(shapes):
            if cost >= least:
                break
            if self.is_free(shape):
                whole = cost + self.crossings(shape)
                if whole < least:
                    least, best = whole, i
        return best


def spread(
    wanted: Sequence[float], pitch: float, low: float, high: float
) -> list[float]:
    """Places at least `pitch` apart, as near as can be to the wanted ones.

    wanted: (n) rising; between low and high. Raises ValueError where the n
    places have no room.
    """
    count = len(wanted)
    if (count - 1) * pitch > high - low + 1e-9:
        raise ValueError(f"{count} figures have no room")
    # Neighbours that push each other form pools, each round its own mean.
    pools: list[tuple[float, int]] = []
    for i, place in enumerate(wanted):
        total, number = place - i * pitch, 1
        while pools and pools[-1][0] / pools[-1][1] > total / number:
            before = pools.pop()
            total, number = total + before[0], number + before[1]
        pools.append((total, number))
    places: list[float] = []
    last = high - (count - 1) * pitch
    for total, number in pools:
        start = min(max(total / number, low), last)
        for _ in range(number):
            places.append(start + len(places) * pitch)
    return places
