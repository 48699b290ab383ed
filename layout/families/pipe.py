"""A pipe collar: a round plumb pipe through a sloping roof, sleeve and flange.

Both pieces are curved or pierced, not folded: their proof rolls the outline
back on to the pipe and measures how far it lies from the roof.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, cos, pi, radians, sin, sqrt, tan

from layout.families.assembly import Assembly
from layout.families.draft import Draft, Label
from layout.folding.facts import ShopFacts
from layout.folding.pattern import FlatPattern
from layout.folding.result import Proof
from layout.geometry.point import Point
from layout.geometry.space import Plane, Vec

STRAY = 0.02
"""No chord of an outline strays further from the curve, mm (the contract)."""


@dataclass(frozen=True, slots=True)
class Pipe:
    """diameter; upstand: height of the sleeve on its short, upslope side;
    flange: metal round the pipe on the roof; lap: of the sleeve's seam; mm.
    pitch: degrees."""

    diameter: float
    upstand: float
    flange: float
    lap: float
    pitch: float

    @property
    def radius(self) -> float:
        return self.diameter / 2


def foot(radius: float, pitch: float, around: float) -> float:
    """How much longer the sleeve is at an angle from its short side, mm.

    y = r tan(pitch) (1 - cos angle); around: degrees from the upslope side.
    Example: r 2, 6:12, 180 degrees -> 2.
    """
    return radius * tan(radians(pitch)) * (1 - cos(radians(around)))


def assemble(pipe: Pipe, shop: ShopFacts) -> Assembly:
    """Sleeve and flange of one collar."""
    made = Assembly(pitch=pipe.pitch)
    made.make(lambda: [sleeve(pipe), flange(pipe)])
    return made


def sleeve(pipe: Pipe) -> Draft:
    """The rolled part; its datum edge is the straight top, its seam on the
    short side, where a lap is added."""
    around, r = pipe.pitch, pipe.radius
    stretch = 2 * pi * r
    # A chord s of a curve with y'' strays by s * s * y'' / 8.
    step = sqrt(8 * STRAY * r / tan(radians(around)))
    chords = ceil(stretch / step)
    curve = [
        Point(
            stretch * i / chords, pipe.upstand + foot(r, pipe.pitch, 360 * i / chords)
        )
        for i in range(chords + 1)
    ]
    count = ceil(pipe.lap / step) if pipe.lap else 0
    for i in range(1, count + 1):
        x = pipe.lap * i / count
        turn = 360 * x / stretch
        curve.append(Point(stretch + x, pipe.upstand + foot(r, pipe.pitch, turn)))
    outline = (Point(0, 0), Point(stretch + pipe.lap, 0), *reversed(curve))
    return Draft(
        Label("S", "pipe_collar", "Pipe collar, sleeve"),
        FlatPattern(outline, (), (), (), outlines=(outline,)),
        notes=("Rolled, not folded. Seam on the short side, upslope.",),
        figures=_rolled(pipe, curve, chords),
    )


def _rolled(pipe: Pipe, curve: list[Point], chords: int) -> Proof:
    """Rolls the foot back on to the pipe and measures it against the roof."""
    a = radians(pipe.pitch)
    # Axis plumb along z, upslope towards +y, the roof through the short side.
    roof = Plane(Vec(0, pipe.radius, 0), Vec(0, -sin(a), cos(a)))
    places = []
    for p in curve:
        turn = p.x / pipe.radius
        places.append(
            Vec(
                pipe.radius * sin(turn),
                pipe.radius * cos(turn),
                pipe.upstand - p.y,
            )
        )
    seat = max(abs(roof.distance(place)) for place in places)
    closed = places[chords].minus(places[0]).length()
    return Proof(closed, seat, 0.0, 0.0, True)


def flange(pipe: Pipe) -> Draft:
    """The plate on the roof with its oval hole: d across, d / cos pitch along."""
    across, along = pipe.radius, pipe.radius / cos(radians(pipe.pitch))
    width = 2 * (across + pipe.flange)
    length = 2 * (along + pipe.flange)
    plate = (Point(0, 0), Point(width, 0), Point(width, length), Point(0, length))
    # On the circle of the greatest curvature radius a chord strays the most.
    widest = along * along / across
    chords = 4 * ceil(pi / sqrt(8 * STRAY / widest) * along / widest / 2 + 8)
    hole = tuple(
        Point(
            width / 2 + across * cos(2 * pi * i / chords),
            length / 2 - along * sin(2 * pi * i / chords),
        )
        for i in range(chords)
    )
    seat = max(
        abs(((p.x - width / 2) / across) ** 2 + ((p.y - length / 2) / along) ** 2 - 1)
        * across
        for p in hole
    )
    return Draft(
        Label("F", "pipe_collar", "Pipe collar, flange"),
        FlatPattern(plate, (), (), (), outlines=(plate, hole)),
        notes=("The hole is cut inside the line and turned up to the sleeve.",),
        figures=Proof(0.0, seat, 0.0, 0.0, True),
    )
