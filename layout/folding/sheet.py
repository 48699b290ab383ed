"""A sheet under construction: faces placed in the flat and on the roof at once.

Takes faces and the edges they hang on, gives a FlatPattern. Each face lies in
a Patch: a plane of its own (s, t) with its place in the flat and in space, so
that a face is the same polygon in both: isometric by construction. The proof
(proof.py) does not trust this; it folds the flat again by the angles alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from math import atan2, degrees, tau
from typing import NamedTuple

from layout.folding.corner import CannotFold
from layout.folding.pattern import (
    Crease,
    Face,
    FlatPattern,
    JointLine,
    Role,
    RoofLine,
    Sweep,
)
from layout.geometry import line, outline
from layout.geometry.point import Point
from layout.geometry.space import Vec
from layout.geometry.tolerance import EPS


class Patch(NamedTuple):
    """A plane with axes (u, v), its place in the flat (2) and in space (3).

    v is u turned 90 degrees counter-clockwise, seen from the weather side.
    """

    flat_origin: Point
    flat_u: Point
    origin: Vec
    u: Vec
    v: Vec

    def flat(self, p: Point) -> Point:
        return self.flat_origin.plus(self.flat_u, p.x).plus(self.flat_u.left(), p.y)

    def space(self, p: Point) -> Vec:
        return self.origin.plus(self.u, p.x).plus(self.v, p.y)

    def lift(self, direction: Point) -> Vec:
        """A direction of the patch, in space."""
        return self.u.scaled(direction.x).plus(self.v, direction.y)

    def normal(self) -> Vec:
        """Unit direction out of the weather side."""
        return self.u.cross(self.v)

    def local(self, place: Vec) -> Point:
        """A place in space on this plane, in the patch's own axes."""
        arm = place.minus(self.origin)
        return Point(arm.dot(self.u), arm.dot(self.v))

    def local_from_flat(self, place: Point) -> Point:
        arm = place.minus(self.flat_origin)
        return Point(arm.dot(self.flat_u), arm.dot(self.flat_u.left()))

    def local_direction(self, direction: Vec) -> Point:
        return Point(direction.dot(self.u), direction.dot(self.v))


ROOF = Patch(Point(0, 0), Point(1, 0), Vec(0, 0, 0), Vec(1, 0, 0), Vec(0, 1, 0))
"""The roof plane itself, flat and folded alike."""


@dataclass(slots=True)
class Part:
    """A face being built: its polygon in its patch's axes."""

    name: str
    role: Role
    patch: Patch
    points: list[Point]
    wall: str | None = None


@dataclass(slots=True)
class Hinge:
    """An edge two parts share, by its ends in the flat."""

    one: int
    two: int
    a: Point
    b: Point
    angle: float
    what: str


