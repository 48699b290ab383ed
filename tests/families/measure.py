"""Measures taken on laid-out pieces, as one would with tape and protractor."""

from __future__ import annotations

from math import acos, degrees

from layout.folding.pattern import Crease, Face, FlatPattern
from layout.geometry.point import Point, angle_between
from layout.geometry.space import Vec


def face_named(pattern: FlatPattern, name: str) -> Face:
    """The face of that name. Raises StopIteration where there is none."""
    return next(face for face in pattern.faces if face.name == name)


def places(pattern: FlatPattern, name: str) -> list[Vec]:
    """Corners of a face on the roof."""
    return pattern.polygon_in_space(face_named(pattern, name))


def flat(pattern: FlatPattern, name: str) -> list[Point]:
    """Corners of a face in the flat."""
    return pattern.polygon(face_named(pattern, name))


def creases_between(pattern: FlatPattern, one: str, two: str) -> list[Crease]:
    """The creases two faces share."""
    wanted = {one, two}
    return [
        c for c in pattern.creases if {pattern.faces[f].name for f in c.faces} == wanted
    ]


def fold_between(pattern: FlatPattern, one: str, two: str) -> float:
    """The fold angle between two faces, degrees."""
    angles = {round(c.angle, 9) for c in creases_between(pattern, one, two)}
    assert len(angles) == 1, angles
    return angles.pop()


def vertices_at(pattern: FlatPattern, place: Vec) -> list[int]:
    """All vertices that land at a place on the roof."""
    return [i for i, p in enumerate(pattern.folded) if p.minus(place).length() < 1e-6]


def sector(pattern: FlatPattern, name: str, place: Vec) -> float:
    """Degrees of the flat a face takes at the corner that lands at `place`."""
    face = face_named(pattern, name)
    at = next(i for i in vertices_at(pattern, place) if i in face.corners)
    return sector_of(pattern, face, at)


def sector_of(pattern: FlatPattern, face: Face, vertex: int) -> float:
    """Degrees of the flat a face takes at one of its vertices, 0 to 360."""
    ring = face.corners
    at = ring.index(vertex)
    here = pattern.vertices[vertex]
    before = pattern.vertices[ring[at - 1]].minus(here)
    after = pattern.vertices[ring[(at + 1) % len(ring)]].minus(here)
    return angle_between(after, before) % 360


def between(one: Vec, other: Vec) -> float:
    """Degrees between two directions, 0 to 180."""
    return degrees(acos(max(-1.0, min(1.0, one.unit().dot(other.unit())))))


def sides(ring: list[Vec]) -> list[float]:
    """Lengths of a polygon's sides, shortest first."""
    return sorted(
        q.minus(p).length() for p, q in zip(ring, ring[1:] + ring[:1], strict=True)
    )
