"""A seam leg that stands on one or more edges in a row, all in one plane.

Takes the edges it stands on, in order, gives leg, turn and pocket faces on a
Sheet. Where two edges meet, the metal between the two strips of leg is spare:
it closes by itself (spare 0) or is folded into a pocket (corner.py). The
finished seam's line may be swept round a corner on an arc and tapered on its
way up a wall (geometry of the turn: the free edge of a turn of width w along
radius r strains by w / (r - w)).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from layout.folding import corner
from layout.folding.pattern import RoofLine, Sweep
from layout.folding.seam import Part, Seam
from layout.folding.sheet import Patch, Sheet, runs_with
from layout.folding.sweep import (
    Climb,
    SeamLine,
    free_edge_strain,
    relief_count,
    reliefs,
    smallest_radius,
)
from layout.geometry.outline import area
from layout.geometry.point import Point, angle_between
from layout.geometry.space import Vec
from layout.geometry.tolerance import EPS

LEAST_STRIP = 10.0
"""The narrowest sector of a corner that a leg may be left with, degrees: less
is a needle of metal that can't be folded. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Edge:
    """One edge the leg stands on, from a to b, places in space on that part."""

    part: int
    a: Vec
    b: Vec


@dataclass(slots=True)
class Leg:
    """What stand() built: face indices by edge, pockets, corner figures."""

    legs: list[int]
    turns: list[int]
    pockets: list[tuple[int, int]]
    corners: list[corner.Pocket]


def stand(
    sheet: Sheet,
    name: str,
    edges: Sequence[Edge],
    towards: Vec,
    seam: Seam,
    part: Part,
    climb: Climb | None = None,
    stretch: float = 0.0,
) -> Leg:
    """Stands a leg on edges that follow each other round the sheet.

    edges: each begins where the last ended, either way round; the leg turns
    towards itself at each corner (an inside corner of the roof)
    towards: unit direction from the first edge into the leg, square to it;
    all the leg lies in the plane of the first edge and this direction
    stretch: the metal's elongation, share, to judge a sweep; 0 = unknown
    Raises NeedsSeam or SweepDoesNotFit.
    """
    return _Standing(sheet, name, edges, towards, seam, part, climb, stretch).build()


