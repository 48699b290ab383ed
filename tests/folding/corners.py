"""Distances of a standing leg's corners from its crease, in the flat."""

from __future__ import annotations

from layout.folding.pattern import FlatPattern


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
