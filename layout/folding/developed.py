"""The flat of thick metal: every fold line moved by the fold's allowance.

Takes a proven pattern of metal without thickness, gives the pattern to cut.
Each fold takes up its allowance between its two faces, half on either side:
the face beyond it moves, and the fold line lies midway.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from layout.folding.allowance import Bend, Faces, Rule, correction
from layout.folding.pattern import Crease, FlatPattern
from layout.folding.sheet import cut_outlines
from layout.geometry.point import Point
from layout.geometry.tolerance import EPS

Line = tuple[Point, Point]


def developed(
    pattern: FlatPattern, bend: Bend, rule: Rule, faces: Faces | None = None
) -> FlatPattern:
    """The same pattern with every fold's allowance taken up in the flat.

    faces: what legs are measured to; None means the face that touches the
    building: the outside of a fold up, the inside of a fold down
    """
    if rule == "none" or not pattern.faces:
        return pattern
    shifts = _shifts(pattern, lambda crease: _taken(crease, bend, rule, faces))
    moved = [_moved(pattern, shifts, i) for i in range(len(pattern.vertices))]
    low = Point(min(p.x for p in moved), min(p.y for p in moved))
    placed = tuple(p.minus(low) for p in moved)
    new = replace(
        pattern,
        vertices=placed,
        outlines=tuple(cut_outlines(placed, pattern.faces, pattern.creases)),
    )
    return _lines_follow(pattern, new)


def _taken(crease: Crease, bend: Bend, rule: Rule, faces: Faces | None) -> float:
    """Nothing at a line that stays flat."""
    if abs(crease.angle) < EPS:
        return 0.0
    touching: Faces = "outside" if crease.angle > 0 else "inside"
    return correction(abs(crease.angle), bend, rule, faces or touching)


def _shifts(pattern: FlatPattern, taken: Callable[[Crease], float]) -> list[Point]:
    """How far each face moves in the flat; the first stays."""
    shifts: dict[int, Point] = {0: Point(0, 0)}
    waiting = [0]
    while waiting:
        here = waiting.pop(0)
        # Pockets close a ring of faces; they follow the legs beside them.
        ordered = sorted(
            (c for c in pattern.creases if here in c.faces),
            key=lambda c: c.what == "pocket",
        )
        for crease in ordered:
            there = crease.faces[1] if crease.faces[0] == here else crease.faces[0]
            if there in shifts:
                continue
            out = _away(pattern, crease, here)
            shifts[there] = shifts[here].plus(out, taken(crease))
            waiting.append(there)
    return [shifts[i] for i in range(len(pattern.faces))]


def _away(pattern: FlatPattern, crease: Crease, face: int) -> Point:
    """Unit direction in the flat, square to a crease, away from the face."""
    along = pattern.vertices[crease.b].minus(pattern.vertices[crease.a]).unit()
    corners = pattern.faces[face].corners
    i = corners.index(crease.a)
    runs = corners[(i + 1) % len(corners)] == crease.b
    return along.left().scaled(-1 if runs else 1)


def _moved(pattern: FlatPattern, shifts: list[Point], vertex: int) -> Point:
    """A vertex goes with its faces; on fold lines it stays on the moved ones."""
    place = pattern.vertices[vertex]
    own = [i for i, face in enumerate(pattern.faces) if vertex in face.corners]
    mean = Point(
        sum(shifts[i].x for i in own) / len(own),
        sum(shifts[i].y for i in own) / len(own),
    )
    lines: list[Line] = []
    for crease in pattern.creases:
        if vertex in (crease.a, crease.b):
            one, two = (shifts[i] for i in crease.faces)
            half = one.plus(two).scaled(0.5)
            along = pattern.vertices[crease.b].minus(pattern.vertices[crease.a]).unit()
            lines.append((place.plus(half), along))
    return _nearest_to(lines, place.plus(mean))


def _nearest_to(lines: list[Line], wished: Point) -> Point:
    """The place nearest to all lines (least squares), else to the wished one."""
    a = b = c = p = q = 0.0
    for on, along in lines:
        n = along.left()
        a, b, c = a + n.x * n.x, b + n.x * n.y, c + n.y * n.y
        p, q = p + n.x * n.dot(on), q + n.y * n.dot(on)
    # A whisper of the wish decides what the lines leave open.
    whisper = 1e-6
    a, c = a + whisper, c + whisper
    p, q = p + whisper * wished.x, q + whisper * wished.y
    det = a * c - b * b
    return Point((p * c - q * b) / det, (a * q - b * p) / det)


def _lines_follow(old: FlatPattern, new: FlatPattern) -> FlatPattern:
    """Roof lines, sweeps and joint lines moved as the vertices beside them."""

    def move(p: Point) -> Point:
        nearest = sorted((p.minus(v).length(), i) for i, v in enumerate(old.vertices))[
            :2
        ]
        (near, i), (far, j) = nearest
        shift_i = new.vertices[i].minus(old.vertices[i])
        if near < EPS:
            return p.plus(shift_i)
        shift_j = new.vertices[j].minus(old.vertices[j])
        share = near / (near + far)
        return p.plus(shift_i, 1 - share).plus(shift_j, share)

    return replace(
        new,
        roof_lines=tuple(line.moved(move) for line in old.roof_lines),
        sweeps=tuple(sweep.moved(move) for sweep in old.sweeps),
        joint_lines=tuple(line.moved(move) for line in old.joint_lines),
    )
