"""One piece's sheet: the flat, the section, the folded piece on its roof, always
in this order, with all that the bench must know."""

from __future__ import annotations

from layout.drawing import lettering, tape
from layout.drawing.flat import draw_flat
from layout.drawing.folded_view import draw_folded
from layout.drawing.frame import HEAD, Book, between, boxed, fitting, rule
from layout.drawing.key_plan import draw_key_plan
from layout.drawing.label import draw_label
from layout.drawing.paper import Box
from layout.drawing.pen import NARROW, Pen
from layout.drawing.section import draw_section
from layout.drawing.swept import sweeps_said
from layout.folding.result import LaidSet, Piece
from layout.geometry.point import Point

FACTS = 96.0
"""Width of the facts in the head, mm."""

COLUMN = 78.0
"""Width of the column beside the flat, mm."""


def draw_piece(book: Book, laid: LaidSet, piece: Piece) -> None:
    """One sheet for one piece."""
    pen = book.sheet(f"{piece.mark} {piece.title}")
    _draw_head(pen, book, laid, piece)
    room = between(book.paper, HEAD)
    flat = Box(room.left, room.bottom, room.right - COLUMN - 4, room.top)
    column = Box(room.right - COLUMN, room.bottom, room.right, room.top)
    pen.path(
        [Point(column.left - 2, room.bottom), Point(column.left - 2, room.top)], NARROW
    )
    bottom = flat.bottom + _draw_says(pen, laid, piece, flat)
    draw_flat(pen, piece, Box(flat.left, bottom, flat.right, flat.top), laid.units)
    _draw_column(pen, laid, piece, column)


def _draw_column(pen: Pen, laid: LaidSet, piece: Piece, column: Box) -> None:
    share = column.height / 100
    cuts = (column.top, column.top - 36 * share, column.top - 72 * share, column.bottom)
    boxes = [
        Box(column.left, low + 1.0, column.right, high - 1.0)
        for high, low in zip(cuts, cuts[1:], strict=False)
    ]
    draw_section(pen, piece, boxes[0], laid.units)
    rule(pen, cuts[1], column)
    if not laid.key_plan:
        rest = Box(column.left, column.bottom + 1.0, column.right, cuts[1] - 1.0)
        draw_folded(pen, piece, laid, rest)
        return
    draw_folded(pen, piece, laid, boxes[1])
    rule(pen, cuts[2], column)
    draw_key_plan(pen, laid, boxes[2], piece.mark)


# --- head ----------------------------------------------------------------------


def _draw_head(pen: Pen, book: Book, laid: LaidSet, piece: Piece) -> None:
    inside, about = book.paper.inside, book.about
    bottom = inside.top - HEAD + 2
    label = HEAD - 2
    boxed(
        pen, Box(inside.left, bottom + 1, inside.left + 38, inside.top), piece.mark, 15
    )
    payload = about.labels.get(piece.mark) or f"{piece.mark} {piece.title}"
    draw_label(pen, Point(inside.right - label, bottom), label, payload)
    facts = inside.right - label - FACTS
    _draw_title(pen, piece, inside.left + 42, inside.top, facts - inside.left - 45)
    _draw_facts(pen, book, laid, piece, facts, inside.top)
    rule(pen, bottom - 0.5, inside)


def _draw_title(pen: Pen, piece: Piece, left: float, top: float, room: float) -> None:
    height = fitting(piece.title, 5.0, room)
    pen.text(
        Point(left, top - 6), lettering.shortened(piece.title, height, room), height
    )
    words = "" if piece.hand == "none" else piece.hand.upper()
    base = top - 20.5
    pen.text(Point(left, base), words, 9.0)
    across = lettering.width(words, 9.0) + 6 if words else 0.0
    pen.text(Point(left + across, base), f"MAKE {piece.quantity}", 6.0)


def _draw_facts(
    pen: Pen, book: Book, laid: LaidSet, piece: Piece, left: float, top: float
) -> None:
    width, length = piece.pattern.size()
    unit = laid.units
    size = f"{tape.figure(width, unit)} x {tape.length(length, unit)}"
    words = f"Blank {size}"
    room = FACTS - 2
    height = fitting(words, lettering.FIGURE, room)
    pen.text(Point(left, top - 6), words, height)
    rows = (
        f"{piece.metal}, {piece.thickness:.2f} mm thick",
        f"{tape.weight(piece.weight, unit)} each",
        book.about.weather_side(),
    )
    for i, row in enumerate(rows):
        pen.text(
            Point(left, top - 12.5 - 5.2 * i), lettering.shortened(row, 3.2, room), 3.2
        )


def _draw_says(pen: Pen, laid: LaidSet, piece: Piece, box: Box) -> float:
    """Notes and proof under the flat. Gives the height they take."""
    swept = sweeps_said(piece.pattern.sweeps, laid.units)
    lines = [*piece.notes, *swept, proof_words(piece)]
    if piece.pattern.roof_lines:
        lines.insert(0, "Dashed along the legs: turns, closed on the roof by hand.")
    said = [
        line
        for words in lines
        for line in lettering.wrapped(words, lettering.SMALLEST, box.width - 2)
    ]
    y = box.bottom + 0.8
    for line in reversed(said):
        pen.text(Point(box.left, y), line)
        y += lettering.step(line, lettering.SMALLEST)
    return y - box.bottom


def proof_words(piece: Piece) -> str:
    """The figures of the piece's proof in one line."""
    proof = piece.proof
    figures = (
        ("closes", proof.closure),
        ("seats", proof.seat),
        ("overlaps", proof.overlap),
        ("meets its joints", proof.meeting),
    )
    said = ", ".join(f"{name} {figure + 0.0:.4f} mm" for name, figure in figures)
    sheds = "sheds water" if proof.shed else "does not shed water"
    return f"Refolded by its own folds: {said}; {sheds}."
