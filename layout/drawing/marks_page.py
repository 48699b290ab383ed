"""The marks table of a piece: every fold and corner as distances from the datum
corner, beside the outline with its corners numbered."""

from __future__ import annotations

from collections.abc import Sequence

from layout.drawing import lettering, tape
from layout.drawing.frame import Book, title_head
from layout.drawing.paper import Box
from layout.drawing.pen import FOLD, NARROW, WIDE, Pen
from layout.drawing.placing import Fan, Taken, beside, quad
from layout.drawing.view import View, fitted
from layout.folding.result import Fold, LaidSet, Mark, Piece
from layout.geometry.point import Point

ROW = 7.6
TEXT = 3.5
DRAWING = 80.0
FOLD_COLUMNS = (0.0, 12.0, 44.0, 80.0, 128.0)
CORNER_COLUMNS = (0.0, 17.0, 43.0)
CORNER_WIDTH = 76.0
CLOSE = Fan(first=1.0, step=2.0, rounds=10, dear=0.5)


def draw_marks(book: Book, laid: LaidSet, piece: Piece) -> None:
    """One sheet, and more where the rows need them."""
    unit = laid.units
    shows = f"{piece.mark} marks"
    pen = book.sheet(shows)
    note = f"from the datum corner, {tape.UNIT_WORDS[unit]}"
    room = title_head(pen, book.paper, f"{piece.mark} marks", note)
    drawing = Box(room.left, room.bottom, room.left + DRAWING, room.top)
    _draw_outline(pen, piece, drawing)
    table = Box(drawing.right + 5, room.bottom, room.right, room.top)
    folds, corners = _fold_rows(piece, unit), _corner_rows(piece, unit)
    y = table.top
    head: Sequence[str] | None = ("Fold", "Turn", "What", "From", "To")
    for row in folds:
        if y - ROW * (2 if head else 1) < table.bottom:
            pen = book.sheet(shows)
            room = title_head(pen, book.paper, f"{piece.mark} marks", note)
            table, y = room, room.top
            head = ("Fold", "Turn", "What", "From", "To")
        if head:
            y = _row(pen, table.left, y, FOLD_COLUMNS, head, rule_to=table.right)
            head = None
        y = _row(pen, table.left, y, FOLD_COLUMNS, row)
    _draw_corners(book, shows, note, pen, corners, table, y - 3)


def _draw_corners(
    book: Book,
    shows: str,
    note: str,
    pen: Pen,
    rows: list[tuple[str, ...]],
    table: Box,
    top: float,
) -> None:
    """Corner rows in columns side by side under the folds, then on new sheets."""
    x, y = table.left, top
    waiting = list(rows)
    while waiting:
        if y - 2 * ROW < table.bottom or x + CORNER_WIDTH > table.right + 8:
            if y == top and x == table.left or x + 2 * CORNER_WIDTH > table.right + 8:
                pen = book.sheet(shows)
                table = title_head(pen, book.paper, shows, note)
                x, top = table.left, table.top
            else:
                x += CORNER_WIDTH
            y = top
            continue
        if y == top:
            head = ("Corner", "Across", "Up")
            y = _row(pen, x, y, CORNER_COLUMNS, head, rule_to=x + CORNER_WIDTH - 8)
        y = _row(pen, x, y, CORNER_COLUMNS, waiting.pop(0))


def _row(
    pen: Pen,
    left: float,
    top: float,
    columns: Sequence[float],
    cells: Sequence[str],
    rule_to: float | None = None,
) -> float:
    """One row of words; gives the top of the next."""
    base = top - ROW + 1.4
    for column, words in zip(columns, cells, strict=True):
        measure = any(c.isdigit() for c in words) and rule_to is None and column
        height = lettering.FIGURE if measure and "°" not in words else TEXT
        pen.text(Point(left + column, base), words, height)
    if rule_to is not None:
        pen.path([Point(left, top - ROW), Point(rule_to, top - ROW)], NARROW)
    return top - ROW


def _fold_rows(piece: Piece, unit: tape.Unit) -> list[tuple[str, ...]]:
    rows = []
    for fold in piece.folds:
        ends = [mark for mark in piece.marks if mark.of == f"fold {fold.order}"]
        rows.append(
            (
                str(fold.order),
                f"{fold.direction.upper()} {tape.angle(fold.angle)}",
                _what(fold),
                *(_place(mark, unit) for mark in _two(ends)),
            )
        )
    return rows


def _two(ends: list[Mark]) -> list[Mark]:
    return [ends[0], ends[-1]]


def _what(fold: Fold) -> str:
    return fold.what + (", hand" if fold.where == "hand" else "")


def _place(mark: Mark, unit: tape.Unit) -> str:
    return f"{mark.edge} {tape.figure(mark.distance, unit)}"


def _corner_rows(piece: Piece, unit: tape.Unit) -> list[tuple[str, ...]]:
    corners: dict[str, tuple[float, float]] = {}
    for mark in piece.marks:
        if mark.of.startswith("corner "):
            corners[mark.of.removeprefix("corner ")] = (mark.at.x, mark.at.y)
    return [
        (name, tape.figure(x, unit), tape.figure(y, unit))
        for name, (x, y) in corners.items()
    ]


# --- the outline with its corners ----------------------------------------------


def _draw_outline(pen: Pen, piece: Piece, box: Box) -> None:
    view = fitted(piece.pattern.outline, box.shrunk(11.0))
    taken = Taken(box)
    width, length = piece.pattern.size()
    pen.path(view.all_on(quad(Box(0, 0, width, length))), NARROW, closed=True)
    pen.circle(view.on(Point(0, 0)), 1.5, NARROW)
    for fold in piece.folds:
        line = view.all_on(fold.line)
        pen.path(line, FOLD)
        taken.keep_free(line)
    for ring in piece.pattern.outlines:
        on = view.all_on(ring)
        pen.path(on, WIDE, closed=True)
        taken.keep_free(on, closed=True)
    for mark in piece.marks:
        if mark.of.startswith("corner ") and mark.edge == "datum":
            _number(pen, view, mark, taken)
    _name_edges(pen, view, width, length, taken)


def _name_edges(
    pen: Pen, view: View, width: float, length: float, taken: Taken
) -> None:
    """What the table calls the blank's four edges, written at their middles."""
    height = lettering.SMALLEST
    for words, at in (
        ("datum edge", Point(width / 2, 0)),
        ("far edge", Point(width / 2, length)),
        ("left", Point(0, length / 2)),
        ("right", Point(width, length / 2)),
    ):
        size = lettering.width(words, height) + 0.4
        tall = lettering.tallness(words, height)
        spot = taken.best(beside(view.on(at), size, tall, CLOSE))
        if spot is not None:
            base = spot.centre.plus(Point(0, -lettering.sink(words, height)))
            pen.text(base, words, height, "middle")


def _number(pen: Pen, view: View, mark: Mark, taken: Taken) -> None:
    place = view.on(mark.at)
    words = mark.of.removeprefix("corner ")
    height = lettering.SMALLEST
    size = lettering.width(words, height) + 0.4
    spot = taken.best(beside(place, size, height + 0.4, CLOSE))
    if spot is None:
        return
    if spot.cost:
        near = spot.centre.plus(place.minus(spot.centre).unit(), 2.2)
        pen.path([place, near], NARROW)
        taken.keep_free((place, near))
    pen.text(spot.centre.plus(Point(0, -height / 2)), words, height, "middle")
