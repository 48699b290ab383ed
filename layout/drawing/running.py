"""Running dimensions: distances from the datum corner along the blank's edges.

After ISO 129-1: one origin, marked with a small circle, figures at the ends of
the extension lines. Takes a piece's marks, gives Dimension values by edge.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from layout.drawing import lettering, tape
from layout.drawing.details import Detail, in_detail
from layout.drawing.rings import RADIUS
from layout.folding.result import Fold, Piece

EdgeName = Literal["datum", "far", "left", "right"]
EDGES: tuple[EdgeName, ...] = ("datum", "far", "left", "right")

GAP = 0.6
"""Between two figures, mm."""

SQUARE = 0.05
"""A fold whose two marks differ by less, mm, needs a mark on one edge only."""


@dataclass(frozen=True, slots=True)
class Dimension:
    """One figure at an edge. folds: orders of the folds marked there."""

    distance: float
    words: str
    folds: tuple[int, ...]


def dimensions(
    piece: Piece, found: Sequence[Detail], unit: tape.Unit
) -> dict[EdgeName, list[Dimension]]:
    """Figures by edge, rising. What a detail shows at full size is left to it."""
    folds = {f"fold {fold.order}": fold for fold in piece.folds}
    hidden = {name for name, fold in folds.items() if in_detail(found, fold)}
    places: dict[EdgeName, dict[int, tuple[float, set[int]]]]
    places = {edge: {} for edge in EDGES}
    # The whole blank is always told: it is the first cut.
    width, length = piece.pattern.size()
    places["datum"][tape.steps(width, unit)] = (width, set())
    places["left"][tape.steps(length, unit)] = (length, set())
    for mark in piece.marks:
        fold = folds.get(mark.of)
        if mark.of in hidden or (fold and _told_already(fold, mark.edge)):
            continue
        if fold is None and any(d.sweep and d.holds(mark.at) for d in found):
            continue
        at_edge = places[mark.edge]
        step = tape.steps(mark.distance, unit)
        entry = at_edge.setdefault(step, (mark.distance, set()))
        if fold is not None:
            entry[1].add(fold.order)
    return {
        edge: [
            Dimension(distance, tape.figure(distance, unit), tuple(sorted(orders)))
            for step, (distance, orders) in sorted(at_edge.items())
            if step or orders
        ]
        for edge, at_edge in places.items()
    }


def _told_already(fold: Fold, edge: EdgeName) -> bool:
    """A square fold is marked at the near edge only."""
    a, b = fold.line
    if edge == "far":
        return abs(a.x - b.x) < SQUARE
    return edge == "right" and abs(a.y - b.y) < SQUARE


def room_of(dimension: Dimension, height: float) -> float:
    """Length along the edge that a figure of that height takes, mm."""
    tall = lettering.tallness(dimension.words, height)
    return max(tall, 2 * RADIUS if dimension.folds else 0.0) + GAP


def length_of(row: Sequence[Dimension], height: float) -> float:
    """Length along the edge that a whole row takes, mm."""
    return sum(room_of(dimension, height) for dimension in row)


def thinned(row: list[Dimension], height: float, room: float) -> list[Dimension]:
    """As many figures as there is room for: the ends and the folds before the
    others. The page of marks tells all of them."""
    ends = (0, len(row) - 1)
    wanted = sorted(range(len(row)), key=lambda i: (i not in ends, not row[i].folds, i))
    kept: list[int] = []
    for i in wanted:
        room -= room_of(row[i], height)
        if room < -1e-6:
            break
        kept.append(i)
    return [row[i] for i in sorted(kept)]


def depth(row: Sequence[Dimension], height: float) -> float:
    """How far the longest figure of a row reaches from its leader, mm."""
    return max(
        (lettering.width(d.words, height) + RING * len(d.folds) for d in row),
        default=0.0,
    )


RING = 6.6
"""Room a fold's number in its circle takes along the figure, mm."""
