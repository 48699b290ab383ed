"""Cones and sleeves in the flat: worked examples E.01 to E.16, and against a
numerical development and, where it is installed, a solid kernel."""

from __future__ import annotations

from itertools import pairwise
from math import cos, hypot, pi, radians, sin, sqrt, tan

import pytest
from scipy.integrate import quad

from layout.families.pipe import Pipe, flange, foot, sleeve
from layout.folding.rolled import Sector, Sleeve, frustum
from layout.geometry import outline


def by_slant(foot_diameter: float, top: float, slant: float) -> Sector:
    return frustum(
        foot_diameter, top, sqrt(slant**2 - ((foot_diameter - top) / 2) ** 2)
    )


def test_the_net_of_a_frustum() -> None:
    # E.01: 'The net of a frustum' (printed): 7.12 in, 11.39 in, 126.4 degrees.
    net = frustum(8, 5, 4)
    assert net.inner == pytest.approx(7.12, abs=0.01)
    assert net.outer == pytest.approx(11.39, abs=0.01)
    assert net.angle == pytest.approx(126.4, abs=0.05)


def test_a_cone_with_a_right_angled_point() -> None:
    # E.02: 'Cones', shop page (printed): 0.7071 x 360.
    assert frustum(2, 0, 1).angle == pytest.approx(254.6, abs=0.05)


def test_a_cone_with_an_apex_of_thirty_degrees() -> None:
    # E.03: 360 sin 15, rule of 'Construction of cone surface'.
    assert frustum(2, 0, 1 / tan(radians(15))).angle == pytest.approx(93.17, abs=0.01)


def test_a_sector_of_arc_fourteen() -> None:
    # E.04: Sheet Metal Drafting, p.82 (printed): arc 14, radius 7 -> 49.
    assert Sector(0, 7, 360 * 14 / (2 * pi * 7)).area == pytest.approx(49)


def test_the_arc_of_a_cone_is_its_base() -> None:
    # E.05: Sheet Metal Drafting, p.82 (printed): 15.7080 in.
    net = by_slant(5, 0, 12)
    assert radians(net.angle) * net.outer == pytest.approx(15.7080, abs=0.0005)


# Sheet Metal Drafting, p.82 and p.128: formula and sample problems, computed.
@pytest.mark.parametrize(
    ("net", "area", "tolerance"),
    [
        pytest.param(by_slant(5, 0, 12), 94.25, 0.01, id="E.06"),
        pytest.param(by_slant(7, 0, 11.25), 123.70, 0.01, id="E.07"),
        pytest.param(by_slant(96 / pi, 0, 102.5), 4920, 0.5, id="E.08"),
        pytest.param(frustum(6, 3, 3), 47.42, 0.01, id="E.10"),
        pytest.param(frustum(8, 4, 4), 84.30, 0.01, id="E.11"),
        pytest.param(by_slant(3.125, 2.5, 7.5), 66.27, 0.02, id="E.12"),
    ],
)
def test_lateral_areas(net: Sector, area: float, tolerance: float) -> None:
    assert net.area == pytest.approx(area, abs=tolerance)


# Sheet Metal Drafting, ch. V figure and p.128, computed.
@pytest.mark.parametrize(
    ("net", "slant"),
    [
        pytest.param(frustum(4, 0, 7), 7.2801, id="E.09"),
        pytest.param(frustum(6, 3, 3), 3.354, id="E.10"),
        pytest.param(frustum(8, 4, 4), 4.472, id="E.11"),
    ],
)
def test_slants(net: Sector, slant: float) -> None:
    assert net.slant == pytest.approx(slant, abs=0.001)


def test_the_sector_of_a_cone_of_altitude_seven() -> None:
    # E.09: Sheet Metal Drafting, ch. V figure: 98.90 degrees.
    assert frustum(4, 0, 7).angle == pytest.approx(98.90, abs=0.05)


# E.13, E.14: New Metal Worker Pattern Book, Problem 37, construction.
@pytest.mark.parametrize(
    ("pitch", "along"),
    [
        pytest.param(26.565051, 4.472, id="E.13 6:12"),
        pytest.param(45.0, 5.657, id="E.14 12:12"),
    ],
)
def test_hole_of_a_four_inch_pipe(pitch: float, along: float) -> None:
    plate = flange(Pipe(4 * 25.4, 150, 100, 0, pitch)).pattern
    x0, y0, x1, y1 = outline.bounds(plate.outlines[1])
    assert (x1 - x0) / 25.4 == pytest.approx(4.0, abs=0.001)
    assert (y1 - y0) / 25.4 == pytest.approx(along, abs=0.001)


def test_cut_ordinates_of_a_four_inch_pipe() -> None:
    # E.15: (d/2)(1 - cos) tan, 6:12, every 30 degrees from the short side.
    found = [foot(2, 26.565051, 30 * i) for i in range(7)]
    expected = [0, 0.134, 0.500, 1.000, 1.500, 1.866, 2.000]
    assert found == pytest.approx(expected, abs=0.001)
    made = sleeve(Pipe(4, 6, 5, 0, 26.565051)).pattern
    assert made.size()[0] == pytest.approx(12.566, abs=0.001)
    assert made.size()[1] == pytest.approx(6 + 2)