class _Standing:
    """Works in the plane of the leg: x along the first edge, y into the leg.

    Seen this way the leg always lies on the left of travel. Where the sheet
    lies on the left of the edges as well (counter-clockwise travel), the
    plane is seen from its back: `seen` is -1 and rings are turned round.
    """

    def __init__(
        self,
        sheet: Sheet,
        name: str,
        edges: Sequence[Edge],
        towards: Vec,
        seam: Seam,
        part: Part,
        climb: Climb | None,
        stretch: float,
    ) -> None:
        self.sheet, self.name, self.edges = sheet, name, list(edges)
        self.seam, self.part = seam, part
        self.climb, self.stretch = climb, stretch
        first = sheet.parts[edges[0].part]
        self.origin = edges[0].a
        self.along = edges[0].b.minus(edges[0].a).unit()
        self.across = towards
        ends = first.patch.local(edges[0].a), first.patch.local(edges[0].b)
        self.seen = -1 if runs_with(first.points, *ends) else 1
        self.normal = self.along.cross(self.across).scaled(self.seen)
        self.stops = [self.to_plane(self.origin)]
        self.stops += [self.to_plane(edge.b) for edge in edges]
        plain = SeamLine(name, self.stops, seam.height, climb)
        travels = [plain.travel(i) for i in range(len(self.edges))]
        self.travel = travels.__getitem__
        self.out = [along.left() for along in travels].__getitem__
        self.seam_line = replace(plain, tilts=self.tilts())

    def on_sheet(self, edge: Edge) -> tuple[Point, Point]:
        """The edge's ends in the axes of the part it belongs to."""
        patch = self.sheet.parts[edge.part].patch
        return patch.local(edge.a), patch.local(edge.b)

    def tilts(self) -> list[float]:
        """How far each corner's shared line leaves the bisector: none, but
        where half the spare is wider than half the corner, so that it would
        reach past the second leg. Then the second leg takes as much as it needs.
        """
        found = [0.0]
        for i in range(1, len(self.edges)):
            found.append(max(0.0, self.spare(i) / 2 - self.corner_angle(i) / 2))
        return found

    def corner_angle(self, i: int) -> float:
        """Between edges i-1 and i on the leg's side, folded, degrees."""
        return 180 - abs(angle_between(self.travel(i - 1), self.travel(i)))

    def spare(self, i: int) -> float:
        """Metal the flat has left over between the legs on edges i-1 and i,
        degrees; below 0 where metal is missing."""
        came, goes = self.edges[i - 1], self.edges[i]
        before = self.sheet.parts[came.part].patch
        after = self.sheet.parts[goes.part].patch
        at = after.flat(after.local(goes.a))
        start = before.flat(before.local(came.a)).minus(at)
        end = after.flat(after.local(goes.b)).minus(at)
        return self.seen * angle_between(end, start) % 360 - self.corner_angle(i)

    def to_plane(self, place: Vec) -> Point:
        arm = place.minus(self.origin)
        return Point(arm.dot(self.along), arm.dot(self.across))

    def to_space(self, p: Point) -> Vec:
        return self.origin.plus(self.along, p.x).plus(self.across, p.y)

    def direction(self, p: Point) -> Vec:
        return self.along.scaled(p.x).plus(self.across, p.y)

    # --- faces -------------------------------------------------------------

    def build(self) -> Leg:
        for i in range(1, len(self.edges)):
            if self.travel(i - 1).cross(self.travel(i)) < EPS:
                raise corner.NeedsSeam(
                    f"{self.name}: the leg turns an outside corner, where metal is "
                    "missing: it needs a seam along the corner line"
                )
        for i in range(1, len(self.edges)):
            self.check_corner(i)
        seam_line = self.seam_line.path(0.0)
        above = self.seam.above(self.part)
        cut_line = self.seam_line.path(above) if above else seam_line
        made = Leg([], [], [], [])
        patches = []
        for i, edge in enumerate(self.edges):
            towards = self.direction(self.out(i))
            a, b = self.on_sheet(edge)
            ends = (a, b) if self.seen < 0 else (b, a)
            patch = self.sheet.hang(edge.part, *ends, towards)
            patches.append(patch)
            made.legs.append(self.strip(i, patch, seam_line[i], made))
            if above:
                made.turns.append(self.turn(i, patch, seam_line[i], cut_line[i], made))
        for i in range(1, len(self.edges)):
            self.corner(i, patches, seam_line, cut_line, made)
        self.note_sweep(patches, seam_line, cut_line)
        return made

    def check_corner(self, i: int) -> None:
        """Raises NeedsSeam where metal is missing, or a needle of it is left."""
        spare, angle = self.spare(i), self.corner_angle(i)
        if spare < -EPS:
            raise corner.NeedsSeam(
                f"{self.name}: the corner lacks {-spare:.2f}° of metal (an outside "
                "corner): it needs a seam along the corner line"
            )
        first = angle / 2 - self.seam_line.tilts[i]
        if first < LEAST_STRIP:
            raise corner.NeedsSeam(
                f"{self.name}: the pocket of {spare / 2:.2f}° leaves the first leg "
                f"{first:.2f}° of the corner's {angle:.2f}°; make it in two pieces "
                "with a seam"
            )

    def local(self, i: int, patch: Patch, p: Point) -> Point:
        """A place of the leg's plane in the axes of the patch on edge i."""
        from_x, from_y = self.stops[i] if self.seen > 0 else self.stops[i + 1]
        x, y = p[0] - from_x, p[1] - from_y
        along_x, along_y = self.travel(i)
        return Point(self.seen * (x * along_x + y * along_y), y * along_x - x * along_y)

    def flat(self, i: int, patch: Patch, path: Sequence[Point]) -> list[Point]:
        return [patch.flat(self.local(i, patch, p)) for p in path]

    def ring(self, i: int, patch: Patch, points: Sequence[Point]) -> list[Point]:
        """Counter-clockwise in the patch, from a ring that is so in this plane."""
        ordered = points if self.seen > 0 else list(reversed(points))
        return [self.local(i, patch, p) for p in ordered]

    def strip(self, i: int, patch: Patch, seam_line: list[Point], made: Leg) -> int:
        edge = self.edges[i]
        ring = [self.stops[i], self.stops[i + 1], *reversed(seam_line)]
        face = self.sheet.add(
            f"{self.name} leg {i + 1}", "leg", patch, self.ring(i, patch, ring)
        )
        parent = self.sheet.parts[edge.part].patch
        a, b = (parent.flat(p) for p in self.on_sheet(edge))
        self.sheet.join(edge.part, face, a, b, "leg")
        return face

    def turn(
        self,
        i: int,
        patch: Patch,
        seam_line: list[Point],
        cut_line: list[Point],
        made: Leg,
    ) -> int:
        ring = [*seam_line, *reversed(cut_line)]
        face = self.sheet.add(
            f"{self.name} turn {i + 1}", "turn", patch, self.ring(i, patch, ring)
        )
        flat = self.flat(i, patch, seam_line)
        self.sheet.join_along(made.legs[-1], face, flat, "turn line")
        angle = 180.0
        self.sheet.roof_lines.append(
            RoofLine(tuple(flat), angle, "turn", curved=len(flat) > 3)
        )
        if self.seam.turns(self.part) == 2:
            middle = self.seam_line.path(self.seam.first_line(self.part))[i]
            self.sheet.roof_lines.append(
                RoofLine(
                    tuple(self.flat(i, patch, middle)),
                    angle,
                    "second turn",
                    curved=len(middle) > 3,
                )
            )
        return face

    def corner(
        self,
        i: int,
        patches: list[Patch],
        seam_line: list[list[Point]],
        cut_line: list[list[Point]],
        made: Leg,
    ) -> None:
        """Closes or pockets the corner between edges i-1 and i."""
        before, after = patches[i - 1], patches[i]
        part = self.sheet.parts[self.edges[i].part].patch
        at = part.flat(part.local(self.edges[i].a))
        inner, outer = seam_line[i][0], cut_line[i][0]
        c1 = self.flat(i - 1, before, (inner, outer))
        c2 = self.flat(i, after, (inner, outer))
        spare, tilt = self.spare(i), self.seam_line.tilts[i]
        half = self.corner_angle(i) / 2
        shared = self.direction(self.seam_line.shared(i))
        made.corners.append(corner.Pocket(half - tilt, half + tilt, spare, shared))
        one, two = (made.legs[i - 1], made.legs[i])
        turned = (made.turns[i - 1], made.turns[i]) if made.turns else None
        if spare < EPS:
            self.sheet.join(one, two, at, c1[0], "corner")
            if turned:
                self.sheet.join(*turned, c1[0], c1[1], "corner")
            return
        self.fold_away(i, at, c1[0], c2[0], one, two, made)

    def fold_away(
        self,
        i: int,
        at: Point,
        c1: Point,
        c2: Point,
        one: int,
        two: int,
        made: Leg,
    ) -> None:
        """Two triangles folded behind the second leg, up to the finished seam.

        The back of a leg is where its mate comes to lie: never the weather
        side, so no pocket faces the flow. Over the turn line the turns end
        edge to edge along the shared line: no pocket lies where the leg must
        still be seamed over it, and nothing is cut below the finished seam.
        """
        sheet = self.sheet
        middle = c1.plus(c2).scaled(0.5)
        c = self.direction(self.seam_line.shared(i))
        across = self.normal.cross(c)
        stop = self.to_space(self.stops[i])
        first = Patch(at, c1.minus(at).unit(), stop, c, across)
        # The second triangle is turned over: its weather side meets the first's.
        second = Patch(at, c2.minus(at).unit(), stop, c, across.scaled(-1))
        name = f"{self.name} pocket {i}"
        tri1 = sheet.add(f"{name}a", "pocket", first, _ring(first, at, c1, middle))
        tri2 = sheet.add(f"{name}b", "pocket", second, _ring(second, at, c2, middle))
        sheet.join(one, tri1, at, c1, "pocket")
        sheet.join(tri1, tri2, at, middle, "pocket", closed=1)
        sheet.join(tri2, two, at, c2, "pocket", closed=-1)
        # The first triangle lies behind the second, both behind the leg.
        sheet.layers.append((tri1, two, -1))
        made.pockets.append((tri1, tri2))

    def note_sweep(
        self,
        patches: list[Patch],
        seam_line: list[list[Point]],
        cut_line: list[list[Point]],
    ) -> None:
        """Keeps the swept corner's lines for the full-size template."""
        if not self.climb or not self.climb.radius:
            return
        turn = self.seam.turn if self.seam.above(self.part) else 0.0
        radius, last = self.climb.radius, len(self.edges) - 1
        pair = (last - 1, last)
        turn_lines = tuple(tuple(self.flat(i, patches[i], seam_line[i])) for i in pair)
        cut_lines = tuple(tuple(self.flat(i, patches[i], cut_line[i])) for i in pair)
        fold_lines = tuple(
            tuple(self.flat(i, patches[i], self.stops[i : i + 2])) for i in pair
        )
        strain, smallest = (
            free_edge_strain(turn, radius),
            smallest_radius(turn, self.stretch),
        )
        cuts: tuple[tuple[Point, ...], ...] = ()
        if radius < smallest:
            count = relief_count(strain, self.stretch)
            cuts = reliefs(turn_lines, cut_lines, count)
        self.sheet.sweeps.append(
            Sweep(
                turn_lines, cut_lines, fold_lines, radius, turn, strain, smallest, cuts
            )
        )


def _ring(patch: Patch, *flat: Point) -> list[Point]:
    """A triangle in the patch's axes, turned counter-clockwise."""
    ring = [patch.local_from_flat(p) for p in flat]
    return ring if area(ring) > 0 else ring[::-1]
