"""The files of one piece: SVG and DXF at true scale, and SVG for the screen.

Takes a piece, gives bytes; same piece, same bytes.
"""

from __future__ import annotations

from itertools import chain

from layout.drawing import lettering, tape
from layout.drawing.flat import draw_flat, fold_words
from layout.drawing.folded_view import draw_folded
from layout.drawing.key_plan import draw_key_plan
from layout.drawing.paper import Box
from layout.drawing.pen import NARROW, LineKind
from layout.drawing.placing import Fan, Spot, Taken, beside, quad
from layout.drawing.section import draw_section
from layout.drawing.svg import SvgPen
from layout.folding.result import LaidSet, Piece
from layout.geometry.point import Point

EDGE = 20.0
"""Kept free round a piece at true scale, mm."""

TEXT = 5.0
NEAR = Fan(first=2.0, step=4.0, rounds=12, dear=0.5, start=0.5)

CUT = LineKind("cut", 0.5)
FOLD = LineKind("fold at true scale", 0.25, (24.0, 3.0, 0.5, 3.0, 0.5, 3.0))
TURN = LineKind("turn at true scale", 0.25, (6.0, 1.5))


def piece_svg(piece: Piece, unit: tape.Unit = "mm") -> bytes:
    """The flat at true scale: one unit of the drawing is one mm of metal.

    unit: of the blank's size in the description
    """
    width, length = piece.pattern.size()
    size = f"{tape.figure(width, unit)} x {tape.length(length, unit)}"
    hand = "" if piece.hand == "none" else f", {piece.hand}"
    pen = SvgPen(
        f"{piece.mark} {piece.title}",
        f"Flat, weather side up{hand}. Blank {size}, {piece.metal}. 1:1.",
    )
    pen.page(width + 2 * EDGE, length + 2 * EDGE)

    def on(p: Point) -> Point:
        return Point(p.x + EDGE, p.y + EDGE)

    pen.path([on(p) for p in quad(Box(0, 0, width, length))], NARROW, closed=True)
    pen.circle(on(Point(0, 0)), 3.0, NARROW)
    for roof in piece.pattern.roof_lines:
        pen.path([on(p) for p in roof.line], TURN)
    for fold in piece.folds:
        pen.path([on(p) for p in fold.line], FOLD)
    for outline in piece.pattern.outlines:
        pen.path([on(p) for p in outline], CUT, closed=True)
    for cut in piece.pattern.reliefs:
        pen.path([on(p) for p in cut], CUT)
    taken = Taken(Box(0, 0, width + 2 * EDGE, length + 2 * EDGE))
    for fold in piece.folds:
        words = f"{fold.order} {fold_words(fold)}"
        _name_fold(pen, [on(p) for p in fold.line], words, taken)
    words = f"{piece.mark}{hand}, datum corner lower left, 1:1"
    pen.text(Point(EDGE, EDGE / 3), words, 5.0)
    return pen.ink()


def piece_dxf(piece: Piece) -> bytes:
    """The flat at true scale as DXF, in mm."""
    # Half a second of imports that only those who want a DXF should wait for.
    from layout.drawing import dxf

    return dxf.piece_dxf(piece)


def _name_fold(pen: SvgPen, ends: list[Point], words: str, taken: Taken) -> None:
    """A fold's words beside it, or as near as other words leave room."""
    a, b = ends
    along = b.minus(a).unit()
    if along.x < -1e-9 or (abs(along.x) <= 1e-9 and along.y < 0):
        along = along.scaled(-1)
    size, tall = lettering.width(words, TEXT), lettering.tallness(words, TEXT)
    middle, up = a.plus(b.minus(a), 0.5), along.left()
    on_it = (
        Spot(middle.plus(up, side * (tall / 2 + 1)), along, size, tall, 0.0)
        for side in (1, -1)
    )
    spot = taken.best(chain(on_it, beside(middle, size, tall, NEAR)))
    if spot is not None:
        base = spot.centre.plus(spot.along.left(), -lettering.sink(words, TEXT))
        pen.text(base, words, TEXT, "middle", spot.along.heading())


# --- for the screen, as on the cut sheet --------------------------------------


def flat_svg(
    piece: Piece, unit: tape.Unit, width: float = 180.0, height: float = 130.0
) -> bytes:
    """The flat with its running dimensions, as the cut sheet shows it."""
    pen = SvgPen(f"{piece.mark} {piece.title}, flat")
    pen.page(width, height)
    draw_flat(pen, piece, Box(2, 2, width - 2, height - 2), unit)
    return pen.ink()


def section_svg(
    piece: Piece, unit: tape.Unit, width: float = 80.0, height: float = 55.0
) -> bytes:
    """The section with the length of every leg."""
    pen = SvgPen(f"{piece.mark} {piece.title}, section")
    pen.page(width, height)
    draw_section(pen, piece, Box(1, 1, width - 1, height - 1), unit)
    return pen.ink()


def folded_svg(
    piece: Piece, laid: LaidSet, width: float = 80.0, height: float = 60.0
) -> bytes:
    """The folded piece on its roof."""
    pen = SvgPen(f"{piece.mark} {piece.title}, folded")
    pen.page(width, height)
    draw_folded(pen, piece, laid, Box(1, 1, width - 1, height - 1))
    return pen.ink()


def key_plan_svg(
    laid: LaidSet, mark: str, width: float = 60.0, height: float = 55.0
) -> bytes:
    """The roof seen square, the piece of that mark filled."""
    pen = SvgPen(f"Where {mark} sits")
    pen.page(width, height)
    draw_key_plan(pen, laid, Box(1, 1, width - 1, height - 1), mark)
    return pen.ink()
