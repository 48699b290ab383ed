"""1:1 templates: each sweep at full size, on as many sheets as it needs.

Sheets are joined on their crosses. Every sheet has a bar to measure: what the
printer shrinks is found before the metal is cut.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil

from layout.drawing import lettering, tape
from layout.drawing.clip import clipped_path
from layout.drawing.details import Detail, details
from layout.drawing.flat import detail_name, fold_words
from layout.drawing.frame import TITLE_HEAD, Book, between, title_head
from layout.drawing.paper import Box
from layout.drawing.pen import (
    BLACK,
    FOLD,
    HIDDEN,
    NARROW,
    WHITE,
    WIDE,
    LineKind,
    Pen,
)
from layout.drawing.placing import Fan, Taken, beside, quad, turned_box
from layout.drawing.rings import RADIUS, ring
from layout.drawing.swept import sweep_words
from layout.drawing.view import View
from layout.folding.result import LaidSet, Piece
from layout.geometry.point import Point

OVERLAP = 12.0
"""How much of the neighbouring sheet each sheet repeats, mm."""

BARS = 11.0
"""Room for the check bars, mm."""

CROSS = 4.0

WIDE_FAN = Fan(first=5.0, step=5.0, rounds=10, dear=0.5)

REGISTER = LineKind("register", 0.35)


@dataclass(frozen=True, slots=True)
class Tile:
    """column, row: of how many; box: of the bench frame, mm"""

    column: int
    row: int
    columns: int
    rows: int
    box: Box

    def name(self) -> str:
        """Letters across, numbers up; "" where one sheet holds all."""
        if self.columns * self.rows == 1:
            return ""
        return f"{chr(65 + self.column)}{self.row + 1}"


def draw_templates(book: Book, laid: LaidSet, piece: Piece) -> None:
    """All full-size sheets of one piece, quantity and hand as the piece has."""
    for detail in details(piece):
        words = [
            part
            for line in _says(piece, detail, laid.units)
            for part in lettering.wrapped(
                line, lettering.SMALLEST, book.paper.inside.width
            )
        ]
        room = window(book, words)
        for tile in tiles(detail.box, room.width, room.height):
            _draw_tile(book, laid, piece, detail, tile, words)


def window(book: Book, words: Sequence[str]) -> Box:
    """What a template sheet can show at full size, on paper."""
    room = between(book.paper, TITLE_HEAD)
    return Box(
        room.left, room.bottom + BARS + _tallness(words) + 2, room.right, room.top
    )


def tiles(box: Box, width: float, height: float) -> Iterator[Tile]:
    """Covers a box with sheets of that size, each sharing OVERLAP with the next."""
    columns = _count(box.width, width)
    rows = _count(box.height, height)
    across = (box.width - OVERLAP) / columns
    up = (box.height - OVERLAP) / rows
    for row in range(rows):
        for column in range(columns):
            left = box.left + column * across
            bottom = box.bottom + row * up
            part = Box(left, bottom, left + across + OVERLAP, bottom + up + OVERLAP)
            yield Tile(column, row, columns, rows, part)


def _count(size: float, room: float) -> int:
    return max(1, ceil((size - OVERLAP - 1e-6) / (room - OVERLAP)))


def _draw_tile(
    book: Book,
    laid: LaidSet,
    piece: Piece,
    detail: Detail,
    tile: Tile,
    words: Sequence[str],
) -> None:
    name = f"{detail_name(piece, detail)} {tile.name()}".strip()
    pen = book.sheet(f"{name} template 1:1")
    hand = "" if piece.hand == "none" else f", {piece.hand.upper()}"
    title_head(pen, book.paper, f"{name}{hand}", "1:1, print at 100 %, do not fit")
    room = window(book, words)
    view = View(
        1.0,
        Point(
            room.left + (room.width - tile.box.width) / 2 - tile.box.left,
            room.bottom + (room.height - tile.box.height) / 2 - tile.box.bottom,
        ),
    )
    taken = Taken(room)
    _draw_lines(pen, piece, tile.box, view, taken)
    reliefs = list(_draw_reliefs(pen, piece, tile.box, view, taken))
    _draw_joins(pen, tile, view, taken)
    _draw_registers(pen, laid, piece, detail, tile, view, taken)
    _label_folds(pen, piece, tile, view, taken)
    _label_reliefs(pen, reliefs, taken)
    _draw_words(pen, room, words)
    draw_bars(pen, Point(room.left, room.bottom - _tallness(words) - BARS - 1))


def _draw_lines(pen: Pen, piece: Piece, box: Box, view: View, taken: Taken) -> None:
    for roof in piece.pattern.roof_lines:
        for part in clipped_path(roof.line, box):
            pen.path(view.all_on(part), HIDDEN)
            taken.keep_free(view.all_on(part))
    for fold in piece.folds:
        for part in clipped_path(fold.line, box):
            pen.path(view.all_on(part), FOLD)
            taken.keep_free(view.all_on(part))
    for outline in piece.pattern.outlines:
        for part in clipped_path((*outline, outline[0]), box):
            pen.path(view.all_on(part), WIDE)
            taken.keep_free(view.all_on(part))


def _draw_reliefs(
    pen: Pen, piece: Piece, box: Box, view: View, taken: Taken
) -> Iterator[Point]:
    """Relief cuts of every sweep, as cuts. Gives the middle of each, on paper."""
    for cut in piece.pattern.reliefs:
        for part in clipped_path(cut, box):
            on = view.all_on(part)
            pen.path(on, WIDE)
            taken.keep_free(on)
            yield on[0].plus(on[-1].minus(on[0]), 0.5)


def _draw_joins(pen: Pen, tile: Tile, view: View, taken: Taken) -> None:
    """The edge of the sheet's picture, and crosses that lie on the neighbour's."""
    pen.path(view.all_on(quad(tile.box)), LineKind("sheet edge", 0.13), closed=True)
    box = tile.box
    xs = list(_inner(tile.column, tile.columns, box.left, box.right))
    ys = list(_inner(tile.row, tile.rows, box.bottom, box.top))
    places = [Point(x, y) for x in xs for y in (box.bottom + 20, box.top - 20)]
    places += [Point(x, y) for y in ys for x in (box.left + 20, box.right - 20)]
    for place in places:
        at = view.on(place)
        pen.path([at.plus(Point(-CROSS, 0)), at.plus(Point(CROSS, 0))], REGISTER)
        pen.path([at.plus(Point(0, -CROSS)), at.plus(Point(0, CROSS))], REGISTER)
        taken.take(turned_box(at, Point(1, 0), 2 * CROSS, 2 * CROSS))


def _inner(at: int, count: int, low: float, high: float) -> Iterator[float]:
    """The middle of the overlap with each neighbour along one axis."""
    if at > 0:
        yield low + OVERLAP / 2
    if at < count - 1:
        yield high - OVERLAP / 2


def registers(piece: Piece, detail: Detail) -> list[Point]:
    """Two places that a tape finds on the metal, to lay the template on.

    Ends of folds inside the detail, and where folds leave it: the one most
    folds meet in, and the one farthest from it. Where no fold comes in, the
    places where the outline does.
    """
    meets: dict[tuple[float, float], int] = {}
    lines = [fold.line for fold in piece.folds]
    parts = [part for line in lines for part in clipped_path(line, detail.box)]
    if not parts:
        rings = [(*ring, ring[0]) for ring in piece.pattern.outlines]
        parts = [part for ring in rings for part in clipped_path(ring, detail.box)]
    for part in parts:
        for p in (part[0], part[-1]):
            key = (round(p.x, 4), round(p.y, 4))
            meets[key] = meets.get(key, 0) + 1
    if not meets:
        return []
    first = max(meets, key=lambda key: (meets[key], -key[1], -key[0]))
    here = Point(*first)
    far = max(meets, key=lambda key: (round(Point(*key).minus(here).length(), 3), key))
    return [here] if far == first else [here, Point(*far)]


def _draw_registers(
    pen: Pen,
    laid: LaidSet,
    piece: Piece,
    detail: Detail,
    tile: Tile,
    view: View,
    taken: Taken,
) -> None:
    for number, place in enumerate(registers(piece, detail), start=1):
        box = tile.box
        if not (box.left <= place.x <= box.right and box.bottom <= place.y <= box.top):
            continue
        at = view.on(place)
        pen.circle(at, 2.2, REGISTER)
        taken.take(turned_box(at, Point(1, 0), 4.4, 4.4))
        x, y = (tape.figure(value, laid.units) for value in place)
        words = f"R{number}: across {x}, up {y} {laid.units}"
        _place_words(pen, at, words, taken)


def _label_folds(pen: Pen, piece: Piece, tile: Tile, view: View, taken: Taken) -> None:
    for fold in piece.folds:
        parts = list(clipped_path(fold.line, tile.box))
        if not parts:
            continue
        a, b = view.all_on(parts[0])
        words = fold_words(fold)
        if fold.where == "hand":
            words += " by hand"
        middle = a.plus(b.minus(a), 0.5)
        size = lettering.width(words, 3.5) + 2 * RADIUS + 2
        spot = taken.best(beside(middle, size, 2 * RADIUS + 0.4, WIDE_FAN))
        if spot is None:
            continue
        centre = spot.centre
        near = middle.minus(centre)
        edge = centre.plus(
            Point(max(-size / 2, min(size / 2, near.x)), max(-3.0, min(3.0, near.y)))
        )
        pen.path([middle, edge], NARROW)
        pen.circle(middle, 0.6, None, fill=BLACK)
        taken.keep_free((middle, edge))
        ring(pen, centre.plus(Point(RADIUS - size / 2, 0)), fold.order)
        pen.text(centre.plus(Point(2 * RADIUS + 1.4 - size / 2, -1.75)), words, 3.5)


def _label_reliefs(pen: Pen, places: Sequence[Point], taken: Taken) -> None:
    """One word for all relief cuts of the sheet, led to each of them."""
    if not places:
        return
    words, height = "cut" if len(places) == 1 else "cuts", 3.5
    words = f"relief {words}"
    size, tall = lettering.width(words, height) + 1, lettering.tallness(words, height)
    spot = taken.best(beside(places[0], size, tall + 0.6, WIDE_FAN))
    if spot is None:
        return
    for place in places:
        near = place.minus(spot.centre)
        across = max(-size / 2, min(size / 2, near.x))
        up = max(-tall / 2, min(tall / 2, near.y))
        edge = spot.centre.plus(Point(across, up))
        pen.path([place, edge], NARROW)
    base = spot.centre.plus(Point(0, -lettering.sink(words, height)))
    pen.text(base, words, height, "middle")


def _place_words(pen: Pen, place: Point, words: str, taken: Taken) -> None:
    height = lettering.FIGURE
    size = lettering.width(words, height) + 1
    tall = lettering.tallness(words, height) + 0.6
    spot = taken.best(beside(place, size, tall, WIDE_FAN))
    if spot is not None:
        pen.path(spot.shape(), None, closed=True, fill=WHITE)
        base = spot.centre.plus(Point(0, -lettering.sink(words, height)))
        pen.text(base, words, height, "middle")


def _says(piece: Piece, detail: Detail, unit: tape.Unit) -> list[str]:
    sweep = detail.sweep
    if sweep is None:
        return ["The whole piece at full size: cut along the wide line."]
    said = [
        "Lay the circles R1 and R2 on their places on the blank, measured from the"
        " datum corner; the fold lines then lie on the folds."
    ]
    return [*said, sweep_words(sweep, unit)]


def _tallness(words: Sequence[str]) -> float:
    """Height of the lines under a template, mm."""
    return sum(lettering.step(line, lettering.SMALLEST) for line in words)


def _draw_words(pen: Pen, room: Box, words: Sequence[str]) -> None:
    y = room.bottom
    for line in words:
        y -= lettering.step(line, lettering.SMALLEST)
        words_in = lettering.shortened(line, lettering.SMALLEST, room.width)
        pen.text(Point(room.left, y), words_in)


def draw_bars(pen: Pen, corner: Point) -> None:
    """Two bars to measure: 100 mm and 4 in. corner: lower left"""
    left = corner.x
    for size, words in ((100.0, "measure: 100 mm"), (101.6, "measure: 4 in")):
        y = corner.y + 3.0
        pen.path([Point(left, y), Point(left + size, y)], REGISTER)
        for x in (left, left + size):
            pen.path([Point(x, y - 2), Point(x, y + 2)], REGISTER)
        at = Point(left + size / 2, y + 1.4)
        pen.text(at, words, lettering.SMALLEST, "middle")
        left += size + 20
