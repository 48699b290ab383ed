from __future__ import annotations

import pytest

from layout.geometry.point import Point
from layout.nesting.pairs import closest, parting_line
from tests.nesting.sheets import taper


def half_turn(points: tuple[Point, ...], width: float, length: float) -> list[Point]:
    return [Point(width - p.x, length - p.y) for p in points]


def test_right_tapers_pair_to_the_sum_of_head_and_foot() -> None:
    # Common practice: a foot of 200 and a head of 120 make a rectangle of 320.
    one = taper(200, 900, 120)
    gap = closest(one, half_turn(one, 200, 900))
    assert gap + 200 == pytest.approx(200 + 120)


def test_even_tapers_need_half_the_difference_more() -> None:
    # Foot b 200, head a 120: a + b + (b - a) / 2.
    one = (Point(0, 0), Point(200, 0), Point(160, 900), Point(40, 900))
    gap = closest(one, half_turn(one, 200, 900))
    assert gap + 200 == pytest.approx(200 + 120 + 40)


def test_rectangles_gain_nothing() -> None:
    one = (Point(0, 0), Point(200, 0), Point(200, 900), Point(0, 900))
    assert closest(one, one) == pytest.approx(200)


def test_a_hollow_is_not_used() -> None:
    hook = (
        Point(0, 0),
        Point(200, 0),
        Point(200, 100),
        Point(50, 100),
        Point(50, 200),
        Point(200, 200),
        Point(200, 300),
        Point(0, 300),
    )
    bar = (Point(0, 0), Point(20, 0), Point(20, 300), Point(0, 300))
    assert closest(hook, bar) == pytest.approx(200)


def test_the_parting_line_runs_along_both_slants() -> None:
    one = taper(200, 900, 120)
    two = [p.plus(Point(120, 0)) for p in half_turn(one, 200, 900)]
    line = parting_line(one, two, (0, 0, 320, 900))
    assert line is not None
    assert sorted(line) == [pytest.approx((120, 900)), pytest.approx((200, 0))]
