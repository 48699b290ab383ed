"""The key plan: the roof seen square, the penetration and where each piece sits."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import chain

from layout.drawing import lettering
from layout.drawing.paper import Box
from layout.drawing.pen import BLACK, HIDDEN, NARROW, WHITE, LineKind, Pen, arrow
from layout.drawing.placing import LEVEL, Fan, Spot, Taken, beside, turned_box
from layout.drawing.view import View, fitted
from layout.folding.result import LaidSet, Piece
from layout.geometry.point import Point

THIN = LineKind("neighbour", 0.13)
STRONG = LineKind("this piece", 1.0)
ROUND = Fan(first=3.0, step=3.0, rounds=7, dear=0.3, start=0.6)
HERE = 0.55
"""Tone of the piece the sheet is about."""


def draw_key_plan(pen: Pen, laid: LaidSet, room: Box, here: str) -> None:
    """All pieces in outline; the one marked `here` filled. Nothing without a
    penetration to find one's way by."""
    if not laid.key_plan:
        return
    view = _fitted(laid, _beside_arrow(room), here)
    for piece in laid.pieces:
        if piece.mark != here and piece.family != "cleat":
            _draw_piece(pen, piece, view, THIN, None)
    _draw_penetration(pen, laid, view)
    for piece in laid.pieces:
        if piece.mark == here:
            _draw_piece(pen, piece, view, STRONG, HERE)
    _draw_up_slope(pen, room)


def draw_large_key_plan(pen: Pen, laid: LaidSet, room: Box) -> None:
    """All pieces in outline, each with its mark."""
    if not laid.key_plan:
        return
    inner = _beside_arrow(room)
    view = _fitted(laid, inner.shrunk(8.0))
    taken = Taken(inner)
    for piece in laid.pieces:
        if piece.family != "cleat":
            _draw_piece(pen, piece, view, NARROW, None)
    _draw_penetration(pen, laid, view)
    _name_penetration(pen, laid, view, taken)
    for piece in laid.pieces:
        for ring in _rings(piece, view):
            taken.keep_free(ring, closed=True)
    for piece in laid.pieces:
        if piece.family != "cleat":
            _name(pen, piece, view, taken)
    _draw_up_slope(pen, room)


def _beside_arrow(room: Box) -> Box:
    return Box(room.left, room.bottom, room.right - 9.0, room.top)


def _fitted(laid: LaidSet, room: Box, here: str = "") -> View:
    places = [
        Point(v.x, v.y)
        for piece in laid.pieces
        if piece.family != "cleat" or piece.mark == here
        for v in piece.pattern.folded
    ]
    places += [Point(v.x, v.y) for v in laid.key_plan]
    return fitted(places, room)


def _rings(piece: Piece, view: View) -> list[list[Point]]:
    pattern = piece.pattern
    return [
        [view.on(Point(v.x, v.y)) for v in pattern.polygon_in_space(face)]
        for face in pattern.faces
        if face.role in ("roof", "wall", "saddle", "trough", "face", "lap")
    ]


def _draw_piece(
    pen: Pen, piece: Piece, view: View, line: LineKind, fill: float | None
) -> None:
    for ring in _rings(piece, view):
        pen.path(ring, line, closed=True, fill=fill)


def _draw_penetration(pen: Pen, laid: LaidSet, view: View) -> None:
    ring = [view.on(Point(v.x, v.y)) for v in laid.key_plan]
    pen.path(ring, LineKind("penetration", 0.35), closed=True, fill=WHITE)
    a, b, c, d = ring
    pen.path([a, c], HIDDEN)
    pen.path([b, d], HIDDEN)


def _name_penetration(pen: Pen, laid: LaidSet, view: View, taken: Taken) -> None:
    penetration = laid.site.get("penetration")
    kind = penetration.get("kind") if isinstance(penetration, dict) else None
    ring = [view.on(Point(v.x, v.y)) for v in laid.key_plan]
    taken.keep_free(ring, closed=True)
    middle = ring[0].plus(ring[2].minus(ring[0]), 0.5)
    words = str(kind or "").upper()
    if not words:
        return
    shape = turned_box(middle, Point(1, 0), lettering.width(words, 4) + 3, 7)
    pen.path(shape, None, closed=True, fill=WHITE)
    taken.take(shape)
    pen.text(middle.plus(Point(0, -2)), words, 4, "middle")


def _name(pen: Pen, piece: Piece, view: View, taken: Taken) -> None:
    """The piece's mark on it, or beside it on a leader."""
    place = _middle(max(_rings(piece, view), key=_area))
    height = lettering.FIGURE
    size = lettering.width(piece.mark, height) + 1.2
    tall = lettering.tallness(piece.mark, height) + 0.6
    on_it = Spot(place, LEVEL, size, tall, 0.0)
    spot = taken.best(chain((on_it,), beside(place, size, tall, ROUND)))
    if spot is None:
        return
    if spot.cost:
        pen.path([place, spot.centre], NARROW)
        pen.circle(place, 0.5, None, fill=BLACK)
    pen.path(spot.shape(), None, closed=True, fill=WHITE)
    base = spot.centre.plus(Point(0, -lettering.sink(piece.mark, height)))
    pen.text(base, piece.mark, height, "middle")


def _area(ring: Sequence[Point]) -> float:
    return abs(sum(a.cross(b) for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)))


def _middle(ring: Sequence[Point]) -> Point:
    return Point(sum(p.x for p in ring) / len(ring), sum(p.y for p in ring) / len(ring))


def _draw_up_slope(pen: Pen, room: Box) -> None:
    """An arrow up the slope, with its words beside it."""
    words, height = "up the slope", lettering.SMALLEST
    size = lettering.width(words, height)
    x = room.right - 1.5
    middle = (room.bottom + room.top) / 2
    top = min(room.top, middle + size / 2 + 4)
    bottom = max(room.bottom, middle - size / 2)
    pen.path([Point(x, bottom), Point(x, top)], NARROW)
    arrow(pen, Point(x, top), Point(0, 1))
    pen.text(Point(x - 1.4, bottom), words, height, "start", 90.0)
