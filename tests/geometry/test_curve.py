from __future__ import annotations

from math import cos, pi, sin

import pytest

from layout.geometry.curve import chords
from layout.geometry.point import Point


def circle(turn: float) -> Point:
    return Point(100 * cos(turn), 100 * sin(turn))


def test_chords_of_a_circle_stray_no_further() -> None:
    # Sagitta of a chord of angle a: r (1 - cos(a / 2)).
    points = chords(circle, 0, 2 * pi, 0.02)
    turns = [2 * pi * i / 20000 for i in range(20000)]
    worst = max(abs(100 - p.plus(q).scaled(0.5).length()) for p, q in pairs(points))
    assert 0.002 < worst <= 0.02
    assert len(points) < len(turns) / 50


def pairs(points: list[Point]) -> list[tuple[Point, Point]]:
    return list(zip(points, points[1:], strict=False))


def test_a_straight_line_is_one_chord() -> None:
    assert chords(lambda t: Point(3 * t, 4 * t), 0, 10, 0.02) == [
        Point(0, 0),
        Point(30, 40),
    ]


def test_a_chord_through_a_turning_point_is_not_taken_for_straight() -> None:
    points = chords(lambda t: Point(t, 5 * sin(t)), 0, 2 * pi, 0.02)
    assert max(p.y for p in points) == pytest.approx(5, abs=0.02)
