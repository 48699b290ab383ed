"""The flat view: the blank as it lies on the bench, weather side up.

Takes a piece and a box of paper, draws outline, folds with their number,
direction and angle, and running dimensions from the datum corner.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import chain, product

from layout.drawing import lettering, tape
from layout.drawing.details import Detail, details, in_detail
from layout.drawing.paper import Box
from layout.drawing.pen import (
    BLACK,
    CENTRE,
    FOLD,
    HIDDEN,
    NARROW,
    WHITE,
    WIDE,
    Anchor,
    Pen,
    text_box,
)
from layout.drawing.placing import (
    LEVEL,
    Fan,
    Spot,
    Taken,
    beside,
    quad,
    spread,
    turned_box,
)
from layout.drawing.rings import RADIUS, ring
from layout.drawing.running import (
    EDGES,
    Dimension,
    EdgeName,
    depth,
    dimensions,
    length_of,
    room_of,
    thinned,
)
from layout.drawing.view import View, fitted
from layout.folding.result import Fold, Piece
from layout.geometry.point import Point

LABEL = 3.5
"""Height of fold labels, mm."""

LEADER = 7.0
"""From the blank's edge to the figures, mm: a tick, then a slant to their row."""

TICK = 2.0

BESIDE = 2.0
"""How far left of the datum corner a figure of the row below may stand, mm."""

ASIDE = Fan(first=4.0, step=6.0, rounds=7, dear=0.5, start=1.5)
CORNER = Fan(first=2.0, step=2.0, rounds=14, dear=0.3)
NEAR = Fan(first=0.5, step=3.0, rounds=9, dear=1.0, start=1.0)


@dataclass(frozen=True, slots=True)
class Flat:
    """What was drawn. view: bench to paper; taken: by words, for who draws on."""

    view: View
    taken: Taken
    details: list[Detail]


def draw_flat(pen: Pen, piece: Piece, room: Box, unit: tape.Unit) -> Flat:
    """Draws the flat view of a piece inside `room`."""
    found = details(piece)
    rows = dimensions(piece, found, unit)
    height, inner = _fit_rows(rows, room)
    view = fitted(piece.pattern.outline, inner)
    below = _longest(rows, height, "datum", "far")
    view = _moved_left(view, inner, room.right - below)
    taken = Taken(room)
    _draw_lines(pen, piece, view, found, taken)
    for edge in EDGES:
        _draw_row(pen, edge, rows[edge], piece, view, room, height, taken)
    _draw_origin(pen, view, unit, taken)
    _name_details(pen, piece, found, view, taken)
    # The long folds first: only they can carry their words on themselves.
    for fold in sorted(piece.folds, key=lambda f: -_length(view, f)):
        if not in_detail(found, fold):
            _label_fold(pen, fold, view, taken)
    return Flat(view, taken, found)


# --- room ----------------------------------------------------------------------


def _fit_rows(rows: dict[EdgeName, list[Dimension]], room: Box) -> tuple[float, Box]:
    """Height of figures, and what is left for the drawing.

    Figures get smaller only where there are more than the edge has room for.
    """
    for height in (lettering.FIGURE, 4.0, lettering.SMALLEST):
        reach = {
            edge: depth(row, height) + LEADER + 1.0 if row else 2.0
            for edge, row in rows.items()
        }
        inner = Box(
            room.left + reach["left"],
            room.bottom + max(reach["datum"], 10.0),
            room.right - reach["right"],
            room.top - reach["far"],
        )
        across = room.right - inner.left + BESIDE
        if (
            _longest(rows, height, "datum", "far") <= across
            and _longest(rows, height, "left", "right") <= room.height
        ):
            break
    return height, inner


def _longest(
    rows: dict[EdgeName, list[Dimension]], height: float, *edges: EdgeName
) -> float:
    return max(length_of(rows[edge], height) for edge in edges)


def _moved_left(view: View, inner: Box, last: float) -> View:
    """Out of the middle, where the row below needs more room to its right.

    last: how far right the datum corner may lie for that row, on paper
    """
    corner = view.on(Point(0, 0)).x
    off = min(corner - BESIDE - last, corner - inner.left)
    return replace(view, shift=view.shift.plus(Point(-max(0.0, off), 0)))


def _length(view: View, fold: Fold) -> float:
    return fold.line[1].minus(fold.line[0]).length() * view.scale


# --- lines ---------------------------------------------------------------------


