"""The line of a finished seam over the edges it stands on, and its sweep.

Works in the plane of the leg, the leg always on the left of travel along the
edges: straight over each edge, mitred or swept on an arc at the corners,
tapered on its way up a wall. All in mm.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, radians, tan

from layout.folding.corner import CannotFold
from layout.geometry import line
from layout.geometry.point import Point, angle_between
from layout.geometry.tolerance import EPS

STRAY = 0.05
"""Largest distance of a chord from the arc it stands for, mm. Our own bound: under
what a scriber shows."""


class SweepDoesNotFit(CannotFold):
    """The chosen radius leaves no straight run, or is smaller than its turn."""


@dataclass(frozen=True, slots=True)
class Climb:
    """How the leg climbs a wall on its last edge.

    radius: of the sweep, 0 = a mitred corner; width: of the finished seam at
    the top; run: straight run at the top. mm
    """

    radius: float
    width: float
    run: float


@dataclass(frozen=True, slots=True)
class SeamLine:
    """name: of the leg, for messages; stops: (n + 1) ends of the edges;
    height: of the finished seam; climb: how the last edge climbs a wall;
    tilts: by stop, how far the shared line is turned from the bisector, degrees
    """

    name: str
    stops: Sequence[Point]
    height: float
    climb: Climb | None
    tilts: Sequence[float] = ()

    def travel(self, i: int) -> Point:
        return self.stops[i + 1].minus(self.stops[i]).unit()

    def out(self, i: int) -> Point:
        """Away from edge i, into the leg. In this plane the leg lies at +y."""
        return self.travel(i).left()

    def shared(self, i: int) -> Point:
        """The line both strips share at stop i, from the stop into the leg: the
        bisector, or turned from it towards the edge before by the tilt."""
        bisector = self.travel(i).minus(self.travel(i - 1)).unit()
        return bisector.turned(self.tilts[i]) if self.tilts else bisector

    def path(self, above: float) -> list[list[Point]]:
        """The curve `above` mm over the finished seam, one list per edge.

        Lists meet on the shared lines. above 0 is the turn line.
        """
        height = self.height
        last = len(self.stops) - 2
        sides: list[tuple[Point, Point]] = [
            (self.stops[i].plus(self.out(i), height + above), self.travel(i))
            for i in range(len(self.stops) - 1)
        ]
        whole = [self.end_of(0, self.stops[0], sides[0])]
        for i in range(1, len(self.stops) - 1):
            if i == last and self.climb:
                whole += self.climbing(whole[-1], sides[i - 1], above)
                break
            whole.append(line.crossing(*sides[i - 1], *sides[i]))
        else:
            whole.append(self.end_of(last, self.stops[-1], sides[last]))
        return self.cut_at_corners(whole)

    def end_of(self, i: int, stop: Point, side: tuple[Point, Point]) -> Point:
        return line.crossing(stop, self.out(i), *side)

    def climbing(
        self, came: Point, before: tuple[Point, Point], above: float
    ) -> list[Point]:
        """Corner, taper and straight run of the last edge, up to its top.

        came: the last place of the path so far; before: its side of the corner
        """
        climb, last = self.climb, len(self.stops) - 2
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
                self.height + climb.run,
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
        if end.minus(knee).dot(up) < -EPS:
            raise self.too_short()
        swept = self.swept(came, bend, before[1], taper, knee, above)
        return [*swept, knee, end]

    def mitre(self, i: int) -> Point:
        height = self.height
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
        room = min(knee.minus(bend).dot(taper), bend.minus(came).dot(into))
        if climb.radius == 0:
            if room < EPS:
                raise self.too_short()
            return [bend]
        radius = climb.radius - above
        half = tan(radians(abs(angle_between(into, taper)) / 2))
        if radius <= 0 or radius * half > room + EPS:
            raise SweepDoesNotFit(
                f"{self.name}: a sweep of {{0}} does not fit; the largest that "
                "leaves a straight run is {1}; choose it, or raise the upstand",
                climb.radius,
                max(0.0, room / half + above),
            )
        chords = line.chord_count(climb.radius, angle_between(into, taper), STRAY)
        return line.rounded(bend, into, taper, radius, chords)

    def cut_at_corners(self, whole: list[Point]) -> list[list[Point]]:
        pieces: list[list[Point]] = []
        rest = whole
        for i in range(1, len(self.stops) - 1):
            try:
                at, place = line.cut_at(rest, self.stops[i], self.shared(i))
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
            min(
                b.minus(a).length()
                for a, b in zip(self.stops, self.stops[1:], strict=False)
            ),
            self.height,
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


def _without_short_steps(path: list[Point]) -> list[Point]:
    kept = [path[0]]
    for p in path[1:-1]:
        if p.minus(kept[-1]).length() > EPS and p.minus(path[-1]).length() > EPS:
            kept.append(p)
    return [*kept, path[-1]]