@dataclass(slots=True)
class Sheet:
    """Collects parts and hinges; `pattern()` joins them into one mesh."""

    parts: list[Part] = field(default_factory=list)
    hinges: list[Hinge] = field(default_factory=list)
    layers: list[tuple[int, int, int]] = field(default_factory=list)
    roof_lines: list[RoofLine] = field(default_factory=list)
    sweeps: list[Sweep] = field(default_factory=list)
    joint_lines: list[JointLine] = field(default_factory=list)

    def add(
        self,
        name: str,
        role: Role,
        patch: Patch,
        points: Iterable[Point],
        wall: str | None = None,
    ) -> int:
        """Adds a face; returns its index. points: counter-clockwise, local."""
        ring = outline.without_repeats([Point(*p) for p in points])
        if len(ring) < 3 or outline.area(ring) < EPS:
            raise CannotFold(f"{name}: its measures leave no metal in it")
        self.parts.append(Part(name, role, patch, ring, wall))
        return len(self.parts) - 1

    def add_folded(
        self,
        name: str,
        role: Role,
        patch: Patch,
        places: Iterable[Vec],
        wall: str | None = None,
    ) -> int:
        """Adds a face by its places in space, in either sense of rotation."""
        ring = [patch.local(place) for place in places]
        if outline.area(ring) < 0:
            ring.reverse()
        return self.add(name, role, patch, ring, wall)

    def hang_face(
        self,
        name: str,
        role: Role,
        on: int,
        a: Vec,
        b: Vec,
        places: Iterable[Vec],
        what: str,
        wall: str | None = None,
        closed: int = 0,
    ) -> int:
        """A face hung on the edge a-b of part `on`, by its places in space.

        places: all its corners, a and b among them.
        """
        corners = list(places)
        parent = self.parts[on].patch
        ends = parent.local(a), parent.local(b)
        if not runs_with(self.parts[on].points, *ends):
            ends = ends[::-1]
        along = b.minus(a).unit()
        arms = [p.minus(a).plus(along, -p.minus(a).dot(along)) for p in corners]
        patch = self.hang(on, *ends, max(arms, key=Vec.length))
        face = self.add_folded(name, role, patch, corners, wall)
        self.join(on, face, parent.flat(ends[0]), parent.flat(ends[1]), what, closed)
        return face

    def strip(
        self,
        name: str,
        role: Role,
        on: int,
        a: Vec,
        b: Vec,
        across: Vec,
        what: str,
        wall: str | None = None,
        closed: int = 0,
    ) -> int:
        """A four-cornered face on the edge a-b, going off by `across` (mm)."""
        corners = [a, b, b.plus(across), a.plus(across)]
        return self.hang_face(name, role, on, a, b, corners, what, wall, closed)

    def joint_line(
        self, name: str, face: int, a: Vec, b: Vec, leg: float = 0.0
    ) -> None:
        """Names the line a-b (in space, on that face) as one side of a joint."""
        patch = self.parts[face].patch
        ends = patch.flat(patch.local(a)), patch.flat(patch.local(b))
        self.joint_lines.append(JointLine(name, face, ends, leg))

    def join(
        self,
        one: int,
        two: int,
        a: Point,
        b: Point,
        what: str,
        closed: int = 0,
    ) -> None:
        """Makes the flat segment a-b a crease between two faces.

        closed: +1 or -1 says which way a fold of 180 degrees is closed
        (valley or mountain); the two look alike in space.
        """
        angle = self._angle(one, two, a, b)
        if closed:
            if abs(abs(angle) - 180) > EPS:
                raise ValueError(f"{what}: the fold is not closed")
            angle = 180.0 * closed
            self.layers.append((two, one, closed))
        self.hinges.append(Hinge(one, two, a, b, angle, what))

    def join_along(self, one: int, two: int, path: Sequence[Point], what: str) -> None:
        """Makes every stretch of a flat path a crease between two faces.

        The faces lie in one plane where the path is not straight, so its first
        stretch has the angle of them all.
        """
        angle = self._angle(one, two, path[0], path[1])
        for a, b in zip(path, path[1:], strict=False):
            self.hinges.append(Hinge(one, two, a, b, angle, what))

    def _angle(self, one: int, two: int, a: Point, b: Point) -> float:
        """Turn of face two about a-b against face one, from their places."""
        first, second = self.parts[one].patch, self.parts[two].patch
        ends = first.local_from_flat(a), first.local_from_flat(b)
        # With face one on the left of a-b, both look across it to the right.
        side = -1 if runs_with(self.parts[one].points, *ends) else 1
        out = first.lift(ends[1].minus(ends[0]).unit().left().scaled(side))
        along = second.local_from_flat(b).minus(second.local_from_flat(a)).unit()
        into = second.lift(along.left().scaled(side))
        angle = degrees(atan2(into.dot(first.normal()), into.dot(out)))
        return 0.0 if abs(angle) < 1e-12 else angle

    def hang(self, on: int, a: Point, b: Point, towards: Vec) -> Patch:
        """A patch hung on the local edge a-b of part `on` (counter-clockwise
        there), going off in the space direction `towards`.

        Its origin is b, its u axis runs from b to a, v away from the parent.
        """
        parent = self.parts[on].patch
        back = a.minus(b).unit()
        flat_u = parent.flat_u.scaled(back.x).plus(parent.flat_u.left(), back.y)
        return Patch(
            parent.flat(b), flat_u, parent.space(b), parent.lift(back), towards.unit()
        )

    def pattern(self) -> FlatPattern:
        """The finished mesh, moved so that the datum corner is the origin."""
        return _Mesh(self).pattern()


def runs_with(points: Sequence[Point], a: Point, b: Point) -> bool:
    """True when the counter-clockwise outline runs from a to b, not b to a.

    All in one patch's axes. Raises CannotFold where a-b is no edge of it.
    """
    middle = a.plus(b).scaled(0.5)
    for i, p in enumerate(points):
        q = points[(i + 1) % len(points)]
        if line.is_on_segment(middle, p, q):
            return q.minus(p).dot(b.minus(a)) > 0
    raise CannotFold("a crease is not an edge of the face it hangs on")


