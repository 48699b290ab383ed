from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import MultiPoint, Polygon

from layout.geometry.outline import hull
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


@given(
    st.lists(
        st.lists(
            st.tuples(st.floats(0, 400), st.floats(0, 1000)).map(
                lambda it: (round(it[0], 3), round(it[1], 3))
            ),
            min_size=3,
            max_size=9,
            unique=True,
        ).filter(lambda it: MultiPoint(it).convex_hull.area > 100),
        min_size=2,
        max_size=2,
    )
)
def test_whatever_is_set_side_by_side_is_parted_by_one_straight_cut(
    outlines: list[list[tuple[float, float]]],
) -> None:
    one, two = ([Point(*p) for p in outline] for outline in outlines)
    gap = max(0.0, closest(one, two))
    beside = [p.plus(Point(gap, 0)) for p in two]
    # shapely, a general geometry library, knows whether the hulls lie on each other.
    first, second = (MultiPoint(ring).convex_hull for ring in (one, beside))
    assert first.intersection(second).area < 1e-3
    line = parting_line(one, beside, (0, 0, 2000, 1000))
    assert line is not None


@given(
    st.lists(
        st.tuples(st.integers(-50, 50), st.integers(-50, 50)), min_size=3, max_size=20
    ).filter(lambda it: MultiPoint(it).convex_hull.area > 0)
)
def test_the_hull_is_the_convex_one(points: list[tuple[int, int]]) -> None:
    found = Polygon(hull([Point(*p) for p in points]))
    assert found.exterior.is_ccw
    assert found.equals(MultiPoint(points).convex_hull)
