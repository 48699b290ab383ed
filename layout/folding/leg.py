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
from dataclasses import dataclass
from math import ceil, radians, tan

from layout.folding import corner
from layout.folding.pattern import RoofLine, Sweep
from layout.folding.seam import Part, Seam
from layout.folding.sheet import Patch, Sheet, runs_with
from layout.geometry import line
from layout.geometry.outline import area
from layout.geometry.point import Point, angle_between
from layout.geometry.space import Vec, angle_in_space
from layout.geometry.tolerance import EPS

STRAY = 0.05
"""Largest distance of a chord from the arc it stands for, mm."""


class SweepDoesNotFit(corner.CannotFold):
    """The chosen radius leaves no straight run, or is smaller than its turn."""


@dataclass(frozen=True, slots=True)
class Edge:
    """One edge the leg stands on, from a to b, places in space on that part."""

    part: int
    a: Vec
    b: Vec


@dataclass(frozen=True, slots=True)
class Climb:
    """How the leg climbs a wall on its last edge.

    radius: of the sweep, 0 = a mitred corner; width: of the finished seam at
    the top; run: straight run at the top. mm
    """

    radius: float
    width: float
    run: float


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

    def on_sheet(self, edge: Edge) -> tuple[Point, Point]:
        """The edge's ends in the axes of the part it belongs to."""
        patch = self.sheet.parts[edge.part].patch
        return patch.local(edge.a), patch.local(edge.b)

    def to_plane(self, place: Vec) -> Point:
        arm = place.minus(self.origin)
        return Point(arm.dot(self.along), arm.dot(self.across))

    def to_space(self, p: Point) -> Vec:
        return self.origin.plus(self.along, p.x).plus(self.across, p.y)

    def direction(self, p: Point) -> Vec:
        return self.along.scaled(p.x).plus(self.across, p.y)

    # --- the finished seam's line and the cut edge -------------------------

    def travel(self, i: int) -> Point:
        return self.stops[i + 1].minus(self.stops[i]).unit()

    def out(self, i: int) -> Point:
        """Away from edge i, into the leg. In this plane the leg lies at +y."""
        return self.travel(i).left()

    def bisector(self, i: int) -> Point:
        """From stop i (between edges i-1 and i) into the leg."""
        return self.travel(i).minus(self.travel(i - 1)).unit()

    def path(self, above: float) -> list[list[Point]]:
        """The curve `above` mm over the finished seam, one list per edge.

        Lists meet on the bisectors. above 0 is the turn line.
        """
        height = self.seam.height
        last = len(self.edges) - 1
        sides: list[tuple[Point, Point]] = [
            (self.stops[i].plus(self.out(i), height + above), self.travel(i))
            for i in range(len(self.edges))
        ]
        whole = [self.end_of(0, self.stops[0], sides[0])]
        for i in range(1, len(self.edges)):
            if i == last and self.climb:
                whole += self.climbing(whole[-1], sides[i - 1], above)
                break
            whole.append(line.crossing(*sides[i - 1], *sides[i]))
        else:
            whole.append(self.end_of(last, self.stops[-1], sides[last]))
        return self.cut_by_bisectors(whole)

    def end_of(self, i: int, stop: Point, side: tuple[Point, Point]) -> Point:
        return line.crossing(stop, self.out(i), *side)

    def climbing(
        self, came: Point, before: tuple[Point, Point], above: float
    ) -> list[Point]:
        """Corner, taper and straight run of the last edge, up to its top.

        came: the last place of the path so far; before: its side of the corner
        """
        climb, last = self.climb, len(self.edges) - 1
        assert climb is not None
        up, out = self.travel(last), self.out(last)
        foot, top = self.stops[last], self.stops[last + 1]
        size = top.minus(foot).length()
        mitre = self.mitre(last)
        bottom_of_run = foot.plus(up, size - climb.run).plus(out, climb.width)
        slope = bottom_of_run.minus(mitre)
        if slope.dot(up) < EPS:
            raise SweepDoesNotFit(
                f"{self.name}: the wall edge is {{0}} long; the seam needs more than "
                "{1} before it can turn up; raise the upstand",
                size,
                self.seam.height + climb.run,
            )
        taper = slope.unit()
        taper_at = (mitre.plus(taper.left(), above), taper)
        run_at = (bottom_of_run.plus(out, above), up)
        knee = (
            line.crossing(*taper_at, *run_at)
            if abs(taper.cross(up)) > 1e-9
            else run_at[0]
        )
        bend = line.crossing(*before, *taper_at)
        end = line.crossing(top, out, *run_at)
        swept = self.swept(came, bend, before[1], taper, knee, above)
        return [*swept, knee, end]

    def mitre(self, i: int) -> Point:
        height = self.seam.height
        return line.crossing(
            self.stops[i - 1].plus(self.out(i - 1), height),
            self.travel(i - 1),
            self.stops[i].plus(self.out(i), height),
            self.travel(i),
        )

    def swept(
        self,
        came: Point,
        bend: Point,
        into: Point,
        taper: Point,
        knee: Point,
        above: float,
    ) -> list[Point]:
        climb = self.climb
        assert climb is not None
        if climb.radius == 0:
            return [bend]
        radius = climb.radius - above
        half = tan(radians(abs(angle_between(into, taper)) / 2))
        room = min(knee.minus(bend).dot(taper), bend.minus(came).dot(into))
        if radius <= 0 or radius * half > room + EPS:
            raise SweepDoesNotFit(
                f"{self.name}: a sweep of {{0}} does not fit; the largest that "
                "leaves a straight run is {1}; choose it, or raise the upstand",
                climb.radius,
                max(0.0, room / half + above),
            )
        chords = line.chord_count(climb.radius, angle_between(into, taper), STRAY)
        return line.rounded(bend, into, taper, radius, chords)

    def cut_by_bisectors(self, whole: list[Point]) -> list[list[Point]]:
        pieces: list[list[Point]] = []
        rest = whole
        for i in range(1, len(self.edges)):
            try:
                at, place = line.cut_at(rest, self.stops[i], self.bisector(i))
            except ValueError as missed:
                raise self.too_short() from missed
            pieces.append([*rest[: at + 1], place])
            rest = [place, *rest[at + 1 :]]
        pieces.append(rest)
        for i, piece in enumerate(pieces):
            # Where both mitres of an edge cross, the seam would run backwards.
            if piece[-1].minus(piece[0]).dot(self.travel(i)) < EPS:
                raise self.too_short()
        return [_without_short_steps(piece) for piece in pieces]

    def too_short(self) -> SweepDoesNotFit:
        return SweepDoesNotFit(
            f"{self.name}: an edge of {{0}} is too short for a seam {{1}} "
            "high; raise the upstand or take more metal above",
            min(e.b.minus(e.a).length() for e in self.edges),
            self.seam.height,
        )

    # --- faces -------------------------------------------------------------

    def build(self) -> Leg:
        for i in range(1, len(self.edges)):
            if self.travel(i - 1).cross(self.travel(i)) < EPS:
                raise corner.NeedsSeam(
                    f"{self.name}: the leg turns an outside corner, where metal is "
                    "missing: it needs a seam along the corner line"
                )
        seam_line = self.path(0.0)
        above = self.seam.above(self.part)
        cut_line = self.path(above) if above else seam_line
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

    def local(self, i: int, patch: Patch, p: Point) -> Point:
        """A place of the leg's plane in the axes of the patch on edge i."""
        arm = p.minus(self.stops[i] if self.seen > 0 else self.stops[i + 1])
        return Point(self.seen * arm.dot(self.travel(i)), arm.dot(self.out(i)))

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
        for a, b in zip(flat, flat[1:], strict=False):
            self.sheet.join(made.legs[-1], face, a, b, "turn line")
        angle = 180.0
        self.sheet.roof_lines.append(
            RoofLine(tuple(flat), angle, "turn", curved=len(flat) > 3)
        )
        if self.seam.turns(self.part) == 2:
            middle = self.path(self.seam.turn)[i]
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
        spare = _turn(c2[1].minus(at), c1[1].minus(at), self.seen)
        edge1 = self.direction(self.travel(i - 1)).scaled(-1)
        edge2 = self.direction(self.travel(i))
        half = angle_in_space(edge1, edge2) / 2
        made.corners.append(
            corner.Pocket(half, half, spare, self.direction(self.bisector(i)))
        )
        if spare > 180:
            raise corner.NeedsSeam(
                f"{self.name}: the corner lacks {360 - spare:.2f}° of metal (an "
                "outside corner): it needs a seam along the corner line"
            )
        one, two = (made.legs[i - 1], made.legs[i])
        turned = (made.turns[i - 1], made.turns[i]) if made.turns else None
        if spare < EPS:
            self.sheet.join(one, two, at, c1[0], "corner")
            if turned:
                self.sheet.join(*turned, c1[0], c1[1], "corner")
            return
        if spare / 2 > half + EPS:
            raise corner.NeedsSeam(
                f"{self.name}: the pocket of {spare / 2:.2f}° is wider than the "
                f"leg it lies against ({half:.2f}°)"
            )
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
        c = self.direction(self.bisector(i))
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


