"""Straight lines, rounded corners, chords."""

from __future__ import annotations

from math import acos, cos, degrees, radians

import pytest

from layout.geometry import line
from layout.geometry.point import Point

ORIGIN, EAST, NORTH = Point(0, 0), Point(1, 0), Point(0, 1)


def test_crossing_of_two_lines() -> None:
    met = line.crossing(ORIGIN, Point(1, 1), Point(4, 0), NORTH)
    assert met == pytest.approx((4, 4))


def test_parallel_lines_do_not_cross() -> None:
    with pytest.raises(ValueError, match="parallel"):
        line.crossing(ORIGIN, EAST, NORTH, EAST.scaled(-3))


@pytest.mark.parametrize(
    ("place", "on"),
    [
        (Point(5, 0), True),
        (Point(0, 0), True),
        (Point(10, 0), True),
        (Point(10.1, 0), False),
        (Point(-0.1, 0), False),
        (Point(5, 0.1), False),
        (Point(5, 1e-9), True),
    ],
)
def test_a_segment_holds_its_ends_and_what_lies_between(place: Point, on: bool) -> None:
    assert line.is_on_segment(place, ORIGIN, Point(10, 0)) is on


def test_a_segment_of_no_length_holds_its_own_place_only() -> None:
    assert line.is_on_segment(ORIGIN, ORIGIN, ORIGIN)
    assert not line.is_on_segment(NORTH, ORIGIN, ORIGIN)


@pytest.mark.parametrize("sweep", [30, 90, 146.3])
@pytest.mark.parametrize("radius", [10, 76.2, 500])
def test_chords_stay_within_the_stray(radius: float, sweep: float) -> None:
    count = line.chord_count(radius, sweep, 0.05)
    sagitta = radius * (1 - cos(radians(sweep / count / 2)))
    assert sagitta <= 0.05 + 1e-12
    if count > 1:
        coarser = radius * (1 - cos(radians(sweep / (count - 1) / 2)))
        assert coarser > 0.05


def test_a_radius_under_the_stray_needs_one_chord() -> None:
    assert line.chord_count(0.04, 90, 0.05) == 1


def test_a_rounded_corner_is_an_arc_tangent_to_both_sides() -> None:
    points = line.rounded(Point(10, 0), EAST, NORTH, 4, 9)
    assert points[0] == pytest.approx((6, 0))
    assert points[-1] == pytest.approx((10, 4))
    for p in points:
        assert p.minus(Point(6, 4)).length() == pytest.approx(4)


def test_a_rounded_corner_turns_right_as_well() -> None:
    points = line.rounded(Point(10, 0), EAST, NORTH.scaled(-1), 4, 9)
    assert points[-1] == pytest.approx((10, -4))
    for p in points:
        assert p.minus(Point(6, -4)).length() == pytest.approx(4)


def test_arcs_about_one_centre_are_parallel_chord_by_chord() -> None:
    wide = line.rounded(Point(10, 0), EAST, NORTH, 8, 5)
    narrow = line.rounded(Point(9, 1), EAST, NORTH, 7, 5)
    gaps = {round(p.minus(q).length(), 9) for p, q in zip(wide, narrow, strict=True)}
    assert gaps == {1.0}


def test_a_ray_cuts_a_path_at_its_first_crossing() -> None:
    path = [Point(-5, 1), Point(5, 1), Point(5, 8), Point(-5, 8)]
    index, place = line.cut_at(path, ORIGIN, NORTH)
    assert (index, place) == (0, pytest.approx((0, 1)))


def test_a_ray_that_misses_the_path_is_an_error() -> None:
    with pytest.raises(ValueError, match="misses"):
        line.cut_at([Point(1, 1), Point(5, 1)], ORIGIN, NORTH)


def test_the_angle_of_one_chord_has_the_stray_as_its_sagitta() -> None:
    step = degrees(2 * acos(1 - 0.05 / 76.2))
    assert line.chord_count(76.2, step * 7, 0.05) in (7, 8)
