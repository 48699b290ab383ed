"""What a corner of a pattern takes of the flat, measured on its vertices."""

from __future__ import annotations

from layout.folding.pattern import Face, FlatPattern
from layout.geometry.point import angle_between


def sector_at(pattern: FlatPattern, face: Face, vertex: int) -> float:
    """Degrees a face takes at one of its corners, 0 to 360."""
    ring = face.corners
    at = ring.index(vertex)
    here = pattern.vertices[vertex]
    before = pattern.vertices[ring[at - 1]].minus(here)
    after = pattern.vertices[ring[(at + 1) % len(ring)]].minus(here)
    return angle_between(after, before) % 360


def developed(pattern: FlatPattern, leg: str, turn: str, height: float) -> set[float]:
    """Distances from the crease, in the flat, of the corners of a leg and its
    turn that stand `height` mm up the wall once folded."""
    faces = {face.name: face for face in pattern.faces}
    found: set[float] = set()
    crease = next(
        c
        for c in pattern.creases
        if pattern.faces[c.faces[1]].name == leg and c.what == "leg"
    )
    a, b = pattern.vertices[crease.a], pattern.vertices[crease.b]
    along = b.minus(a).unit()
    for name in (leg, turn):
        for i in faces[name].corners:
            arm = pattern.vertices[i].minus(a)
            reach = max(b.minus(a).dot(along), 0.0)
            if abs(pattern.folded[i].z - height) < 1e-9 and reach:
                found.add(round(abs(along.cross(arm)), 9))
    return found
