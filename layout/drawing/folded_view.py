"""The folded piece on its roof: seen from above, from the side it lies on.

Takes a piece and the penetration's outline, draws faces back to front
(painter's order by planes), the chimney among them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, radians, sin

from layout.drawing.paper import Box
from layout.drawing.pen import LineKind, Pen
from layout.drawing.view import fitted
from layout.folding.result import LaidSet, Piece
from layout.geometry.point import Point
from layout.geometry.space import Vec

WEATHER, UNDER = 1.0, 0.72
"""Tones of the two sides of the metal."""

EDGE = LineKind("folded edge", 0.35)
WALL_EDGE = LineKind("wall", 0.18)

TILT = 28.0
"""How far the eye is raised over the level, degrees."""
TURN = 32.0
"""How far it is turned from straight up the slope, degrees."""


@dataclass(frozen=True, slots=True)
class _Shape:
    """One flat shape in space. is_wall: of the chimney; is_let_in: lies in the
    wall's reglet, and is shown all the same"""

    corners: tuple[Vec, ...]
    normal: Vec
    is_wall: bool = False
    is_let_in: bool = False


@dataclass(frozen=True, slots=True)
class Eye:
    """right, up: unit directions of the picture; towards: to the eye"""

    right: Vec
    up: Vec
    towards: Vec

    def seen(self, place: Vec) -> Point:
        return Point(place.dot(self.right), place.dot(self.up))


def eye_for(piece: Piece, laid: LaidSet) -> Eye:
    """From the side of the chimney the piece lies on."""
    centre = _middle(piece.pattern.folded)
    chimney = _middle(laid.key_plan) if laid.key_plan else centre
    depth = max(abs(chimney.y), 1.0)
    from_behind = centre.y > chimney.y + depth * 0.5
    turn = -TURN if centre.x < chimney.x - 1 else TURN
    if from_behind:
        turn = 180 - turn
    plumb = Vec(0, sin(radians(laid.pitch)), cos(radians(laid.pitch)))
    level = Vec(0, cos(radians(laid.pitch)), -sin(radians(laid.pitch)))
    across = Vec(1, 0, 0)
    # Towards the eye, level: down the slope, turned to the piece's side.
    flat = level.scaled(-cos(radians(turn))).plus(across, sin(radians(turn)))
    # From behind, the eye must be over the roof that rises before it.
    tilt = radians(min(TILT + laid.pitch, 75.0) if from_behind else TILT)
    towards = flat.scaled(cos(tilt)).plus(plumb, sin(tilt))
    right = plumb.cross(towards).unit()
    return Eye(right, towards.cross(right), towards)


def draw_folded(pen: Pen, piece: Piece, laid: LaidSet, room: Box) -> None:
    """Draws the folded piece inside `room`, as large as it allows."""
    pattern = piece.pattern
    if not pattern.faces:
        return
    eye = eye_for(piece, laid)
    shapes = []
    for face in pattern.faces:
        corners = tuple(pattern.polygon_in_space(face))
        normal = _normal(corners)
        if normal is not None:
            shapes.append(_Shape(corners, normal, is_let_in=face.role == "hook"))
    places = [eye.seen(v) for shape in shapes for v in shape.corners]
    walls = _walls(laid, max(v.z for v in pattern.folded))
    view = fitted(places, room.shrunk(1.0))
    clip = room
    for shape in _back_to_front([*walls, *shapes], eye):
        ring = view.all_on(eye.seen(v) for v in shape.corners)
        if shape.is_wall:
            kept = clipped(ring, clip)
            if kept:
                pen.path(kept, WALL_EDGE, closed=True, fill=0.93)
            continue
        facing = shape.normal.dot(eye.towards) > 0
        pen.path(ring, EDGE, closed=True, fill=WEATHER if facing else UNDER)


def _walls(laid: LaidSet, top: float) -> list[_Shape]:
    """The chimney's four walls and its cut top, plumb from the roof line up."""
    feet = laid.key_plan
    if not feet:
        return []
    plumb = Vec(0, sin(radians(laid.pitch)), cos(radians(laid.pitch)))
    height = top * 1.25 / max(plumb.z, 0.1)
    # Its top is cut level, over the highest foot.
    rise = max(v.y for v in feet) * plumb.y + height
    heads = [foot.plus(plumb, rise - foot.y * plumb.y) for foot in feet]
    shapes = []
    for i, foot in enumerate(feet):
        j = (i + 1) % len(feet)
        ring = (foot, feet[j], heads[j], heads[i])
        normal = _normal(ring)
        if normal is not None:
            shapes.append(_Shape(ring, normal, True))
    cap = _normal(tuple(heads))
    if cap is not None:
        shapes.append(_Shape(tuple(heads), cap, True))
    return shapes


