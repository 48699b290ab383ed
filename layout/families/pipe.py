"""A pipe collar: a round pipe through a sloping roof, sleeve and flange.

The pipe stands plumb or leans; its sleeve is round or conical. Both pieces are
curved or pierced, not folded: their proof rolls the outline back on to the pipe
and measures how far it lies from the roof.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import partial
from math import atan2, cos, degrees, pi, radians, sin, tan

from layout.families.assembly import Assembly
from layout.families.draft import Draft, Label
from layout.folding.corner import CannotFold
from layout.folding.facts import ShopFacts
from layout.folding.pattern import FlatPattern
from layout.folding.result import Proof
from layout.folding.rolled import Sleeve
from layout.geometry import outline
from layout.geometry.curve import chords
from layout.geometry.point import Point
from layout.geometry.space import Vec, angle_in_space

STRAY = 0.02
"""No chord of an outline strays further from the curve, mm. Our own bound."""
WHOLE = 2 * pi


@dataclass(frozen=True, slots=True)
class Pipe:
    """diameter; upstand: height of the sleeve on its short side, along the pipe;
    flange: metal round the pipe on the roof; flange_up: above it, None = the same;
    lap: of the sleeve's seam;
    foot_diameter: of a conical sleeve, at its short side's foot; None = round; mm.
    pitch; lean: out of plumb; lean_towards: clockwise from straight up the slope,
    seen from above; degrees."""

    diameter: float
    upstand: float
    flange: float
    lap: float
    pitch: float
    foot_diameter: float | None = None
    lean: float = 0.0
    lean_towards: float = 0.0
    flange_up: float | None = None

    @property
    def above(self) -> float:
        """Metal on the roof above the pipe, mm."""
        return self.flange if self.flange_up is None else self.flange_up

    @property
    def axis(self) -> Vec:
        """Unit direction up the pipe, in the roof's frame."""
        a, out, to = (radians(x) for x in (self.pitch, self.lean, self.lean_towards))
        plumb, level = Vec(0, sin(a), cos(a)), Vec(0, cos(a), -sin(a))
        leans = level.scaled(cos(to)).plus(Vec(1, 0, 0), sin(to))
        return plumb.scaled(cos(out)).plus(leans, sin(out))

    @property
    def tilt(self) -> float:
        """Between the pipe and the roof's own square, degrees. Plumb: the pitch."""
        return angle_in_space(self.axis, Vec(0, 0, 1))

    @property
    def bearing(self) -> float:
        """Of the sleeve's short side: clockwise from straight up the slope, seen
        from above the roof, degrees. Plumb: 0."""
        return degrees(atan2(self.axis.x, self.axis.y))

    @property
    def sleeve(self) -> Sleeve:
        foot = self.foot_diameter or self.diameter
        return Sleeve(foot / 2, self.diameter / 2, self.upstand, self.tilt)


@dataclass(slots=True)
class Collar(Assembly):
    """One collar, with its measures for the rules."""

    pipe: Pipe = field(kw_only=True)


def foot(radius: float, pitch: float, around: float) -> float:
    """How much longer a round sleeve is at an angle from its short side, mm.

    y = r tan(pitch) (1 - cos angle); around: degrees from the short side.
    Example: r 2, 6:12, 180 degrees -> 2.
    """
    return radius * tan(radians(pitch)) * (1 - cos(radians(around)))


def assemble(pipe: Pipe, shop: ShopFacts) -> Assembly:
    """Sleeve and flange of one collar."""
    made = Collar(pitch=pipe.pitch, pipe=pipe)
    made.make(partial(_both, pipe))
    return made


def _both(pipe: Pipe) -> list[Draft]:
    if not pipe.sleeve.closes:
        raise CannotFold(
            "Pipe collar: a cone from {0} to {1} is flatter than the roof on its low "
            "side and never meets it; make it taller or its foot narrower",
            pipe.sleeve.foot * 2,
            pipe.diameter,
        )
    if not pipe.sleeve.has_room(pipe.lap):
        raise CannotFold(
            "Pipe collar: the seam's lap of {0} is too wide for a cone {1} across at "
            "its top; make it narrower, or the cone taller",
            pipe.lap,
            pipe.diameter,
        )
    return [sleeve(pipe), flange(pipe)]


