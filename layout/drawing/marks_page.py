"""The marks table of a piece: every fold and corner as distances from the datum
corner, beside the outline with its corners numbered."""

from __future__ import annotations

from collections.abc import Sequence

from layout.drawing import lettering, tape
from layout.drawing.frame import UNDER_HEAD, Book, title_head
from layout.drawing.paper import Box
from layout.drawing.pen import FOLD, NARROW, WIDE, Pen
from layout.drawing.placing import Fan, Taken, beside, quad
from layout.drawing.view import View, fitted
from layout.folding.result import Fold, LaidSet, Mark, Piece
from layout.geometry.point import Point

ROW = 8.4
BASE = 2.0
"""From the foot of a row up to its words, mm."""
TEXT = 3.5
DRAWING = 78.0
FOLD_COLUMNS = (0.0, 11.5, 44.0, 77.0, 127.0)
CORNER_COLUMNS = (0.0, 18.0, 47.0)
CORNER_WIDTH = 82.0
CLOSE = Fan(first=1.0, step=2.0, rounds=10, dear=0.5)


ALLOWED = {
    "din6935": "DIN 6935",
    "handbook": "the handbook's 90° rule, scaled by angle",
}
"""How the sheet names the rule for the metal's thickness at a fold."""


def draw_marks(book: Book, laid: LaidSet, piece: Piece) -> Box:
    """One sheet, and more where the rows need them. Gives the room left on the
    last one."""
    unit = laid.units
    shows = f"{piece.mark} marks"
    pen = book.sheet(shows)
    note = f"from the datum corner, {tape.UNIT_WORDS[unit]}"
    room = title_head(pen, book.paper, f"{piece.mark} marks", note)
    drawing = Box(room.left, room.bottom, room.left + DRAWING, room.top)
    top = _draw_says(pen, laid, drawing)
    _draw_outline(pen, piece, Box(*drawing[:3], top))
    table = Box(drawing.right + 4, room.bottom, room.right, room.top)
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
    return _draw_corners(book, shows, note, pen, corners, table, y - 3)


def marks_words(laid: LaidSet) -> list[str]:
    """Which face the marks are scribed on, and how the flats are made."""
    words = ["Scribe on the weather side; it lies up."]
    if laid.allowance != "none":
        rule = ALLOWED.get(laid.allowance, laid.allowance)
        words.append(
            f"Flats made by {rule}, {_radius_words(laid)}; every mark has moved."
        )
    return words


def _radius_words(laid: LaidSet) -> str:
    """The inside radius the flats are made on."""
    if laid.radius:
        return f"inside radius {laid.radius:.2f} mm"
    return "on the brake's inside radius, or the metal's smallest where that is larger"


def _draw_says(pen: Pen, laid: LaidSet, box: Box) -> float:
    """The words over the outline. Gives the top of what is left."""
    y = box.top
    for words in marks_words(laid):
        for line in lettering.wrapped(words, lettering.SMALLEST, box.width - 2):
            y -= lettering.step(line, lettering.SMALLEST)
            pen.text(Point(box.left, y), line)
    return y - 2


def _draw_corners(
    book: Book,
    shows: str,
    note: str,
    pen: Pen,
    rows: list[tuple[str, ...]],
    table: Box,
    top: float,
) -> Box:
    """Corner rows in columns side by side under the folds, then on new sheets.
    Gives the room under them."""
    x, y, lowest = table.left, top, top
    waiting = list(rows)
    while waiting:
        if y - 2 * ROW < table.bottom or x + CORNER_WIDTH > table.right + 8:
            if y == top and x == table.left or x + 2 * CORNER_WIDTH > table.right + 8:
                pen = book.sheet(shows)
                table = title_head(pen, book.paper, shows, note)
                x, top = table.left, table.top
                lowest = top
            else:
                x += CORNER_WIDTH
            y = top
            continue
        if y == top:
            head = ("Corner", "Across", "Up")
            y = _row(pen, x, y, CORNER_COLUMNS, head, rule_to=x + CORNER_WIDTH - 8)
        y = _row(pen, x, y, CORNER_COLUMNS, waiting.pop(0))
        lowest = min(lowest, y)
    return Box(table.left, table.bottom, table.right, lowest - 3)


def _row(
    pen: Pen,
    left: float,
    top: float,
    columns: Sequence[float],
    cells: Sequence[str],
    rule_to: float | None = None,
) -> float:
    """One row of words; gives the top of the next."""
    base = top - ROW + BASE
    for column, words in zip(columns, cells, strict=True):
        measure = any(c.isdigit() for c in words) and rule_to is None and column
        height = lettering.FIGURE if measure and "°" not in words else TEXT
        pen.text(Point(left + column, base), words, height)
    if rule_to is not None:
        pen.path([Point(left, top - ROW), Point(rule_to, top - ROW)], NARROW)
        return top - ROW - UNDER_HEAD
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
