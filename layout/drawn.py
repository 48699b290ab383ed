"""Drawings of a stored layout for the screen, by the same pens as the paper."""

from __future__ import annotations

from django.http import Http404

from layout import stored
from layout.drawing.flat import draw_flat
from layout.drawing.fold_strip import cells_of, draw_strip, lines_of, needed
from layout.drawing.folded_view import draw_folded
from layout.drawing.key_plan import draw_large_key_plan
from layout.drawing.paper import Box
from layout.drawing.section import draw_section
from layout.drawing.svg import SvgPen
from layout.models import LaidPiece, Layout

ROOM = Box(2.0, 2.0, 148.0, 108.0)
"""Of a drawing on the screen, mm: its figures can be read on a phone."""
BENCH = Box(2.0, 2.0, 238.0, 178.0)
"""Of the flat, mm: it has many figures, and scrolls sideways on a phone."""
STRIPS = {"folding": 236.0, "folding-middle": 120.0, "folding-narrow": 60.0}
"""Width of the fold order, mm: four steps side by side, two, or one on a phone."""
STEP = 60.0
"""Height of one of its steps, mm."""
VIEWS = ("flat", "section", "folded", *STRIPS)


def piece_view(laid: LaidPiece, view: str) -> bytes:
    """SVG of one view of a piece. Raises Http404 for a view that is not there."""
    if view not in VIEWS:
        raise Http404(f"There is no view {view}. Known are {', '.join(VIEWS)}.")
    if view in STRIPS:
        return _fold_order(laid, STRIPS[view])
    piece = stored.laid_piece(laid)
    frame = stored.frame(laid.layout)
    title = f"{laid.mark}, {laid.title}: {view}"
    pen = _pen(title, BENCH if view == "flat" else ROOM)
    if view == "flat":
        draw_flat(pen, piece, BENCH, frame.units)
    elif view == "section":
        draw_section(pen, piece, ROOM, frame.units)
    else:
        draw_folded(pen, piece, frame, ROOM)
    return pen.ink()


def _fold_order(laid: LaidPiece, width: float) -> bytes:
    """The strip as on paper, on a page as high as it needs."""
    piece = stored.laid_piece(laid)
    # The layers at a seam's pocket are told by the pieces on both sides of it.
    whole = stored.laid_set(laid.layout)
    cells = cells_of(whole, piece)
    lines = lines_of(whole, piece) or ["It stays flat: no folds."]
    high = needed(len(cells), lines, width, STEP)
    room = Box(2.0, 2.0, 2.0 + width, 2.0 + high)
    pen = _pen(f"{laid.mark}, {laid.title}: fold order", room)
    draw_strip(pen, cells, lines, room, STEP)
    return pen.ink()


def key_plan(layout: Layout) -> bytes:
    """SVG of the whole set in the roof's plane."""
    pen = _pen(f"{layout}: where each piece sits")
    draw_large_key_plan(pen, stored.laid_set(layout), ROOM)
    return pen.ink()


def _pen(title: str, room: Box = ROOM) -> SvgPen:
    pen = SvgPen(title)
    pen.page(room.right + room.left, room.top + room.bottom)
    return pen
