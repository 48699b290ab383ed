"""The flat view: the blank as it lies on the bench, weather side up.

Takes a piece and a box of paper, draws outline, folds with their number,
direction and angle, and running dimensions from the datum corner.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, pi, sin

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
    Pen,
    text_box,
)
from layout.drawing.placing import Quad, Taken, quad, spread, turned_box
from layout.drawing.rings import RADIUS, ring
from layout.drawing.running import EDGES, Dimension, EdgeName, depth, dimensions
from layout.drawing.view import View, fitted
from layout.folding.result import Fold, Piece
from layout.geometry.point import Point

LABEL = 3.5
"""Height of fold labels, mm."""

LEADER = 7.0
"""From the blank's edge to the figures, mm: a tick, then a slant to their row."""

TICK = 2.0


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
    height, pitch, inner = _fit_rows(piece, rows, room)
    view = fitted(piece.pattern.outline, inner)
    taken = Taken(room)
    _draw_lines(pen, piece, view, found, taken)
    for edge in EDGES:
        _draw_row(pen, edge, rows[edge], piece, view, room, height, pitch, taken)
    _draw_origin(pen, view, unit, taken)
    _name_details(pen, piece, found, view, taken)
    for fold in sorted(piece.folds, key=lambda f: _length(view, f)):
        if not in_detail(found, fold):
            _label_fold(pen, fold, view, taken)
    return Flat(view, taken, found)


# --- room ----------------------------------------------------------------------


def _fit_rows(
    piece: Piece, rows: dict[EdgeName, list[Dimension]], room: Box
) -> tuple[float, float, Box]:
    """Height of figures, their pitch, and what is left for the drawing.

    Figures get smaller only where there are more than the edge has room for.
    """
    for height in (lettering.FIGURE, 4.0, lettering.SMALLEST):
        below, above = lettering.extent("8 8/8", height)
        pitch = below + above + 0.8
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
        across = (room.right - inner.left) / pitch
        upright = (room.top - inner.bottom) / pitch
        if (
            max(len(rows["datum"]), len(rows["far"])) <= across
            and max(len(rows["left"]), len(rows["right"])) <= upright
        ):
            break
    return height, pitch, inner


def _length(view: View, fold: Fold) -> float:
    return fold.line[1].minus(fold.line[0]).length() * view.scale


# --- lines ---------------------------------------------------------------------


def _draw_lines(
    pen: Pen, piece: Piece, view: View, found: list[Detail], taken: Taken
) -> None:
    width, length = piece.pattern.size()
    pen.path(view.all_on(quad(Box(0, 0, width, length))), NARROW, closed=True)
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
    for detail in found:
        pen.path(view.all_on(quad(detail.box)), CENTRE, closed=True)


def _draw_origin(pen: Pen, view: View, unit: tape.Unit, taken: Taken) -> None:
    """The datum corner: the circle of ISO 129-1, and what the figures are in."""
    corner = view.on(Point(0, 0))
    pen.circle(corner, 1.5, NARROW)
    words = ("Datum 0", unit)
    for i, line in enumerate(words):
        at = Point(corner.x - 3.0, corner.y - 6.0 - 4.6 * i)
        taken.take(text_box(at, line, lettering.SMALLEST, "end", 0.0))
        pen.text(at, line, lettering.SMALLEST, "end")


# --- running dimensions --------------------------------------------------------


def _draw_row(
    pen: Pen,
    edge: EdgeName,
    row: list[Dimension],
    piece: Piece,
    view: View,
    room: Box,
    height: float,
    pitch: float,
    taken: Taken,
) -> None:
    """One edge's figures, side by side, each on a leader from its place."""
    if not row:
        return
    width, length = piece.pattern.size()
    side = _Side(edge, view, width, length)
    along = [side.along(d.distance) for d in row]
    low, high = side.span(room)
    places = spread(along, pitch, low + pitch / 2, high - pitch / 2)
    for dimension, at, place in zip(row, along, places, strict=True):
        start, end = side.point(at, 0.6), side.point(place, LEADER)
        knee = side.point(at, TICK)
        pen.path([start, knee, side.point(place, LEADER - TICK / 2), end], NARROW)
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
    at = side.point(place + side.sink(height), reach + 0.6)
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
        self.anchor = "end" if self.out < 0 else "start"
        self.other = corner

    def along(self, distance: float) -> float:
        return self.origin + distance * self.scale

    def point(self, along: float, reach: float) -> Point:
        away = self.base + self.out * reach
        return Point(along, away) if self.upright else Point(away, along)

    def sink(self, height: float) -> float:
        """From the middle of a figure to its baseline, along the edge."""
        below, above = lettering.extent("8 8/8", height)
        drop = (above - below) / 2
        return drop if self.upright else -drop

    def span(self, room: Box) -> tuple[float, float]:
        """Where figures of this edge may stand."""
        if self.upright:
            return self.origin - 2.0, room.right
        return self.other.y - 2.0, room.top


# --- words on the drawing ------------------------------------------------------


