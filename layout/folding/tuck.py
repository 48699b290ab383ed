"""Tucking away the spare metal where two flanges of one base meet.

Takes a sheet with two flanges folded from neighbouring edges of a flat base,
gives the two faces of the pocket between them (corner.py), folded together
behind the second flange. Nothing is cut or notched up to the flanges' height.
"""

from __future__ import annotations

from math import cos, radians, tan

from layout.folding import corner
from layout.folding.sheet import Patch, Sheet
from layout.geometry import outline
from layout.geometry.point import Point
from layout.geometry.space import Vec, angle_in_space

WIDEST = 60.0
"""Half a pocket wider than this, degrees, is trimmed to a straight edge: its
tip would reach further than twice the flange's height (1 / cos 60° = 2)."""


def tuck(
    sheet: Sheet, name: str, base: int, at: Vec, one: int, two: int, height: float
) -> corner.Pocket:
    """Folds the spare metal between two flanges away, behind the second.

    at: the base's corner, in space; one, two: the flanges on its edges
    height: how far up the shared line the pocket goes, mm: no flange is lower
    Raises NeedsSeam at an outside corner, CannotFold where the second flange
    is too short for the pocket to lie behind it.
    """
    edges = [_edge(sheet, base, at, flange) for flange in (one, two)]
    (edge1, into1), (edge2, into2) = edges
    taken = angle_in_space(edge1, edge2)
    if not _is_convex(sheet, base, at):
        taken = 360 - taken
    found = corner.pocket(taken, edge1, into1, edge2, into2)
    if found.spare:
        _Tucking(sheet, name, at, one, two, height, found, edge2).build()
    return found


def _edge(sheet: Sheet, base: int, at: Vec, flange: int) -> tuple[Vec, Vec]:
    """Unit directions from the corner: along the flange's edge, and into it."""
    hinge = next(h for h in sheet.hinges if (h.one, h.two) == (base, flange))
    patch = sheet.parts[base].patch
    a, b = (patch.space(patch.local_from_flat(p)) for p in (hinge.a, hinge.b))
    far = max((a, b), key=lambda p: p.minus(at).length())
    along = far.minus(at).unit()
    points = map(sheet.parts[flange].patch.space, sheet.parts[flange].points)
    arms = [p.minus(at) for p in points]
    into = max((arm.plus(along, -arm.dot(along)) for arm in arms), key=Vec.length)
    return along, into.unit()


def _is_convex(sheet: Sheet, base: int, at: Vec) -> bool:
    """True where the base's corner is less than 180 degrees."""
    part = sheet.parts[base]
    ring, place = part.points, part.patch.local(at)
    i = min(range(len(ring)), key=lambda k: ring[k].minus(place).length())
    after = ring[(i + 1) % len(ring)].minus(ring[i])
    return ring[i].minus(ring[i - 1]).cross(after) > 0


class _Tucking:
    """Works from the corner: c runs up the shared line, s into flange two."""

    def __init__(
        self,
        sheet: Sheet,
        name: str,
        at: Vec,
        one: int,
        two: int,
        height: float,
        found: corner.Pocket,
        edge2: Vec,
    ) -> None:
        self.sheet, self.name, self.at = sheet, name, at
        self.one, self.two, self.height = one, two, height
        self.c = found.shared
        self.s = edge2.plus(self.c, -edge2.dot(self.c)).unit()
        self.half = found.spare / 2
        self.beta2, self.edge2 = found.beta2, edge2

    def build(self) -> None:
        sheet, at = self.sheet, self.at
        first, second = (sheet.parts[f].patch for f in (self.one, self.two))
        corner_flat = first.flat(first.local(at))
        top = at.plus(self.c, self.height)
        top1, top2 = first.flat(first.local(top)), second.flat(second.local(top))
        middle = self._middle(corner_flat, top1, top2)
        self._check(middle.minus(corner_flat).length())
        tri1 = self._triangle("a", corner_flat, top1, middle)
        tri2 = self._triangle("b", corner_flat, top2, middle)
        sheet.join(self.one, tri1, corner_flat, top1, "pocket")
        sheet.join(tri1, tri2, corner_flat, middle, "pocket", closed=1)
        sheet.join(tri2, self.two, corner_flat, top2, "pocket", closed=-1)
        # The first lies behind the second, both behind the flange.
        sheet.layers.append((tri1, self.two, -1))

    def _middle(self, at: Point, top1: Point, top2: Point) -> Point:
        """The pocket's tip in the flat: on the line that halves it, square to
        both tops, so that it stands as high as they do once folded."""
        chord = top1.plus(top2).scaled(0.5).minus(at)
        if self.half > WIDEST:
            return at.plus(chord)
        return at.plus(chord.unit(), self.height / cos(radians(self.half)))

    def _check(self, reach: float) -> None:
        """The pocket must lie on the second flange, not beyond its edge."""
        ring = [
            p.minus(self.at)
            for p in map(
                self.sheet.parts[self.two].patch.space,
                self.sheet.parts[self.two].points,
            )
        ]
        room = max(arm.dot(self.s) for arm in ring)
        if self.half > WIDEST:
            wide = reach * tan(radians(self.half)) * cos(radians(self.half))
        else:
            wide = self.height * tan(radians(self.half))
        if self.half > self.beta2 or wide > room:
            raise corner.CannotFold(
                f"{self.name}: the pocket at a corner is {{0}} wide, the leg it lies "
                "behind only {1}; make the flange smaller",
                wide,
                room,
            )

    def _triangle(self, which: str, at: Point, top: Point, middle: Point) -> int:
        along = top.minus(at).unit()
        side = 1 if along.cross(middle.minus(at)) > 0 else -1
        patch = Patch(at, along, self.at, self.c, self.s.scaled(side))
        ring = [patch.local_from_flat(p) for p in (at, top, middle)]
        if outline.area(ring) < 0:
            ring.reverse()
        return self.sheet.add(f"{self.name} {which}", "pocket", patch, ring)