def _draw_lines(
    pen: Pen, piece: Piece, view: View, found: list[Detail], taken: Taken
) -> None:
    width, length = piece.pattern.size()
    blank = view.all_on(quad(Box(0, 0, width, length)))
    pen.path(blank, NARROW, closed=True)
    taken.keep_free(blank, closed=True)
    for roof in piece.pattern.roof_lines:
        pen.path(view.all_on(roof.line), HIDDEN)
    for fold in piece.folds:
        line = view.all_on(fold.line)
        pen.path(line, FOLD)
        taken.keep_free(line)
    for outline in piece.pattern.outlines:
        ring_on = view.all_on(outline)
        pen.path(ring_on, WIDE, closed=True)
        taken.keep_free(ring_on, closed=True)
    for cut in piece.pattern.reliefs:
        pen.path(view.all_on(cut), WIDE)
    for detail in found:
        if detail.sweep:
            pen.path(view.all_on(quad(detail.box)), CENTRE, closed=True)


def _draw_origin(pen: Pen, view: View, unit: tape.Unit, taken: Taken) -> None:
    """The datum corner: the circle of ISO 129-1, and what the figures are in."""
    corner = view.on(Point(0, 0))
    pen.circle(corner, 1.5, NARROW)
    words, height = f"Datum 0, {unit}", lettering.SMALLEST
    size, tall = lettering.width(words, height), lettering.tallness(words, height)
    spot = taken.best(beside(corner, size, tall, CORNER))
    if spot is not None:
        base = spot.centre.plus(Point(0, -lettering.sink(words, height)))
        pen.text(base, words, height, "middle")


# --- running dimensions --------------------------------------------------------


def _draw_row(
    pen: Pen,
    edge: EdgeName,
    row: list[Dimension],
    piece: Piece,
    view: View,
    room: Box,
    height: float,
    taken: Taken,
) -> None:
    """One edge's figures, side by side, each on a leader from its place."""
    if not row:
        return
    width, length = piece.pattern.size()
    side = _Side(edge, view, width, length)
    low, high = side.span(room)
    row = thinned(row, height, high - low)
    along = [side.along(d.distance) for d in row]
    places = spread(along, [room_of(d, height) for d in row], low, high)
    for dimension, at, place in zip(row, along, places, strict=True):
        start, end = side.point(at, 0.6), side.point(place, LEADER)
        knee = side.point(at, TICK)
        leader = [start, knee, side.point(place, LEADER - TICK / 2), end]
        pen.path(leader, NARROW)
        taken.keep_free(leader)
        _figure(pen, side, dimension, place, height, taken)


def _figure(
    pen: Pen,
    side: _Side,
    dimension: Dimension,
    place: float,
    height: float,
    taken: Taken,
) -> None:
    reach = LEADER
    for order in dimension.folds:
        centre = side.point(place, reach + RADIUS)
        ring(pen, centre, order, side.turn)
        taken.take(turned_box(centre, Point(1, 0), 2 * RADIUS, 2 * RADIUS))
        reach += 2 * RADIUS + 0.4
    at = side.point(place + side.sink(dimension.words, height), reach + 0.6)
    pen.text(at, dimension.words, height, side.anchor, side.turn)
    taken.take(text_box(at, dimension.words, height, side.anchor, side.turn))


class _Side:
    """One edge of the blank on paper: along it, and outwards from it."""

    def __init__(self, edge: EdgeName, view: View, width: float, length: float) -> None:
        self.upright = edge in ("datum", "far")
        self.out = -1.0 if edge in ("datum", "left") else 1.0
        corner = view.on(Point(0, 0))
        far = view.on(Point(width, length))
        self.origin = corner.x if self.upright else corner.y
        self.scale = view.scale
        low, high = (corner.y, far.y) if self.upright else (corner.x, far.x)
        self.base = low if self.out < 0 else high
        self.turn = 90.0 if self.upright else 0.0
        self.anchor: Anchor = "end" if self.out < 0 else "start"
        self.other = corner

    def along(self, distance: float) -> float:
        return self.origin + distance * self.scale

    def point(self, along: float, reach: float) -> Point:
        away = self.base + self.out * reach
        return Point(along, away) if self.upright else Point(away, along)

    def sink(self, words: str, height: float) -> float:
        """From the middle of a figure to its baseline, along the edge."""
        drop = lettering.sink(words, height)
        return drop if self.upright else -drop

    def span(self, room: Box) -> tuple[float, float]:
        """Where figures of this edge may stand."""
        if self.upright:
            return self.origin - BESIDE, room.right
        return room.bottom, room.top