def fold_words(fold: Fold) -> str:
    """Direction and angle: "↑ UP 90°"."""
    arrow = "↑" if fold.direction == "up" else "↓"
    return f"{arrow} {fold.direction.upper()} {tape.angle(fold.angle)}"


@dataclass(frozen=True, slots=True)
class _Label:
    """A fold's number and words as one rectangle. centre, along: on paper"""

    centre: Point
    along: Point
    from_place: Point | None = None


def _label_fold(pen: Pen, fold: Fold, view: View, taken: Taken) -> None:
    words = fold_words(fold)
    if fold.where == "hand":
        words += " by hand"
    size = lettering.width(words, LABEL) + 2 * RADIUS + 1.4
    height = 2 * RADIUS + 0.2
    places = sorted(_places(fold, view, size, height), key=lambda pair: pair[1])
    shapes = [
        (turned_box(label.centre, label.along, size, height), cost)
        for label, cost in places
    ]
    chosen = taken.best(shapes)
    if chosen is None:
        # No room for the words: the number alone, and the words in the table.
        _ring_alone(pen, fold, view, taken)
        return
    _ink_label(pen, places[chosen][0], shapes[chosen][0], fold.order, words, size)
    taken.take(shapes[chosen][0])
    from_place = places[chosen][0].from_place
    if from_place:
        taken.keep_free((from_place, places[chosen][0].centre))


def _places(
    fold: Fold, view: View, size: float, height: float
) -> Iterator[tuple[_Label, float]]:
    """Where a label may lie: on its fold, else beside it on a leader."""
    a, b = view.all_on(fold.line)
    length = b.minus(a).length()
    along = b.minus(a).unit()
    upright = along if along.x > 1e-9 or (abs(along.x) <= 1e-9 and along.y > 0) else (
        along.scaled(-1)
    )
    if length >= size + 3:
        slack = (length - size - 2) / 2
        for share in (0.0, 0.5, -0.5, 0.9, -0.9):
            centre = a.plus(b.minus(a), 0.5).plus(along, share * slack)
            # It may well lie on its own fold: one line less to count.
            yield _Label(centre, upright), abs(share) * 0.2 - 1
    for share in (0.5, 0.25, 0.75):
        place = a.plus(b.minus(a), share)
        for step in range(6):
            reach = 4.0 + 6.0 * step
            for angle in range(16):
                out = Point(cos(angle * pi / 8), sin(angle * pi / 8))
                centre = Point(
                    place.x + out.x * (reach + size / 2),
                    place.y + out.y * (reach + height / 2),
                )
                cost = 1.2 + reach / 12 + abs(share - 0.5)
                yield _Label(centre, Point(1, 0), place), cost


def _ink_label(
    pen: Pen, label: _Label, shape: Quad, order: int, words: str, size: float
) -> None:
    left = label.centre.plus(label.along, -size / 2)
    turn = label.along.heading()
    if label.from_place:
        near = min(
            (left, label.centre.plus(label.along, size / 2)),
            key=lambda p: p.minus(label.from_place or p).length(),
        )
        pen.path([label.from_place, near], NARROW)
        pen.circle(label.from_place, 0.5, None, fill=BLACK)
    pen.path(shape, None, closed=True, fill=WHITE)
    ring(pen, left.plus(label.along, RADIUS), order, turn)
    base = left.plus(label.along, 2 * RADIUS + 1.2).plus(
        label.along.left(), -LABEL / 2
    )
    pen.text(base, words, LABEL, "start", turn)


def _ring_alone(pen: Pen, fold: Fold, view: View, taken: Taken) -> None:
    a, b = view.all_on(fold.line)
    middle = a.plus(b.minus(a), 0.5)
    options = [(turned_box(middle, Point(1, 0), 2 * RADIUS, 2 * RADIUS), 0.0)]
    centres = [middle]
    for step in range(1, 9):
        for angle in range(16):
            out = Point(cos(angle * pi / 8), sin(angle * pi / 8))
            centre = middle.plus(out, 3.0 * step)
            centres.append(centre)
            shape = turned_box(centre, Point(1, 0), 2 * RADIUS, 2 * RADIUS)
            options.append((shape, float(step)))
    chosen = taken.best(options)
    if chosen is None:
        return
    if chosen:
        pen.path([middle, centres[chosen]], NARROW)
    ring(pen, centres[chosen], fold.order)
    taken.take(options[chosen][0])


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
        centres = [
            Point(x, y)
            for y in (high.y + 3.2, low.y - 3.2, (low.y + high.y) / 2)
            for x in (
                (low.x + high.x) / 2,
                high.x - size / 2,
                low.x + size / 2,
                high.x + size / 2 + 1,
                low.x - size / 2 - 1,
            )
        ]
        shapes = [
            (turned_box(c, Point(1, 0), size, 5.4), 0.01 * i)
            for i, c in enumerate(centres)
        ]
        chosen = taken.best(shapes)
        if chosen is None:
            continue
        pen.path(shapes[chosen][0], None, closed=True, fill=WHITE)
        taken.take(shapes[chosen][0])
        base = centres[chosen].plus(Point(0, -LABEL / 2))
        pen.text(base, words, LABEL, "middle")
