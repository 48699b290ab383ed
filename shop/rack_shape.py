"""The real outline of an offcut: corners as they are scribed round it, in mm."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from itertools import pairwise
from math import hypot

Corners = tuple[tuple[float, float], ...]
"""(n) corners in order round the outline, mm, the first not repeated."""

MOST_CORNERS = 60
SHORTEST = 1.0  # mm: two corners nearer than that are one
PLACES = Decimal("0.001")


def fault(outline: Sequence[Sequence[float]]) -> str:
    """What is wrong with an outline, in words, or nothing."""
    if not 3 <= len(outline) <= MOST_CORNERS:
        return f"it has {len(outline)} corners. Give 3 to {MOST_CORNERS}."
    ring = [*outline, outline[0]]
    for number, (a, b) in enumerate(pairwise(ring), start=1):
        if hypot(b[0] - a[0], b[1] - a[1]) < SHORTEST:
            return f"corner {number} and the next are the same. Leave one out."
    sides = list(pairwise(ring))
    for i, one in enumerate(sides):
        for j in range(i + 1, len(sides)):
            beside = j == i + 1 or (i == 0 and j == len(sides) - 1)
            if not beside and _cross(one, sides[j]):
                return (
                    f"side {i + 1} crosses side {j + 1}. Give the corners in order"
                    " round the outline."
                )
    return "" if abs(area(outline)) > 1 else "it encloses nothing."


def area(outline: Sequence[Sequence[float]]) -> float:
    """Square mm, positive counter-clockwise (shoelace formula)."""
    ring = [*outline, outline[0]]
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise(ring)) / 2


def laid_square(
    outline: Sequence[Sequence[float]],
) -> tuple[Corners, Decimal, Decimal]:
    """Counter-clockwise from the lower left of its rectangle; width and length."""
    low_x, low_y = min(p[0] for p in outline), min(p[1] for p in outline)
    moved = [(round(p[0] - low_x, 3), round(p[1] - low_y, 3)) for p in outline]
    if area(moved) < 0:
        moved.reverse()
    width, length = max(p[0] for p in moved), max(p[1] for p in moved)
    return tuple(moved), _places(width), _places(length)


def _places(size: float) -> Decimal:
    return Decimal(repr(size)).quantize(PLACES)


def _cross(one: Sequence[Sequence[float]], two: Sequence[Sequence[float]]) -> bool:
    (a, b), (c, d) = one, two
    return _side(a, b, c) * _side(a, b, d) <= 0 and _side(c, d, a) * _side(c, d, b) <= 0


def _side(a: Sequence[float], b: Sequence[float], p: Sequence[float]) -> float:
    turn = (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])
    return 0.0 if abs(turn) < 1e-9 else turn


def largest_rectangle(
    outline: Sequence[Sequence[float]],
) -> tuple[float, float, float, float]:
    """x, y, width, length of an upright rectangle that lies inside the outline.

    The largest of those whose sides lie on a net of lines: through every corner, and
    NET more each way. It is never larger than what is there.
    """
    xs = _net(sorted({p[0] for p in outline}))
    ys = _net(sorted({p[1] for p in outline}))
    inside = [
        [
            _holds(outline, xs[i], ys[j], xs[i + 1], ys[j + 1])
            for i in range(len(xs) - 1)
        ]
        for j in range(len(ys) - 1)
    ]
    best = (0.0, 0.0, 0.0, 0.0)
    for low in range(len(ys) - 1):
        open_ = [True] * (len(xs) - 1)
        for high in range(low, len(ys) - 1):
            open_ = [a and b for a, b in zip(open_, inside[high], strict=True)]
            length = ys[high + 1] - ys[low]
            for start, end in _runs(open_):
                width = xs[end] - xs[start]
                if width * length > best[2] * best[3]:
                    best = (xs[start], ys[low], width, length)
    return best


NET = 32


def _net(places: list[float]) -> list[float]:
    low, high = places[0], places[-1]
    more = {low + (high - low) * n / NET for n in range(NET + 1)}
    return sorted(more | set(places))


def _runs(cells: list[bool]) -> list[tuple[int, int]]:
    """Start and end of every run of cells that are free."""
    found, start = [], None
    for place, free in enumerate([*cells, False]):
        if free and start is None:
            start = place
        elif not free and start is not None:
            found.append((start, place))
            start = None
    return found


def _holds(
    outline: Sequence[Sequence[float]], x0: float, y0: float, x1: float, y1: float
) -> bool:
    """The small rectangle lies inside: its middle does, and no side runs through."""
    x, y = (x0 + x1) / 2, (y0 + y1) / 2
    within = False
    for a, b in pairwise([*outline, outline[0]]):
        if (a[1] > y) != (b[1] > y):
            within ^= x < a[0] + (y - a[1]) / (b[1] - a[1]) * (b[0] - a[0])
        if _enters(a, b, x0, y0, x1, y1):
            return False
    return within


def _enters(
    a: Sequence[float], b: Sequence[float], x0: float, y0: float, x1: float, y1: float
) -> bool:
    """Whether a line runs through the inside of a rectangle (clipped to it)."""
    first, last = 0.0, 1.0
    for place, way, low, high in (
        (a[0], b[0] - a[0], x0, x1),
        (a[1], b[1] - a[1], y0, y1),
    ):
        if way == 0:
            if not low < place < high:
                return False
            continue
        one, two = sorted(((low - place) / way, (high - place) / way))
        first, last = max(first, one), min(last, two)
    return last - first > 1e-9