def _normal(corners: Sequence[Vec]) -> Vec | None:
    """Unit normal by Newell's sum; None for a shape without area."""
    x = y = z = 0.0
    for a, b in zip(corners, (*corners[1:], corners[0]), strict=True):
        x += (a.y - b.y) * (a.z + b.z)
        y += (a.z - b.z) * (a.x + b.x)
        z += (a.x - b.x) * (a.y + b.y)
    total = Vec(x, y, z)
    return total.unit() if total.length() > 1e-6 else None


def _middle(places: Sequence[Vec]) -> Vec:
    xs = [v.x for v in places]
    ys = [v.y for v in places]
    zs = [v.z for v in places]
    return Vec(
        (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2, (min(zs) + max(zs)) / 2
    )


def _back_to_front(shapes: Sequence[_Shape], eye: Eye) -> list[_Shape]:
    """Each shape after all that it covers."""
    count = len(shapes)
    boxes = [_bounds([eye.seen(v) for v in shape.corners]) for shape in shapes]
    depth = [
        sum(v.dot(eye.towards) for v in shape.corners) / len(shape.corners)
        for shape in shapes
    ]
    behind: list[list[int]] = [[] for _ in shapes]  # behind[i]: drawn before i
    for i in range(count):
        for j in range(i):
            if not boxes[i].meets(boxes[j]):
                continue
            order = _in_front(shapes[i], shapes[j], eye)
            if order > 0:
                behind[i].append(j)
            elif order < 0:
                behind[j].append(i)
    drawn: list[int] = []
    state = [0] * count

    def draw(i: int) -> None:
        if state[i]:
            return
        state[i] = 1
        for j in sorted(behind[i], key=depth.__getitem__):
            draw(j)
        drawn.append(i)

    for i in sorted(range(count), key=lambda i: (not shapes[i].is_wall, depth[i])):
        draw(i)
    return [shapes[i] for i in drawn]


def _in_front(one: _Shape, two: _Shape, eye: Eye) -> int:
    """1 where one lies before two, -1 behind, 0 where the planes don't say.

    Metal lies before the wall it lies on.
    """
    if one.is_wall and two.is_let_in:
        return -1
    if two.is_wall and one.is_let_in:
        return 1
    tolerance = 0.05
    for a, b, sign in ((one, two, 1), (two, one, -1)):
        facing = b.normal.dot(eye.towards)
        if abs(facing) < 1e-9:
            continue
        sides = [v.minus(b.corners[0]).dot(b.normal) for v in a.corners]
        if all(abs(side) <= tolerance for side in sides):
            if a.is_wall != b.is_wall:
                return -sign if a.is_wall else sign
            continue
        towards = [side * facing for side in sides]
        if min(towards) >= -tolerance * abs(facing):
            return sign
        if max(towards) <= tolerance * abs(facing):
            return -sign
    return 0


def _bounds(points: Sequence[Point]) -> Box:
    xs = [p.x for p in points]
    ys = [p.y for p in points]
    return Box(min(xs), min(ys), max(xs), max(ys))


def clipped(ring: Sequence[Point], box: Box) -> list[Point]:
    """The part of a polygon inside a box (Sutherland and Hodgman, 1974)."""
    sides = (
        (Point(1, 0), box.left),
        (Point(-1, 0), -box.right),
        (Point(0, 1), box.bottom),
        (Point(0, -1), -box.top),
    )
    points = list(ring)
    for inward, least in sides:
        kept: list[Point] = []
        for a, b in zip(points, points[1:] + points[:1], strict=True):
            da, db = a.dot(inward) - least, b.dot(inward) - least
            if da >= 0:
                kept.append(a)
            if (da > 0 > db) or (da < 0 < db):
                kept.append(a.plus(b.minus(a), da / (da - db)))
        points = kept
        if not points:
            return []
    return points
