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