# --- words on the drawing ------------------------------------------------------


def fold_words(fold: Fold) -> str:
    """Direction and angle: "↑ UP 90°"."""
    arrow = "↑" if fold.direction == "up" else "↓"
    return f"{arrow} {fold.direction.upper()} {tape.angle(fold.angle)}"


def _label_fold(pen: Pen, fold: Fold, view: View, taken: Taken) -> None:
    words = fold_words(fold)
    if fold.where == "hand":
        words += " by hand"
    a, b = view.all_on(fold.line)
    middle = a.plus(b.minus(a), 0.5)
    size, height = label_size(words), 2 * RADIUS + 0.2
    spot = taken.best(
        chain(_on_fold(a, b, size, height), _off_fold(a, b, size, height))
    )
    if spot is None:
        # No room for the words: the number alone, and the words in the table.
        ringed = taken.best(beside(middle, 2 * RADIUS, 2 * RADIUS, NEAR))
        if ringed is not None:
            pen.path([middle, ringed.centre], NARROW)
            ring(pen, ringed.centre, fold.order)
        return
    if spot.cost > 0:
        _leader(pen, middle, spot, taken)
    ink_label(pen, spot, fold.order, words)


def label_size(words: str) -> float:
    """Length of a fold's label: its number and its words, mm."""
    return lettering.width(words, LABEL) + 2 * RADIUS + 1.4


def _on_fold(a: Point, b: Point, size: float, height: float) -> Iterator[Spot]:
    """On the fold itself, if it is long enough. It may well lie on its own fold:
    one line less to count."""
    length = b.minus(a).length()
    if length < size + 3:
        return
    along = b.minus(a).unit()
    if along.x < -1e-9 or (abs(along.x) <= 1e-9 and along.y < 0):
        along = along.scaled(-1)
    middle, slack = a.plus(b.minus(a), 0.5), (length - size - 2) / 2
    for share in (0.0, 0.5, -0.5, 0.9, -0.9):
        centre = middle.plus(along, share * slack)
        yield Spot(centre, along, size, height, abs(share) * 0.2 - 1)


def _off_fold(a: Point, b: Point, size: float, height: float) -> Iterator[Spot]:
    """Beside the fold, level, on a leader to its middle."""
    return beside(a.plus(b.minus(a), 0.5), size, height, ASIDE)


def _leader(pen: Pen, place: Point, spot: Spot, taken: Taken) -> None:
    half = spot.width / 2
    near = min(
        (spot.centre.plus(spot.along, -half), spot.centre.plus(spot.along, half)),
        key=lambda p: p.minus(place).length(),
    )
    pen.path([place, near], NARROW)
    pen.circle(place, 0.5, None, fill=BLACK)
    taken.keep_free((place, near))


def ink_label(pen: Pen, spot: Spot, order: int, words: str) -> None:
    """A fold's number in its ring and its words, on white."""
    left = spot.centre.plus(spot.along, -spot.width / 2)
    turn = spot.along.heading()
    pen.path(spot.shape(), None, closed=True, fill=WHITE)
    ring(pen, left.plus(spot.along, RADIUS), order, turn)
    base = left.plus(spot.along, 2 * RADIUS + 1.2)
    pen.text(base.plus(spot.along.left(), -LABEL / 2), words, LABEL, "start", turn)


def detail_name(piece: Piece, detail: Detail) -> str:
    return f"{piece.mark}-T{detail.number}"


def _name_details(
    pen: Pen, piece: Piece, found: list[Detail], view: View, taken: Taken
) -> None:
    """Each full-size detail named at its box."""
    for detail in found:
        words = f"1:1 {detail_name(piece, detail)}"
        size = lettering.width(words, LABEL) + 1.0
        low = view.on(Point(detail.box.left, detail.box.bottom))
        high = view.on(Point(detail.box.right, detail.box.top))
        middle = (low.x + high.x) / 2
        xs = (
            middle,
            high.x - size / 2,
            low.x + size / 2,
            high.x + size / 2 + 1,
            low.x - size / 2 - 1,
        )
        spot = taken.best(
            Spot(Point(x, y), LEVEL, size, 5.4, 0.01 * i)
            for i, (y, x) in enumerate(
                product((high.y + 3.2, low.y - 3.2, (low.y + high.y) / 2), xs)
            )
        )
        if spot is not None:
            pen.path(spot.shape(), None, closed=True, fill=WHITE)
            base = spot.centre.plus(Point(0, -LABEL / 2))
            pen.text(base, words, LABEL, "middle")
