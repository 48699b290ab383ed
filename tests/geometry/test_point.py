"""Points and directions of the plane."""

from __future__ import annotations

import pytest

from layout.geometry.point import Point, angle_between


def test_left_is_a_quarter_turn_counter_clockwise() -> None:
    assert Point(3, 1).left() == Point(-1, 3)


@pytest.mark.parametrize("angle", [0, 30, 90, 135, 180, 270, -45])
def test_turned_keeps_the_length_and_turns_by_the_angle(angle: float) -> None:
    start = Point(3, 4)
    turned = start.turned(angle)
    assert turned.length() == pytest.approx(5)
    assert (angle_between(start, turned) - angle) % 360 == pytest.approx(0, abs=1e-9)


def test_heading_is_measured_from_the_datum_edge() -> None:
    assert Point(0, 2).heading() == pytest.approx(90)
    assert Point(-1, -1).heading() == pytest.approx(-135)


def test_angle_between_is_positive_counter_clockwise() -> None:
    assert angle_between(Point(1, 0), Point(0, 5)) == pytest.approx(90)
    assert angle_between(Point(0, 5), Point(1, 0)) == pytest.approx(-90)


def test_a_point_has_no_direction() -> None:
    with pytest.raises(ValueError, match="no direction"):
        Point(0, 0).unit()
