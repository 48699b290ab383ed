from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Polygon

from layout.drawing.clip import clipped_path
from layout.drawing.paper import Box
from layout.drawing.placing import LEVEL, Spot, Taken, meet, spread, turned_box
from layout.geometry.point import Point

places = st.floats(-40, 40).map(lambda x: round(x, 2))
boxes = st.builds(
    lambda x, y, turn, w, h: turned_box(Point(x, y), LEVEL.turned(turn), w, h),
    places,
    places,
    st.integers(0, 359),
    st.integers(1, 30),
    st.integers(1, 30),
)


@given(boxes, boxes)
def test_meeting_boxes_are_those_that_share_an_area(one, two):
    shared = Polygon(one).intersection(Polygon(two)).area
    if shared > 1e-6:
        assert meet(one, two)
    elif Polygon(one).distance(Polygon(two)) > 1e-6:
        assert not meet(one, two)


@given(st.lists(st.floats(0, 100), max_size=14).map(sorted))
def test_spread_figures_keep_their_order_and_distance(wanted):
    sizes = [7.0 if i % 3 else 6.0 for i in range(len(wanted))]
    found = spread(wanted, sizes, 0.0, 100.0)
    boxes = [(p - s / 2, p + s / 2) for p, s in zip(found, sizes, strict=True)]
    assert all(b[0] >= a[1] - 1e-6 for a, b in pairwise(boxes))
    assert all(a >= -1e-6 and b <= 100 + 1e-6 for a, b in boxes)


def test_figures_with_room_stay_where_they_are():
    assert spread([10, 30, 50], [7.0] * 3, 0.0, 100.0) == [10, 30, 50]


def test_two_figures_for_one_place_part_evenly():
    assert spread([50, 50], [8.0] * 2, 0.0, 100.0) == [46, 54]


def test_figures_without_room_are_refused():
    with pytest.raises(ValueError, match="20 figures"):
        spread([1.0] * 20, [7.0] * 20, 0.0, 100.0)


def test_words_are_not_put_where_others_are():
    taken = Taken(Box(0, 0, 100, 100))
    taken.take(turned_box(Point(20, 20), LEVEL, 10, 10))
    assert taken.best([Spot(Point(22, 22), LEVEL, 4, 4, 0.0)]) is None
    spot = taken.best([Spot(Point(22, 22), LEVEL, 4, 4, 0.0)] + [FREE])
    assert spot == FREE
    assert not taken.is_free(FREE)


FREE = Spot(Point(60, 60), LEVEL, 4, 4, 1.0)


def test_words_stay_inside_their_area():
    taken = Taken(Box(0, 0, 100, 100))
    assert not taken.is_free(Spot(Point(99, 50), LEVEL, 4, 4, 0.0))


def test_a_line_costs_more_than_a_step_aside():
    taken = Taken(Box(0, 0, 100, 100))
    taken.keep_free([Point(0, 50), Point(100, 50)])
    on_line = Spot(Point(50, 50), LEVEL, 4, 4, 0.0)
    aside = Spot(Point(50, 60), LEVEL, 4, 4, 0.5)
    assert taken.best([on_line, aside]) == aside


def test_a_path_is_cut_at_the_box():
    box = Box(0, 0, 10, 10)
    path = [Point(-5, 5), Point(5, 5), Point(5, 20), Point(8, 20), Point(8, 5)]
    parts = list(clipped_path(path, box))
    assert parts == [
        [Point(0, 5), Point(5, 5), Point(5, 10)],
        [Point(8, 10), Point(8, 5)],
    ]


def test_a_path_outside_leaves_nothing():
    assert list(clipped_path([Point(20, 0), Point(20, 9)], Box(0, 0, 10, 10))) == []
