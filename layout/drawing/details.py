"""Details: the places of a piece that are drawn at full size on their own page.

Takes a piece, gives a box of the bench frame for each sweep: its curves and
the pockets that lie beside them. The straight runs are scribed with a tape.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from layout.drawing.paper import Box
from layout.folding.pattern import Sweep
from layout.folding.result import Fold, Piece
from layout.geometry.outline import bounds
from layout.geometry.point import Point, angle_between

AROUND = 12.0
"""Shown around the curves of a detail, mm: enough straight run to lay it on."""

CHORD_TURN = 8.0
"""Two chords of a curve turn by less than this, degrees (bench.sharp_corners)."""


LEAST_CHORDS = 8


@dataclass(frozen=True, slots=True)
class Detail:
    """number: 1, 2, ... on the piece; box: of the bench frame, mm
    sweep: None where the piece itself is curved, such as a pipe's collar
    """

    number: int
    sweep: Sweep | None
    box: Box

    def holds(self, p: Point) -> bool:
        box = self.box
        return box.left <= p.x <= box.right and box.bottom <= p.y <= box.top


def details(piece: Piece) -> list[Detail]:
    """One for each sweep of the piece, from the datum edge up; the whole piece
    where it is curved all along."""
    if not piece.pattern.sweeps and _is_round(piece):
        width, length = piece.pattern.size()
        return [Detail(1, None, Box(0, 0, width, length).shrunk(-AROUND))]
    pockets = [fold for fold in piece.folds if fold.what == "pocket"]
    boxes = [(_box_of(sweep, pockets), sweep) for sweep in piece.pattern.sweeps]
    boxes.sort(key=lambda pair: (round(pair[0].bottom, 3), round(pair[0].left, 3)))
    return [
        Detail(number, sweep, box) for number, (box, sweep) in enumerate(boxes, start=1)
    ]


def _is_round(piece: Piece) -> bool:
    """A chain of chords, not just an obtuse corner or two."""
    return any(len(_curve(ring)) >= LEAST_CHORDS for ring in piece.pattern.outlines)


def in_detail(found: Sequence[Detail], fold: Fold) -> Detail | None:
    """The detail that shows the whole of a fold, if there is one."""
    for detail in found:
        if all(detail.holds(p) for p in fold.line):
            return detail
    return None


def _box_of(sweep: Sweep, pockets: Sequence[Fold]) -> Box:
    curved = [p for line in (*sweep.turn_lines, *sweep.cut_lines) for p in _curve(line)]
    if not curved:
        lines = (*sweep.turn_lines, *sweep.cut_lines, *sweep.fold_lines)
        curved = [p for line in lines for p in line]
    box = Box(*bounds(curved))
    near = box.shrunk(-AROUND)
    for fold in pockets:
        if near.meets(Box(*bounds(fold.line)).shrunk(-1)):
            x0, y0, x1, y1 = bounds(fold.line)
            box = Box(
                min(box.left, x0),
                min(box.bottom, y0),
                max(box.right, x1),
                max(box.top, y1),
            )
    return box.shrunk(-AROUND)


def _curve(line: Sequence[Point]) -> list[Point]:
    """The places of a path where it bends little by little."""
    return [
        p
        for before, p, after in zip(line, line[1:], line[2:], strict=False)
        if 0.01 < abs(angle_between(p.minus(before), after.minus(p))) < CHORD_TURN
    ]
