"""The section: the folded piece cut across its main folds.

Takes a piece, walks across the flat at right angles to a fold, from face to
face, and turns at every fold it crosses. Gives legs and bends; draws them with
the metal thicker than true, and says so.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from layout.drawing import lettering, tape
from layout.drawing.paper import Box
from layout.drawing.pen import LineKind, Pen, text_box
from layout.drawing.placing import Fan, Taken, beside
from layout.drawing.rings import RADIUS, ring
from layout.drawing.view import View, fitted
from layout.folding.pattern import Crease, FlatPattern
from layout.folding.result import Piece
from layout.geometry.point import Point
from layout.geometry.tolerance import EPS

METAL = 0.9
"""Thickness the metal is drawn with, mm on paper."""

NEAR = Fan(first=1.6, step=2.2, rounds=9, dear=0.35)

LAYER_GAP = 0.6
"""Kept between layers that lie on each other, mm on paper."""

PARALLEL = 0.01
"""Creases whose directions differ by less than this (sine) are crossed squarely."""


@dataclass(frozen=True, slots=True)
class Leg:
    """One straight run of a section. length: mm; role: of the face"""

    length: float
    role: str


@dataclass(frozen=True, slots=True)
class Section:
    """legs: (n); bends: (n - 1), angle in degrees, positive towards the weather
    side, with the order of the fold. start, along: where it is cut in the flat."""

    legs: tuple[Leg, ...]
    bends: tuple[tuple[float, int], ...]
    start: Point
    along: Point

    def length(self) -> float:
        return sum(leg.length for leg in self.legs)


def section(piece: Piece) -> Section | None:
    """The section across the main folds: the most length of fold crossed.

    None for a piece without folds.
    """
    best: Section | None = None
    for fold in piece.folds:
        if fold.what == "pocket":
            continue
        a, b = fold.line
        along = b.minus(a).unit()
        across = Point(along.y, -along.x)
        if across.x < -EPS or (abs(across.x) <= EPS and across.y < 0):
            across = across.scaled(-1)
        for share in (0.5, 0.2, 0.8):
            made = _cut(piece, a.plus(b.minus(a), share), across)
            if best is None or _worth(piece, made) > _worth(piece, best):
                best = made
    return best


def _worth(piece: Piece, made: Section) -> tuple[float, float]:
    crossed = [piece.folds[order - 1].line for _, order in made.bends]
    folds = sum(b.minus(a).length() for a, b in crossed)
    return round(folds, 3), round(made.length(), 3)


def _cut(piece: Piece, place: Point, across: Point) -> Section:
    """Walks both ways from a place on a fold."""
    pattern = piece.pattern
    crease = min(
        (c for c in pattern.creases if abs(c.angle) > EPS),
        key=lambda c: _off(pattern, c, place),
    )
    one, other = crease.faces
    if _side_of(pattern, one, place, across) > 0:
        one, other = other, one
    back = list(_walk(piece, one, place, across.scaled(-1)))
    ahead = list(_walk(piece, other, place, across))
    legs = [leg for leg, _ in reversed(back)] + [leg for leg, _ in ahead]
    bends = [bend for _, bend in reversed(back) if bend]
    bends.append((crease.angle, _order_of(piece, crease)))
    bends += [bend for _, bend in ahead if bend]
    start = place.plus(across, -sum(leg.length for leg, _ in back))
    return Section(tuple(legs), tuple(bends), start, across)


def _off(pattern: FlatPattern, crease: Crease, place: Point) -> float:
    """Distance of a place from a crease."""
    a, b = pattern.vertices[crease.a], pattern.vertices[crease.b]
    along = b.minus(a)
    share = min(1.0, max(0.0, place.minus(a).dot(along) / along.dot(along)))
    return place.minus(a.plus(along, share)).length()


def _side_of(pattern: FlatPattern, face: int, place: Point, across: Point) -> float:
    corners = pattern.polygon(pattern.faces[face])
    return sum(p.minus(place).dot(across) for p in corners)


def _walk(
    piece: Piece, face: int, place: Point, way: Point
) -> Iterator[tuple[Leg, tuple[float, int] | None]]:
    """Legs from a place outwards, each with the bend that ends it."""
    pattern = piece.pattern
    gone = 0.0
    for _ in range(len(pattern.faces)):
        reach, edge = _leaving(pattern, face, place, way)
        role = pattern.faces[face].role
        crease = _crease_at(pattern, face, edge)
        gone += reach
        if crease is None or _slanted(pattern, crease, way):
            yield Leg(gone, role), None
            return
        if abs(crease.angle) > EPS:
            yield Leg(gone, role), (crease.angle, _order_of(piece, crease))
            gone = 0.0
        one, other = crease.faces
        face = other if face == one else one
        place = place.plus(way, reach)


def _leaving(
    pattern: FlatPattern, face: int, place: Point, way: Point
) -> tuple[float, tuple[int, int]]:
    """How far the face goes on that way, and the edge where it ends."""
    corners = pattern.faces[face].corners
    best: tuple[float, tuple[int, int]] | None = None
    for a, b in zip(corners, (*corners[1:], corners[0]), strict=True):
        p, q = pattern.vertices[a], pattern.vertices[b]
        side = q.minus(p)
        turn = way.cross(side)
        if abs(turn) < EPS:
            continue
        reach = p.minus(place).cross(side) / turn
        share = p.minus(place).cross(way) / turn
        if reach > 1e-3 and -EPS <= share <= 1 + EPS and (not best or reach < best[0]):
            best = reach, (a, b)
    return best or (0.0, (-1, -1))


def _crease_at(pattern: FlatPattern, face: int, edge: tuple[int, int]) -> Crease | None:
    for crease in pattern.creases:
        if face in crease.faces and {crease.a, crease.b} == set(edge):
            return crease
    return None


def _slanted(pattern: FlatPattern, crease: Crease, way: Point) -> bool:
    """True for a fold that the section would not cross squarely."""
    along = pattern.vertices[crease.b].minus(pattern.vertices[crease.a]).unit()
    return abs(crease.angle) > EPS and abs(along.dot(way)) > PARALLEL


def _order_of(piece: Piece, crease: Crease) -> int:
    """Order of the fold a crease belongs to."""
    a, b = piece.pattern.vertices[crease.a], piece.pattern.vertices[crease.b]
    middle = a.plus(b.minus(a), 0.5)
    return min(piece.folds, key=lambda f: _from_line(f.line, middle)).order


def _from_line(line: tuple[Point, Point], place: Point) -> float:
    a, b = line
    along = b.minus(a)
    share = min(1.0, max(0.0, place.minus(a).dot(along) / along.dot(along)))
    return place.minus(a.plus(along, share)).length()


# --- drawing -------------------------------------------------------------------


def draw_section(pen: Pen, piece: Piece, room: Box, unit: tape.Unit) -> Section | None:
    """Draws the section inside `room`, with the length of every leg."""
    made = section(piece)
    if made is None:
        return None
    note_room = 5.2
    inner = Box(
        room.left + 13, room.bottom + note_room + 7, room.right - 13, room.top - 8
    )
    plain, _ = _places(made, 0.0)
    view = fitted(plain, inner, most=1.0)
    points, corners = _places(made, (METAL + LAYER_GAP) / view.scale)
    view = fitted(points, inner, most=1.0)
    taken = Taken(room)
    _say_thickness(pen, piece, view, room, taken)
    on = view.all_on(points)
    pen.path(on, LineKind("metal", METAL))
    taken.keep_free(on)
    for (angle, order), corner in zip(made.bends, corners, strict=True):
        _ring(pen, view.on(corner), angle, order, taken)
    for leg, ends in zip(made.legs, _ends(points, corners, made), strict=True):
        _length(pen, leg, view.all_on(ends), unit, taken)
    return made


def _places(made: Section, step: float) -> tuple[list[Point], list[Point]]:
    """The section's line, and the place of every bend.

    step: how far apart layers are drawn where metal lies on metal
    """
    heading = _first_heading(made)
    place = Point(0, 0)
    points, corners = [place], []
    for i, leg in enumerate(made.legs):
        along = Point(1, 0).turned(heading)
        place = place.plus(along, leg.length)
        points.append(place)
        if i < len(made.bends):
            corners.append(place)
            angle = made.bends[i][0]
            if abs(angle) > 179:
                side = along.left() if angle > 0 else along.left().scaled(-1)
                place = place.plus(side, step)
                points.append(place)
            heading += angle
    return points, corners


def _first_heading(made: Section) -> float:
    """So that the longest leg lies level, or upright if it hangs on a wall."""
    longest = max(range(len(made.legs)), key=lambda i: made.legs[i].length)
    turned = sum(angle for angle, _ in made.bends[:longest])
    upright = 90.0 if made.legs[longest].role in ("face", "wall") else 0.0
    return upright - turned


def _ends(
    points: Sequence[Point], corners: Sequence[Point], made: Section
) -> list[tuple[Point, Point]]:
    found = []
    i = 0
    for n in range(len(made.legs)):
        found.append((points[i], points[i + 1]))
        i += 1
        if n < len(made.bends) and abs(made.bends[n][0]) > 179:
            i += 1
    return found


def _say_thickness(pen: Pen, piece: Piece, view: View, room: Box, taken: Taken) -> None:
    times = METAL / (piece.thickness * view.scale)
    words = f"Section. Metal {times:.0f} x too thick."
    at = Point(room.left, room.bottom + 1.2)
    pen.text(at, words)
    taken.take(text_box(at, words, lettering.SMALLEST, "start", 0.0))


def _ring(pen: Pen, corner: Point, angle: float, order: int, taken: Taken) -> None:
    """The fold's number and angle beside its bend."""
    words = tape.angle(abs(angle))
    size = lettering.width(words, lettering.SMALLEST) + 2 * RADIUS + 0.8
    spot = taken.best(beside(corner, size, 2 * RADIUS, NEAR))
    if spot is None:
        return
    left = spot.centre.plus(Point(-size / 2, 0))
    ring(pen, left.plus(Point(RADIUS, 0)), order)
    pen.text(left.plus(Point(2 * RADIUS + 0.6, -lettering.SMALLEST / 2)), words)


def _length(
    pen: Pen, leg: Leg, ends: Sequence[Point], unit: tape.Unit, taken: Taken
) -> None:
    words, height = tape.length(leg.length, unit), lettering.FIGURE
    size = lettering.width(words, height) + 0.6
    middle = ends[0].plus(ends[1].minus(ends[0]), 0.5)
    tall = lettering.tallness(words, height)
    spot = taken.best(beside(middle, size, tall, NEAR))
    if spot is not None:
        base = spot.centre.plus(Point(0, -lettering.sink(words, height)))
        pen.text(base, words, height, "middle")
