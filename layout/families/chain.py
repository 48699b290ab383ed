"""Strips side by side, folded along the lines between them.

Takes strips (widths at both ends) and the folds between neighbours, gives a
Sheet: what a profile, a valley or any bent length of metal is made of. The
bench's x axis runs along the length, strips are stacked along y.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, radians, sin

from layout.folding.pattern import Role
from layout.folding.sheet import Patch, Sheet
from layout.geometry.point import Point
from layout.geometry.space import Vec

BENCH = Patch(Point(0, 0), Point(1, 0), Vec(0, 0, 0), Vec(1, 0, 0), Vec(0, 1, 0))


@dataclass(frozen=True, slots=True)
class Strip:
    """near, far: widths at x = 0 and at the far end, mm.

    wall: which wall a strip of role "wall" lies on
    """

    name: str
    role: Role
    near: float
    far: float
    wall: str | None = None


@dataclass(frozen=True, slots=True)
class Between:
    """The fold between two strips. angle: degrees, up positive, 180 closed."""

    angle: float
    what: str


def chain(
    length: float,
    strips: Sequence[Strip],
    folds: Sequence[Between],
    root: int,
    place: Patch = BENCH,
) -> Sheet:
    """A sheet of strips; strip `root` lies in `place`, the others are folded
    from it outwards.

    length: mm; folds: one fewer than strips, in their order
    place: its v = 0 is the root's lower edge at x = 0
    Raises ValueError where the counts don't fit.
    """
    if len(folds) != len(strips) - 1:
        raise ValueError("a fold lies between every two strips")
    near, far = _stops([s.near for s in strips]), _stops([s.far for s in strips])
    base = Point(0, near[root])
    rings = [
        [
            Point(0, near[i]).minus(base),
            Point(length, far[i]).minus(base),
            Point(length, far[i + 1]).minus(base),
            Point(0, near[i + 1]).minus(base),
        ]
        for i in range(len(strips))
    ]
    sheet = Sheet()
    base_strip = strips[root]
    faces = {
        root: sheet.add(
            base_strip.name, base_strip.role, place, rings[root], base_strip.wall
        )
    }
    for i in range(root + 1, len(strips)):
        ends = rings[i - 1][2], rings[i - 1][3]
        faces[i] = _fold_on(
            sheet, faces[i - 1], ends, strips[i], rings[i], folds[i - 1]
        )
    for i in range(root - 1, -1, -1):
        ends = rings[i + 1][0], rings[i + 1][1]
        faces[i] = _fold_on(sheet, faces[i + 1], ends, strips[i], rings[i], folds[i])
    return sheet


def _stops(widths: Sequence[float]) -> list[float]:
    stops = [0.0]
    for width in widths:
        stops.append(stops[-1] + width)
    return stops


def _fold_on(
    sheet: Sheet,
    parent: int,
    ends: tuple[Point, Point],
    strip: Strip,
    ring: Sequence[Point],
    fold: Between,
) -> int:
    """Hangs a strip on the parent's edge; all places in the flat."""
    patch = sheet.parts[parent].patch
    a, b = (patch.local_from_flat(p) for p in ends)
    out = patch.lift(b.minus(a).unit().left().scaled(-1))
    angle = radians(fold.angle)
    towards = out.scaled(cos(angle)).plus(patch.normal(), sin(angle))
    child = sheet.hang(parent, a, b, towards)
    local = [child.local_from_flat(p) for p in ring]
    face = sheet.add(strip.name, strip.role, child, local, strip.wall)
    closed = 0
    if abs(fold.angle) > 180 - 1e-9:
        closed = 1 if fold.angle > 0 else -1
    sheet.join(parent, face, *ends, fold.what, closed)
    return face