def free_edge_strain(turn: float, radius: float) -> float:
    """Stretch of the free edge of a turn inside a curve, share.

    turn: width, mm; radius: of the turn line, mm, > turn
    The edge grows from radius - turn to radius: e = w / (r - w).
    Example: 9.525 on 76.2 -> 0.143.
    """
    return turn / (radius - turn)


def smallest_radius(turn: float, stretch: float) -> float:
    """The radius at which the free edge reaches the metal's stretch, mm.

    0 where the stretch is not known. From e = w / (r - w): r = w / e + w.
    """
    return turn / stretch + turn if stretch else 0.0


RELIEF_STOPS = 0.25
"""A relief cut stops this share of the turn's width short of the turn line, so
that it never opens the fold. Common practice, no source."""


def relief_count(strain: float, stretch: float) -> int:
    """Relief cuts that bring the strain between them down to the metal's stretch.

    The edge is short by strain - stretch of its length; each piece between two
    cuts may stretch by `stretch`. Example: 0.45 on 0.30 -> 1.
    """
    return max(1, ceil(strain / stretch) - 1)


def reliefs(
    turn_lines: Sequence[Sequence[Point]],
    cut_lines: Sequence[Sequence[Point]],
    count: int,
) -> tuple[tuple[Point, ...], ...]:
    """That many cuts spread evenly over the chords of a swept turn."""
    pairs = [
        (outer, inner)
        for cut, turn in zip(cut_lines, turn_lines, strict=True)
        if len(cut) == len(turn)
        for outer, inner in zip(cut[1:-1], turn[1:-1], strict=True)
    ]
    if not pairs:
        return ()
    chosen = [pairs[(i + 1) * len(pairs) // (count + 1)] for i in range(count)]
    return tuple(
        (outer, outer.plus(inner.minus(outer), 1 - RELIEF_STOPS))
        for outer, inner in chosen
    )


def _ring(patch: Patch, *flat: Point) -> list[Point]:
    """A triangle in the patch's axes, turned counter-clockwise."""
    ring = [patch.local_from_flat(p) for p in flat]
    return ring if area(ring) > 0 else ring[::-1]


def _turn(a: Point, b: Point, seen: int) -> float:
    """Degrees from a to b, 0 to 360, counter-clockwise where seen is 1."""
    angle = seen * angle_between(a, b) % 360
    return 0.0 if angle < EPS or angle > 360 - EPS else angle


def _without_short_steps(path: list[Point]) -> list[Point]:
    kept = [path[0]]
    for p in path[1:-1]:
        if p.minus(kept[-1]).length() > EPS and p.minus(path[-1]).length() > EPS:
            kept.append(p)
    return [*kept, path[-1]]