class _Mesh:
    """Shares vertices along hinges only, so slits keep both their lips."""

    def __init__(self, sheet: Sheet) -> None:
        self.sheet = sheet
        self.rings = [[part.patch.flat(p) for p in part.points] for part in sheet.parts]
        self.owner: dict[tuple[int, int], tuple[int, int]] = {}
        self.stretches: list[list[Point]] = [[] for _ in sheet.hinges]
        counts = [(0, 0)] * len(sheet.hinges)
        again = True
        while again:
            # A later hinge may have put a corner on an earlier one's line.
            again = False
            for i, hinge in enumerate(sheet.hinges):
                one, two = self.rings[hinge.one], self.rings[hinge.two]
                if counts[i] != (len(one), len(two)):
                    self.stretches[i] = self._split(hinge)
                    counts[i] = len(one), len(two)
                    again = True
        self.runs: list[list[int]] = []
        for hinge, stops in zip(sheet.hinges, self.stretches, strict=True):
            run = [self._corner(hinge.one, stop) for stop in stops]
            for here, stop in zip(run, stops, strict=True):
                there = self._corner(hinge.two, stop)
                self._unite((hinge.one, here), (hinge.two, there))
            self.runs.append(run)

    def _split(self, hinge: Hinge) -> list[Point]:
        """All corners of both faces along the hinge, in order, put into both."""
        ax, ay = hinge.a
        dx, dy = hinge.b.x - ax, hinge.b.y - ay
        stops = [hinge.a, hinge.b]
        for ring in (hinge.one, hinge.two):
            stops += line.on_segment(self.rings[ring], hinge.a, hinge.b)
        stops.sort(key=lambda p: (p.x - ax) * dx + (p.y - ay) * dy)
        ordered = outline.without_repeats(stops)
        for ring in (hinge.one, hinge.two):
            for stop in ordered:
                self._corner(ring, stop)
        return ordered

    def _corner(self, face: int, place: Point) -> int:
        """Index of the face's corner at a place, put in where there is none."""
        ring = self.rings[face]
        px, py = place
        for i, (x, y) in enumerate(ring):
            if -EPS < x - px < EPS and -EPS < y - py < EPS:
                return i
        for i, p in enumerate(ring):
            if line.is_on_segment(place, p, ring[(i + 1) % len(ring)]):
                ring.insert(i + 1, place)
                return i + 1
        raise CannotFold(
            f"{self.sheet.parts[face].name}: its measures leave it off its crease"
        )

    def _find(self, key: tuple[int, int]) -> tuple[int, int]:
        while key in self.owner:
            key = self.owner[key]
        return key

    def _unite(self, one: tuple[int, int], two: tuple[int, int]) -> None:
        first, second = self._find(one), self._find(two)
        if first != second:
            self.owner[max(first, second)] = min(first, second)

    def pattern(self) -> FlatPattern:
        vertices: list[Point] = []
        folded: list[Vec] = []
        index: dict[tuple[int, int], int] = {}
        corners: list[tuple[int, ...]] = []
        for f, ring in enumerate(self.rings):
            patch = self.sheet.parts[f].patch
            found = []
            for c, place in enumerate(ring):
                root = self._find((f, c))
                if root not in index:
                    index[root] = len(vertices)
                    vertices.append(place)
                    folded.append(patch.space(patch.local_from_flat(place)))
                found.append(index[root])
            corners.append(tuple(found))
        shift = Point(min(p.x for p in vertices), min(p.y for p in vertices))
        placed = tuple(p.minus(shift) for p in vertices)
        faces = tuple(
            Face(part.name, part.role, ring, part.wall)
            for part, ring in zip(self.sheet.parts, corners, strict=True)
        )
        creases = tuple(self._creases(corners))

        def move(p: Point) -> Point:
            return p.minus(shift)

        return FlatPattern(
            placed,
            tuple(folded),
            faces,
            creases,
            tuple(roof.moved(move) for roof in self.sheet.roof_lines),
            tuple(self.sheet.layers),
            tuple(sweep.moved(move) for sweep in self.sheet.sweeps),
            tuple(line.moved(move) for line in self.sheet.joint_lines),
            tuple(cut_outlines(placed, faces, creases)),
        )

    def _creases(self, corners: list[tuple[int, ...]]) -> Iterable[Crease]:
        for hinge, run in zip(self.sheet.hinges, self.runs, strict=True):
            ids = [corners[hinge.one][at] for at in run]
            for a, b in zip(ids, ids[1:], strict=False):
                yield Crease(a, b, (hinge.one, hinge.two), hinge.angle, hinge.what)


def cut_outlines(
    vertices: Sequence[Point], faces: Sequence[Face], creases: Sequence[Crease]
) -> list[tuple[Point, ...]]:
    """The boundary as closed rings, the largest first.

    Every face edge that is no crease is a cut; walked in face order they
    close. Where two cuts leave one vertex the walk stays with the metal it
    came along, so rings never cross. Raises CannotFold where they don't close.
    """
    shared = {frozenset((c.a, c.b)) for c in creases}
    leaving: dict[int, list[int]] = {}
    for face in faces:
        ring = face.corners
        for i, a in enumerate(ring):
            b = ring[(i + 1) % len(ring)]
            if frozenset((a, b)) not in shared:
                leaving.setdefault(a, []).append(b)
    rings: list[tuple[Point, ...]] = []
    while leaving:
        start = came = next(iter(leaving))
        walk = [start]
        here = leaving[start].pop()
        while here != start:
            walk.append(here)
            if not leaving.get(here):
                raise CannotFold("the measures make a face that crosses itself")
            chosen = _next_cut(vertices, came, here, leaving[here])
            leaving[here].remove(chosen)
            came, here = here, chosen
        leaving = {k: v for k, v in leaving.items() if v}
        rings.append(tuple(vertices[i] for i in walk))
    rings.sort(key=lambda ring: -abs(outline.area(ring)))
    return rings


def _next_cut(
    vertices: Sequence[Point], came: int, here: int, options: Sequence[int]
) -> int:
    """The first cut met turning clockwise, through the metal, from where we came."""
    back = vertices[came].minus(vertices[here])

    def clockwise(to: int) -> float:
        ahead = vertices[to].minus(vertices[here])
        return -atan2(back.cross(ahead), back.dot(ahead)) % tau

    return min(options, key=clockwise)
