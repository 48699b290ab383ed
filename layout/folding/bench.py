"""What the bench reads: folds in order, and marks from the datum corner.

Takes a FlatPattern, gives Fold and Mark values.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import radians, sin
from typing import Literal

from layout.folding.pattern import Crease, FlatPattern
from layout.folding.result import Fold, Mark
from layout.geometry import outline
from layout.geometry.point import Point
from layout.geometry.tolerance import EPS

# Small edges first, while the rest is still flat and easy to hold; the large
# faces last; pockets are closed by hand when both their legs stand. Common
# practice, no source. The search over a real brake's section is fold order.
SEQUENCE = (
    "hem", "turn-up", "drip", "hook", "leg", "corner", "ridge", "valley",
    "trough", "upstand", "pocket",
)  # fmt: skip

BlankEdge = Literal["datum", "far", "left", "right"]

BY_HAND = frozenset({"pocket"})


def folds(pattern: FlatPattern) -> tuple[Fold, ...]:
    """The folds made at the bench, in order. Creases in line are one fold."""
    runs = [_Run(c, pattern) for c in pattern.creases if abs(c.angle) > EPS]
    joined: list[_Run] = []
    for run in runs:
        for other in joined:
            if other.takes(run):
                break
        else:
            joined.append(run)
    joined.sort(key=lambda r: (SEQUENCE.index(r.what), r.a.y, r.a.x))
    return tuple(
        Fold(
            order,
            (run.a, run.b),
            abs(run.angle),
            "up" if run.angle > 0 else "down",
            "hand" if run.what in BY_HAND else "brake",
            run.what,
        )
        for order, run in enumerate(joined, start=1)
    )


class _Run:
    """Creases on one line, folded together by one turn of the leaf."""

    def __init__(self, crease: Crease, pattern: FlatPattern) -> None:
        ends = pattern.vertices[crease.a], pattern.vertices[crease.b]
        self.a, self.b = sorted(ends, key=lambda p: (round(p.x, 6), p.y))
        self.angle, self.what = crease.angle, crease.what

    def takes(self, other: _Run) -> bool:
        """Adds a run that goes on from this one; False where it does not."""
        if abs(self.angle - other.angle) > EPS:
            return False
        # The brake makes its own part of the line; a pocket is closed by hand.
        if (self.what in BY_HAND) != (other.what in BY_HAND):
            return False
        along = self.b.minus(self.a).unit()
        for p in (other.a, other.b):
            if abs(along.cross(p.minus(self.a))) > EPS:
                return False
        spans = sorted((p.minus(self.a).dot(along), p) for p in (other.a, other.b))
        size = self.b.minus(self.a).length()
        if spans[0][0] > size + EPS or spans[1][0] < -EPS:
            return False
        every = sorted(
            [(0.0, self.a), (size, self.b), *spans], key=lambda pair: pair[0]
        )
        self.a, self.b = every[0][1], every[-1][1]
        if SEQUENCE.index(other.what) > SEQUENCE.index(self.what):
            self.what = other.what
        return True


def marks(pattern: FlatPattern, made: Sequence[Fold]) -> tuple[Mark, ...]:
    """Running distances from the datum corner, for every fold and cut corner.

    A fold line is marked where it, drawn on, meets two edges of the blank:
    two points make a line. A corner is marked by its distance along the
    datum edge and along the left edge.
    """
    width, length = pattern.size()
    found: list[Mark] = []
    for fold in made:
        for edge, at in _border(fold.line, width, length):
            far = at.x if edge in ("datum", "far") else at.y
            found.append(Mark(edge, far, f"fold {fold.order}", at))
    for number, corner in enumerate(sharp_corners(pattern.outline), start=1):
        found.append(Mark("datum", corner.x, f"corner {number}", corner))
        found.append(Mark("left", corner.y, f"corner {number}", corner))
    return tuple(found)


def _border(
    ends: tuple[Point, Point], width: float, length: float
) -> Iterable[tuple[BlankEdge, Point]]:
    """Where a line, drawn on both ways, leaves the blank: two places."""
    a, b = ends
    along = b.minus(a)
    hits: list[tuple[float, BlankEdge, Point]] = []
    if abs(along.y) > EPS:
        across: tuple[tuple[BlankEdge, float], ...] = (("datum", 0.0), ("far", length))
        for edge, y in across:
            t = (y - a.y) / along.y
            hits.append((t, edge, Point(a.x + along.x * t, y)))
    if abs(along.x) > EPS:
        upright: tuple[tuple[BlankEdge, float], ...] = (("left", 0.0), ("right", width))
        for edge, x in upright:
            t = (x - a.x) / along.x
            hits.append((t, edge, Point(x, a.y + along.y * t)))
    inside = [
        (t, edge, p)
        for t, edge, p in hits
        if -EPS <= p.x <= width + EPS and -EPS <= p.y <= length + EPS
    ]
    inside.sort(key=lambda hit: hit[0])
    for _, edge, place in (inside[0], inside[-1]):
        yield edge, place


def sharp_corners(ring: Sequence[Point], least: float = 8.0) -> list[Point]:
    """Corners of an outline that a tape can find: turns of 8 degrees or more.

    The short chords of a sweep turn by less; they are scribed from the
    template. least: degrees.
    """
    points = outline.without_repeats(ring)
    limit = sin(radians(least))
    found = []
    for i, p in enumerate(points):
        before = p.minus(points[i - 1]).unit()
        after = points[(i + 1) % len(points)].minus(p).unit()
        if abs(before.cross(after)) > limit or before.dot(after) < 0:
            found.append(p)
    return found
