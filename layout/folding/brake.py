"""The shop's brake in section: can one fold be made with what is folded so far.

Fold line at the origin. The clamped metal runs back along -x between jaw
(above) and bed (below); the metal in front lies on the leaf along +x and is
swung up. A fold down is made with the sheet turned over.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from functools import lru_cache

from layout.folding.facts import BrakeFacts
from layout.folding.section import Section
from layout.geometry import outline
from layout.geometry.point import Point

Shape = tuple[Point, ...]

JAW: tuple[Shape, ...] = (
    (Point(0, 0), Point(-45, 25), Point(-110, 25), Point(-110, 0)),
    (Point(-45, 25), Point(-60, 70), Point(-110, 70), Point(-110, 25)),
)
"""A hollow-ground nose, as convex parts, counter-clockwise, mm. Common
practice, no source; every shop enters its own."""
BED: tuple[Shape, ...] = (
    (Point(0, 0), Point(-110, 0), Point(-110, -80), Point(0, -80)),
)
LEAF: tuple[Shape, ...] = ((Point(0, 0), Point(0, -40), Point(60, -40), Point(60, 0)),)

CRUSH_FROM = 120.0
"""A closed fold is swung this far before it is crushed, degrees. Common
practice, no source."""
STEP = 10.0
"""Degrees between the places of a swing that are looked at. Our own bound."""
TOUCH = 0.5
"""Metal may touch a tool, or enter it by this little, mm: it springs. Our own
bound."""


def fits(
    section: Section, fold: int, done: Collection[int], forward: bool, brake: BrakeFacts
) -> bool:
    """True when the fold can be made now.

    fold: position in the section; done: positions already folded
    forward: the side of higher strips lies on the leaf
    """
    over = section.angles[fold] < 0
    front = section.arm(fold, done, forward, over)
    back = [Point(-p.x, p.y) for p in section.arm(fold, done, not forward, over)]
    if _straight(front) < brake.smallest_flange - TOUCH:
        return False
    if _straight(back) < brake.clamp - TOUCH:
        return False
    if max(-p.x for p in back) > brake.throat:
        return False
    jaw, bed = brake.jaw or JAW, brake.bed or BED
    if _meets(back, (*jaw, *bed), skip=1) or _meets(front, brake.leaf or LEAF, skip=1):
        return False
    return not _swings_into(front, abs(section.angles[fold]), (*jaw, *bed))


def _straight(arm: Sequence[Point]) -> float:
    """How far the metal runs straight on from the fold line, mm."""
    return max(abs(p.x) for p in arm if abs(p.y) < 1e-6)


def _swings_into(front: Sequence[Point], angle: float, tools: Sequence[Shape]) -> bool:
    """True when metal in front meets jaw or bed while the leaf swings.

    A hem is swung past square, then crushed.
    """
    last = CRUSH_FROM if angle >= 180 else angle
    if last <= 90 and len(front) < 3:
        return False
    swing = STEP
    while swing < last:
        if _meets([p.turned(swing) for p in front], tools, skip=0):
            return True
        swing += STEP
    return _meets([p.turned(last) for p in front], tools, skip=0)


def _meets(path: Sequence[Point], shapes: Sequence[Shape], skip: int) -> bool:
    """True when a broken line, but for its first `skip` stretches, enters one
    of the convex shapes by more than a touch."""
    for a, b in zip(path[skip:], path[skip + 1 :], strict=False):
        for shape in shapes:
            left, low, right, high = _box(shape)
            if (a.x <= left and b.x <= left) or (a.x >= right and b.x >= right):
                continue
            if (a.y <= low and b.y <= low) or (a.y >= high and b.y >= high):
                continue
            if _inside_length(a, b, shape) > TOUCH:
                return True
    return False


_box = lru_cache(maxsize=64)(outline.bounds)


def _inside_length(a: Point, b: Point, shape: Shape) -> float:
    """Length of the segment a-b more than a touch inside a convex shape, mm."""
    along = b.minus(a)
    size = along.length()
    if size == 0:
        return 0.0
    enters, leaves = 0.0, 1.0
    for corner, into in _sides(shape):
        depth, growth = into.dot(a.minus(corner)) - TOUCH, into.dot(along)
        if abs(growth) < 1e-12:
            if depth < 0:
                return 0.0
        elif growth > 0:
            enters = max(enters, -depth / growth)
        else:
            leaves = min(leaves, -depth / growth)
        if enters >= leaves:
            return 0.0
    return (leaves - enters) * size


@lru_cache(maxsize=64)
def _sides(shape: Shape) -> tuple[tuple[Point, Point], ...]:
    """A corner and the unit direction inwards for each side of a convex shape."""
    ends = zip(shape, shape[1:] + shape[:1], strict=True)
    return tuple((p, q.minus(p).unit().left()) for p, q in ends)