def sleeve(pipe: Pipe) -> Draft:
    """The rolled part, its seam on the short side, where a lap is added.

    Round: its datum edge is the straight top.
    """
    made = pipe.sleeve
    foot_end = WHOLE + made.lap_turn(pipe.lap, at_top=False)
    top_end = WHOLE + made.lap_turn(pipe.lap, at_top=True)
    # The whole turn is a place of its own: there the seam lies.
    low = _through(made, WHOLE, foot_end, at_top=False)
    high = _through(made, WHOLE, top_end, at_top=True)
    ring = [*low, *reversed(high)]
    if outline.area(ring) < 0:
        ring = [*high, *reversed(low)]
    x0, y0, _, _ = outline.bounds(ring)
    placed = tuple(p.minus(Point(x0, y0)) for p in outline.without_repeats(ring))
    kind = "Rolled" if made.is_round else "Rolled to a cone"
    return Draft(
        Label("S", "pipe_collar", "Pipe collar, sleeve"),
        FlatPattern(placed, (), (), (), outlines=(placed,)),
        notes=(f"{kind}, not folded. Seam on the short side, {_where(pipe)}.",),
        figures=_rolled(made, low, high, foot_end, top_end),
    )


def _through(made: Sleeve, seam: float, end: float, at_top: bool) -> list[Point]:
    """One edge of the flat, from the short side round to the lap's edge."""
    edge = made.flat_top if at_top else made.flat_foot
    points = chords(edge, 0.0, seam, STRAY)
    if end > seam:
        points += chords(edge, seam, end, STRAY)[1:]
    return points


def _where(pipe: Pipe) -> str:
    """Where the short side lies, in words."""
    turn = round(pipe.bearing)
    if turn == 0:
        return "upslope"
    side = "right" if turn > 0 else "left"
    return f"{abs(turn)}° to the {side} of straight up the slope"


def _rolled(
    made: Sleeve,
    low: Sequence[Point],
    high: Sequence[Point],
    foot_end: float,
    top_end: float,
) -> Proof:
    """Rolls the outline up again: foot against the roof, top against its own
    plane, and the seam's two edges against each other."""
    roof = made.roof()
    seat = 0.0
    for edge, end in ((low, foot_end), (high, top_end)):
        for place, near in _with_turns(made, edge, end):
            at = made.rolled(place, near)
            off = roof.distance(at) if edge is low else at.z - made.height
            seat = max(seat, abs(off))
    ends = [
        made.rolled(edge(turn), turn)
        for edge in (made.flat_foot, made.flat_top)
        for turn in (0.0, WHOLE)
    ]
    closed = max(ends[1].minus(ends[0]).length(), ends[3].minus(ends[2]).length())
    return Proof(closed, seat, 0.0, 0.0, True)


def _with_turns(
    made: Sleeve, edge: Sequence[Point], end: float
) -> list[tuple[Point, float]]:
    """Each place with its turn, to within half of one."""
    found: list[tuple[Point, float]] = []
    near = 0.0
    for place in edge:
        if not made.is_round:
            heading = radians(place.heading()) / made.narrowing
            whole = WHOLE / made.narrowing
            # Headings start again at half a circle; turns only grow.
            while heading < near - whole / 2:
                heading += whole
            near = min(heading, end)
        found.append((place, near))
    return found


def flange(pipe: Pipe) -> Draft:
    """The plate on the roof with its oval hole, along the slope's own lines.

    Plumb and round: d across, d / cos pitch along the slope.
    """
    made, turn = pipe.sleeve, pipe.bearing
    steep = cos(radians(pipe.tilt))

    def on_roof(around: float) -> Point:
        at = made.on_foot(-around)
        return Point(at.x, (at.y - made.foot) / steep).turned(-turn)

    hole = chords(on_roof, 0.0, WHOLE, STRAY)[:-1]
    if outline.area(hole) > 0:
        hole.reverse()
    x0, y0, x1, y1 = outline.bounds(hole)
    low = Point(x0 - pipe.flange, y0 - pipe.flange)
    width, length = x1 - x0 + 2 * pipe.flange, y1 - y0 + pipe.flange + pipe.above
    plate = (Point(0, 0), Point(width, 0), Point(width, length), Point(0, length))
    placed = tuple(p.minus(low) for p in hole)
    return Draft(
        Label("F", "pipe_collar", "Pipe collar, flange"),
        FlatPattern(plate, (), (), (), outlines=(plate, placed)),
        notes=("The hole is cut inside the line and turned up to the sleeve.",),
        figures=Proof(0.0, _off_sleeve(made, hole, turn), 0.0, 0.0, True),
    )


def _off_sleeve(made: Sleeve, hole: Sequence[Point], turn: float) -> float:
    """How far the hole's places, stood back into the roof, lie off the sleeve."""
    a = radians(made.tilt)
    worst = 0.0
    for p in hole:
        own = p.turned(turn)
        y, z = made.foot + own.y * cos(a), own.y * sin(a)
        radius = made.foot - (made.foot - made.top) * z / made.height
        worst = max(worst, abs(Point(own.x, y).length() - radius))
    return worst
