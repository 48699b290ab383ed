"""Directions in space and planes, held against scipy's rotations."""

from __future__ import annotations

from math import radians

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from layout.geometry.space import (
    Plane,
    Vec,
    angle_in_space,
    flipped,
    meeting_direction,
    mirrored,
)

UP, EAST, NORTH = Vec(0, 0, 1), Vec(1, 0, 0), Vec(0, 1, 0)


def test_cross_is_right_handed() -> None:
    assert EAST.cross(NORTH) == UP


def test_angle_in_space_is_never_negative() -> None:
    assert angle_in_space(EAST, NORTH) == pytest.approx(90)
    assert angle_in_space(NORTH, EAST) == pytest.approx(90)
    assert angle_in_space(EAST, EAST.scaled(-2)) == pytest.approx(180)


def test_a_place_has_no_direction() -> None:
    with pytest.raises(ValueError, match="no direction"):
        Vec(0, 0, 0).unit()


numbers = st.integers(-50, 50).map(float)


@settings(max_examples=50, deadline=None, derandomize=True, database=None)
@given(
    place=st.tuples(numbers, numbers, numbers),
    axis=st.tuples(numbers, numbers, numbers).filter(any),
    angle=st.integers(-180, 180),
)
def test_turned_agrees_with_scipy(
    place: tuple[float, float, float], axis: tuple[float, float, float], angle: int
) -> None:
    unit = Vec(*axis).unit()
    theirs = Rotation.from_rotvec(radians(angle) * np.array(unit)).apply(place)
    assert Vec(*place).turned(unit, angle) == pytest.approx(tuple(theirs), abs=1e-9)


def test_distance_to_a_plane_is_signed_by_its_normal() -> None:
    floor = Plane(Vec(5, 5, 1), UP)
    assert floor.distance(Vec(0, 0, 3)) == 2
    assert floor.distance(Vec(9, 9, 0)) == -1


def test_two_planes_meet_in_a_line_square_to_both_normals() -> None:
    slope = Plane(Vec(0, 0, 0), Vec(0, -1, 2).unit())
    line = meeting_direction(Plane(Vec(0, 0, 0), EAST), slope)
    assert line.dot(EAST) == pytest.approx(0)
    assert line.dot(slope.normal) == pytest.approx(0)


def test_parallel_planes_do_not_meet() -> None:
    with pytest.raises(ValueError):
        meeting_direction(Plane(Vec(0, 0, 0), UP), Plane(Vec(0, 0, 9), UP))


def test_the_mirror_swaps_the_sides_of_a_chimney() -> None:
    assert mirrored(Vec(0, 3, 4), 900) == Vec(900, 3, 4)
    assert flipped(Vec(1, 2, 3)) == Vec(-1, 2, 3)
    wall = Plane(Vec(0, 0, 0), Vec(-1, 0, 0)).mirrored(900)
    assert wall == Plane(Vec(900, 0, 0), Vec(1, 0, 0))