def test_cut_ordinates_of_a_hundred_millimetre_pipe() -> None:
    # E.16: 100 mm at 30 degrees.
    expected = [0, 3.868, 14.434, 28.868, 43.301, 53.868, 57.735]
    round_sleeve = Sleeve(50, 50, 150, 30)
    for i, wanted in enumerate(expected):
        assert foot(50, 30, 30 * i) == pytest.approx(wanted, abs=0.005)
        assert round_sleeve.drop(radians(30 * i)) == pytest.approx(wanted, abs=0.005)


SLEEVES = [
    Sleeve(55, 55, 150, 35),
    Sleeve(90, 55, 150, 35),
    Sleeve(120, 40, 60, 20),
    Sleeve(52, 50, 200, 60),
    Sleeve(90, 55, 150, 0),
]


def in_space(made: Sleeve, turn: float) -> tuple[float, float, float]:
    """The foot, found without the code's formula: the roof's height over the axis
    frame is (y - foot) tan(tilt); the cone's radius falls evenly with height."""
    low, high = -1e5, made.height
    steep = tan(radians(made.tilt))
    for _ in range(200):
        z = (low + high) / 2
        radius = made.foot - (made.foot - made.top) * z / made.height
        if z > (radius * cos(turn) - made.foot) * steep:
            high = z
        else:
            low = z
    radius = made.foot - (made.foot - made.top) * low / made.height
    return radius * sin(turn), radius * cos(turn), low


@pytest.mark.parametrize("made", SLEEVES)
def test_the_foot_lies_where_cone_and_roof_meet(made: Sleeve) -> None:
    for i in range(25):
        turn = 2 * pi * i / 24
        assert made.on_foot(turn) == pytest.approx(in_space(made, turn), abs=1e-6)


@pytest.mark.parametrize("made", SLEEVES)
def test_lengths_in_the_flat_are_lengths_in_space(made: Sleeve) -> None:
    # A development keeps lengths: the foot's, step by step, and every generator's.
    steps = 4000
    turns = [2 * pi * i / steps for i in range(steps + 1)]
    flat = sum(
        b.minus(a).length() for a, b in pairwise([made.flat_foot(t) for t in turns])
    )
    space = sum(
        b.minus(a).length() for a, b in pairwise([made.on_foot(t) for t in turns])
    )
    assert flat == pytest.approx(space, rel=1e-6)
    for turn in turns[:: steps // 12]:
        down = made.flat_foot(turn).minus(made.flat_top(turn)).length()
        x, y, z = in_space(made, turn)
        top = made.top * sin(turn), made.top * cos(turn), made.height
        assert down == pytest.approx(
            hypot(x - top[0], y - top[1], z - top[2]), abs=1e-6
        )


def lateral_area(made: Sleeve) -> float:
    """Of the sleeve, by quadrature in space: slant over height is constant."""
    slope = hypot(1, (made.foot - made.top) / made.height)

    def strip(turn: float) -> float:
        low, high = in_space(made, turn)[2], made.height
        mean = made.foot - (made.foot - made.top) * (low + high) / 2 / made.height
        return mean * (high - low) * slope

    found: float = quad(strip, 0, 2 * pi, limit=200)[0]
    return found


PIPES = [
    Pipe(110, 150, 100, 0, 35),
    Pipe(110, 150, 100, 0, 35, foot_diameter=180),
    Pipe(80, 60, 100, 0, 20, foot_diameter=240),
    Pipe(100, 200, 120, 0, 33.69, lean=12, lean_towards=90),
    Pipe(100, 200, 120, 0, 33.69, 150, lean=20, lean_towards=215),
]


@pytest.mark.parametrize("pipe", PIPES)
def test_the_blank_has_the_sleeves_area(pipe: Pipe) -> None:
    # Chords within 0.02 mm of an edge about a metre long.
    assert sleeve(pipe).pattern.area() == pytest.approx(
        lateral_area(pipe.sleeve), abs=40
    )


@pytest.mark.parametrize("pipe", PIPES)
def test_no_chord_strays_from_the_curve(pipe: Pipe) -> None:
    made = pipe.sleeve
    ring = sleeve(pipe).pattern.outlines[0]
    fine = [made.flat_foot(2 * pi * i / 5000) for i in range(5001)]
    x0, y0, _, _ = outline.bounds(
        [*fine, *(made.flat_top(2 * pi * i / 5000) for i in range(5001))]
    )
    # The blank may lie up to a stray off in its own frame: its bounds are chords'.
    sides = list(pairwise([*ring, ring[0]]))
    for p in fine[::7]:
        moved = type(p)(p.x - x0, p.y - y0)
        assert min(distance(moved, a, b) for a, b in sides) <= 0.02 * 2.5


def distance(p: outline.Point, a: outline.Point, b: outline.Point) -> float:
    along = b.minus(a)
    share = p.minus(a).dot(along) / along.dot(along)
    return p.minus(a.plus(along, min(1, max(0, share)))).length()


@pytest.mark.parametrize("pipe", PIPES)
def test_the_blank_has_the_solids_area(pipe: Pipe) -> None:
    # A general-purpose solid kernel: the cone cut by the roof's half space.
    pytest.importorskip("OCP")
    from tests.oracles.solids import lateral_face_area

    made = pipe.sleeve
    wanted = lateral_face_area(made.foot, made.top, made.height, made.tilt)
    assert sleeve(pipe).pattern.area() == pytest.approx(wanted, abs=40)
