"""Polygons: area, triangles, overlap, held against shapely."""

from __future__ import annotations

from math import cos, pi, sin

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from layout.geometry import outline
from layout.geometry.point import Point

SQUARE = [Point(0, 0), Point(4, 0), Point(4, 4), Point(0, 4)]
NOTCHED = [Point(0, 0), Point(6, 0), Point(6, 4), Point(3, 1), Point(0, 4)]


def test_area_is_positive_counter_clockwise() -> None:
    assert outline.area(SQUARE) == 16
    assert outline.area(SQUARE[::-1]) == -16


def test_bounds() -> None:
    assert outline.bounds(NOTCHED) == (0, 0, 6, 4)


def test_repeats_are_left_out_at_the_seam_as_well() -> None:
    ring = [SQUARE[0], SQUARE[0], *SQUARE[1:], Point(0, 1e-9)]
    assert outline.without_repeats(ring) == SQUARE


def test_triangles_fill_a_notched_polygon() -> None:
    cut = outline.triangles(NOTCHED)
    assert sum(outline.area(t) for t in cut) == pytest.approx(outline.area(NOTCHED))
    assert all(outline.area(t) > 0 for t in cut)


def test_a_point_on_a_straight_side_does_no_harm() -> None:
    ring = [Point(0, 0), Point(2, 0), *SQUARE[1:]]
    assert sum(outline.area(t) for t in outline.triangles(ring)) == pytest.approx(16)


@pytest.mark.parametrize("off", [1e-10, -1e-10, 1e-8, -1e-8])
def test_a_straight_corner_may_be_off_by_rounding(off: float) -> None:
    ring = [Point(0, 0), Point(700, 0), Point(700, 9), Point(350, 9 + off), Point(0, 9)]
    ring += [Point(off, 4.5)]
    assert sum(outline.area(t) for t in outline.triangles(ring)) == pytest.approx(6300)


def test_an_outline_that_crosses_itself_is_an_error() -> None:
    with pytest.raises(ValueError, match="crosses itself"):
        outline.triangles([Point(0, 0), Point(4, 4), Point(4, 0), Point(0, 3)])


def test_a_crossing_that_ear_cutting_would_overlook_is_an_error() -> None:
    # A seam's turn whose mitre runs past its end: all of it turns one way.
    ring = [
        Point(0, 102.9),
        Point(12.46, 101.94),
        Point(11.18, 103.55),
        Point(9.89, 86.89),
        Point(32.02, 85.17),
        Point(33.99, 110.49),
        Point(23.85, 123.32),
    ]
    assert not shapely.Polygon(ring).is_valid
    with pytest.raises(ValueError, match="crosses itself"):
        outline.triangles(ring)


def _moved(ring: list[Point], x: float, y: float) -> list[Point]:
    return [p.plus(Point(x, y)) for p in ring]


def test_a_side_parts_two_squares_that_touch() -> None:
    assert outline.are_parted(SQUARE, _moved(SQUARE, 4, 1))
    assert not outline.are_parted(SQUARE, _moved(SQUARE, 3.9, 1))


@pytest.mark.parametrize(
    ("x", "depth"), [(4.0, 0.0), (5.0, 0.0), (3.9, 0.1), (4.0005, 0.0), (-3.5, 0.5)]
)
def test_overlap_is_the_shift_that_parts_two_squares(x: float, depth: float) -> None:
    one = outline.triangles(SQUARE)
    two = outline.triangles(_moved(SQUARE, x, 0))
    assert outline.overlap_depth(one, two) == pytest.approx(depth)


def test_squares_that_share_a_corner_only_do_not_overlap() -> None:
    one = outline.triangles(SQUARE)
    assert outline.overlap_depth(one, outline.triangles(_moved(SQUARE, 4, 4))) == 0


@st.composite
def stars(draw: st.DrawFn) -> list[Point]:
    """A polygon seen whole from its middle: never crosses itself."""
    count = draw(st.integers(3, 12))
    radii = draw(st.lists(st.integers(5, 100), min_size=count, max_size=count))
    x, y = draw(st.integers(-60, 60)), draw(st.integers(-60, 60))
    return [
        Point(x + r * cos(2 * pi * i / count), y + r * sin(2 * pi * i / count))
        for i, r in enumerate(radii)
    ]


@settings(max_examples=100, deadline=None, derandomize=True, database=None)
@given(
    ring=st.lists(
        st.tuples(st.integers(0, 20), st.integers(0, 20)),
        min_size=4,
        max_size=8,
        unique=True,
    )
)
def test_crossings_agree_with_shapely(ring: list[tuple[int, int]]) -> None:
    points = [Point(*p) for p in ring]
    pairs = [
        shapely.LineString([points[i], points[(i + 1) % len(points)]])
        for i in range(len(points))
    ]
    crossed = any(one.crosses(two) for one in pairs for two in pairs)
    touched = _touches_inside(points)
    assert outline.crosses_itself(points) == crossed or touched


def _touches_inside(points: list[Point]) -> bool:
    """True where a corner lies on another side: touching, which is no crossing."""
    return any(
        shapely.LineString([p, points[(i + 1) % len(points)]]).distance(
            shapely.Point(q)
        )
        < 1e-9
        for i, p in enumerate(points)
        for q in points
        if q not in (p, points[(i + 1) % len(points)])
    )


@settings(max_examples=60, deadline=None, derandomize=True, database=None)
@given(one=stars(), two=stars())
def test_area_and_overlap_agree_with_shapely(
    one: list[Point], two: list[Point]
) -> None:
    first, second = shapely.Polygon(one), shapely.Polygon(two)
    assert outline.area(one) == pytest.approx(first.area)
    assert not outline.crosses_itself(one)
    cut = outline.triangles(one), outline.triangles(two)
    assert sum(outline.area(t) for t in cut[0]) == pytest.approx(first.area)
    shared = first.intersection(second).area
    deep = outline.overlap_depth(*cut)
    assert (deep > 1e-6) == (shared > 1e-6)
