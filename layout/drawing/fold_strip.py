"""The fold order as a strip of small sections: one for each fold on the brake.

Takes a piece, draws jaw, bed and leaf in grey with the metal as it lies, then
says what is left to hand tools, to the templates and to the roof.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial

from layout.drawing import lettering, tape
from layout.drawing.brake_view import around, draw_step, tools_of
from layout.drawing.flat import fold_words
from layout.drawing.frame import Book, rule, title_head
from layout.drawing.in_brake import lain
from layout.drawing.paper import Box
from layout.drawing.pen import Pen
from layout.drawing.seam_view import draw_seam, seams_of
from layout.drawing.swept import sweeps_said
from layout.folding.brake import CRUSH_FROM
from layout.folding.result import Fold, LaidSet, Piece
from layout.geometry.point import Point

CELL, GAP = 55.0, 3.5
"""Least width of a step, and what is left between two, mm."""
HEIGHTS = (76.0, 66.0, 59.0, 54.0, 48.0)
"""Of a step, mm: the largest with which the strip goes on one sheet."""
USUAL_HEIGHT = 59.0
TITLE = 8.0

Cell = Callable[[Pen, Box], None]


def draw_fold_order(
    book: Book, laid: LaidSet, piece: Piece, under: Box | None = None
) -> None:
    """The strip of one piece: on what is left of its marks sheet, or its own.

    under: room left on the sheet the book is at
    """
    cells, lines = cells_of(laid, piece), lines_of(laid, piece)
    if not cells and not lines:
        return
    shows = f"{piece.mark} fold order"
    if under:
        room = Box(under.left, under.bottom, under.right, under.top - TITLE)
        if _high(len(cells), lines, room):
            pen = book.pen
            pen.text(Point(under.left, under.top - 6), shows, 5.0)
            rule(pen, under.top - TITLE + 0.3, under)
            draw_strip(pen, cells, lines, room)
            return
    while cells or lines:
        sheet = book.sheet(shows)
        room = title_head(sheet, book.paper, shows, "as it lies at each fold")
        cells, lines = draw_strip(sheet, cells, lines, room)


def needed(count: int, lines: Sequence[str], width: float, high: float) -> float:
    """Height of a strip of that many cells with its lines, mm. high: of a cell"""
    rows = -(-count // _columns(width))
    words = lettering.SMALLEST
    said = sum(lettering.step(line, words) for line in _wrapped(lines, width))
    return rows * (high + GAP) + said


def _high(count: int, lines: Sequence[str], room: Box) -> float:
    """The largest height of cells with which all goes into the room, or 0."""
    fit = (h for h in HEIGHTS if needed(count, lines, room.width, h) <= room.height)
    return next(fit, 0.0)


def draw_strip(
    pen: Pen,
    cells: Sequence[Cell],
    lines: Sequence[str],
    room: Box,
    high: float = 0.0,
) -> tuple[list[Cell], list[str]]:
    """Cells in rows, then the lines under them. Gives what found no room.

    high: of a cell, mm; 0 = as large as the room allows
    """
    columns = _columns(room.width)
    wide = (room.width - GAP * (columns - 1)) / columns
    high = high or _high(len(cells), lines, room) or USUAL_HEIGHT
    waiting, y = list(cells), room.top
    while waiting and y - high >= room.bottom - 1e-6:
        for i, cell in enumerate(waiting[:columns]):
            left = room.left + i * (wide + GAP)
            cell(pen, Box(left, y - high, left + wide, y))
        waiting, y = waiting[columns:], y - high - GAP
    if waiting:
        return waiting, list(lines)
    said = _wrapped(lines, room.width)
    while said:
        y -= lettering.step(said[0], lettering.SMALLEST)
        if y < room.bottom - 1e-6:
            break
        pen.text(Point(room.left, y + 0.8), said.pop(0))
    return [], said


def _columns(width: float) -> int:
    return max(1, int((width + GAP) // (CELL + GAP)))


def _wrapped(lines: Sequence[str], width: float) -> list[str]:
    return [
        part
        for line in lines
        for part in lettering.wrapped(line, lettering.SMALLEST, width)
    ]


# --- what is in it -------------------------------------------------------------


def cells_of(laid: LaidSet, piece: Piece) -> list[Cell]:
    """A picture for every brake fold in order, then of the closed seam."""
    steps = lain(piece)
    shown = around(steps)
    cells: list[Cell] = [
        partial(draw_step, step, shown, tools=tools_of(laid.brake)) for step in steps
    ]
    return cells + [
        partial(draw_seam, closed, laid.units) for closed in seams_of(laid, piece)
    ]


def lines_of(laid: LaidSet, piece: Piece) -> list[str]:
    """What the strip cannot show, one line each."""
    lines = [*_by_hand(piece.folds), *sweeps_said(piece.pattern.sweeps, laid.units)]
    lines += _on_the_roof(piece)
    if any(fold.step for fold in piece.folds):
        lines.append(
            f"Grey: {_brake_words(laid)}, to the metal's scale. Dashed: before the leaf"
            " swings. Metal drawn too thick; a double stroke shortens a run. Crush:"
            f" swing {tape.angle(CRUSH_FROM)}, then close."
        )
    return lines


def _brake_words(laid: LaidSet) -> str:
    """Whose section is shown in grey."""
    if laid.brake and (laid.brake.jaw or laid.brake.bed or laid.brake.leaf):
        return laid.brake.name
    return "a usual brake"


def _by_hand(folds: Sequence[Fold]) -> Iterator[str]:
    """Folds left out of the strip, those alike in one line, with why and what
    would free them."""
    alike: dict[tuple[str, str, str], list[Fold]] = {}
    for fold in folds:
        if fold.where == "hand" or fold.step is None:
            why = fold.why or ("" if fold.where == "hand" else "no section was kept")
            alike.setdefault((fold.what, why, fold.frees), []).append(fold)
    for (what, why, frees), group in alike.items():
        each = ", ".join(f"{fold.order} {fold_words(fold)}" for fold in group)
        place = "By hand" if group[0].where == "hand" else "On the brake"
        words = f"{place}, {what}: {each}"
        words += f". Why: {why}" if why else ""
        yield words + (f". What would free it: {frees}." if frees else ".")


def _on_the_roof(piece: Piece) -> Iterator[str]:
    """Turns closed after the pieces meet."""
    count: dict[str, int] = {}
    for line in piece.pattern.roof_lines:
        words = f"{'swept ' if line.curved else ''}{line.what} {tape.angle(line.angle)}"
        count[words] = count.get(words, 0) + 1
    if count:
        each = ", ".join(f"{words} ({n})" for words, n in count.items())
        yield f"On the roof, by hand, when the pieces meet: {each}."
