"""Sections: a piece cut square to one direction of its folds.

Takes a FlatPattern and its folds, gives for each direction the chain of flat
strips with the folds between them, and the broken line the metal makes when
some of them are done.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from math import cos, radians, sin

from layout.folding.pattern import FlatPattern
from layout.folding.result import Fold
from layout.geometry.line import is_on_segment
from layout.geometry.point import Point
from layout.geometry.tolerance import EPS

PARALLEL = sin(radians(0.5))
"""Folds this near to parallel are folded in one section: an allowance, or a wall
out of square, turns them by less than a tape shows. Our own bound."""


@dataclass(frozen=True, slots=True)
class Section:
    """Strips side by side, all folds parallel.

    across: unit direction in the flat, square to the folds, from strip to strip
    widths: (n + 1) mm; folds: (n) indices into the piece's folds, in order
    angles: (n) degrees, up positive
    """

    across: Point
    widths: tuple[float, ...]
    folds: tuple[int, ...]
    angles: tuple[float, ...]

    def arm(
        self, fold: int, done: Collection[int], forward: bool, over: bool
    ) -> list[Point]:
        """The metal on one side of a fold, as a broken line from the origin.

        fold: position in this section; done: positions already folded
        forward: the side of higher strips, else of lower ones
        over: the sheet lies turned over
        The first strip runs along +x; up is +y.
        """
        strips = range(fold + 1, len(self.widths)) if forward else range(fold, -1, -1)
        place, heading = Point(0, 0), 0.0
        line = [place]
        for i in strips:
            turn = radians(heading)
            place = place.plus(Point(cos(turn), sin(turn)), self.widths[i])
            line.append(place)
            beyond = i if forward else i - 1
            if 0 <= beyond < len(self.folds) and beyond in done:
                heading += -self.angles[beyond] if over else self.angles[beyond]
        return line


def sections(pattern: FlatPattern, folds: Sequence[Fold]) -> list[Section]:
    """One section for each direction in which the piece has brake folds."""
    groups: list[tuple[Point, list[int]]] = []
    for index, fold in enumerate(folds):
        if fold.where != "brake":
            continue
        along = fold.line[1].minus(fold.line[0]).unit()
        for direction, members in groups:
            if abs(direction.cross(along)) < PARALLEL:
                members.append(index)
                break
        else:
            groups.append((along, [index]))
    return [_section(pattern, folds, along, members) for along, members in groups]


def _section(
    pattern: FlatPattern, folds: Sequence[Fold], along: Point, members: list[int]
) -> Section:
    across = along.left()
    if across.x < -EPS or (abs(across.x) <= EPS and across.y < 0):
        across = across.scaled(-1)
    offset = {i: _middle(folds[i]).dot(across) for i in members}
    ordered = sorted(members, key=lambda i: (offset[i], i))
    low = offset[ordered[0]] - _reach(pattern, folds[ordered[0]], across, -1)
    high = offset[ordered[-1]] + _reach(pattern, folds[ordered[-1]], across, 1)
    stops = [low, *(offset[i] for i in ordered), high]
    widths = tuple(b - a for a, b in zip(stops, stops[1:], strict=False))
    angles = tuple(
        folds[i].angle if folds[i].direction == "up" else -folds[i].angle
        for i in ordered
    )
    return Section(across, widths, tuple(ordered), angles)


def _middle(fold: Fold) -> Point:
    return fold.line[0].plus(fold.line[1]).scaled(0.5)


def _reach(pattern: FlatPattern, fold: Fold, across: Point, side: int) -> float:
    """How far the faces hung on a fold go off to one side, mm."""
    base = _middle(fold).dot(across)
    deepest = 0.0
    for crease in pattern.creases:
        a, b = pattern.vertices[crease.a], pattern.vertices[crease.b]
        if abs(crease.angle) < EPS:
            continue
        if not (is_on_segment(a, *fold.line) and is_on_segment(b, *fold.line)):
            continue
        for face in crease.faces:
            ring = pattern.faces[face].corners
            follows = ring[(ring.index(crease.a) + 1) % len(ring)] == crease.b
            inward = b.minus(a).left().scaled(1 if follows else -1)
            if inward.dot(across) * side > 0:
                reach = (
                    side * (p.dot(across) - base)
                    for p in pattern.polygon(pattern.faces[face])
                )
                deepest = max(deepest, *reach)
    return deepest
