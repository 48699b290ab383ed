"""Fold order: the plan against exhaustive search and a plain simulation.

The checks share nothing with the planner but the brake's shapes: the section
is bent here by turning points, and the metal is looked at against jaws, bed
and leaf point by point.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import permutations
from math import cos, radians, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from layout.families.chain import Between, Strip, chain
from layout.folding import bench, brake, order
from layout.folding.facts import BrakeFacts
from layout.folding.pattern import FlatPattern
from layout.geometry.point import Point

BRAKE = BrakeFacts("brake", 3000.0, 1000.0, 10.0, 145.0, 1.0)
LENGTH = 500.0


def profile(widths: list[float], angles: list[float]) -> FlatPattern:
    strips = [Strip(f"leg {i}", "face", w, w) for i, w in enumerate(widths)]
    folds = [Between(a, "leg") for a in angles]
    return chain(LENGTH, strips, folds, 0).pattern()


def planned(widths: list[float], angles: list[float]) -> order.Plan:
    pattern = profile(widths, angles)
    return order.plan(pattern, bench.folds(pattern), BRAKE)


def positions(widths: list[float], angles: list[float]) -> list[int]:
    """The planned folds as numbers of the lines between strips, from below."""
    pattern = profile(widths, angles)
    folds = bench.folds(pattern)
    made = order.plan(pattern, folds, BRAKE)
    stops = [sum(widths[: i + 1]) for i in range(len(angles))]
    return [
        min(
            range(len(stops)),
            key=lambda i: abs(stops[i] - folds[turn.fold].line[0].y),
        )
        for turn in made.steps
    ]


# --- the plain simulation ----------------------------------------------------


def side(
    widths: list[float], angles: dict[int, float], fold: int, step: int, sign: float
) -> list[tuple[float, float]]:
    """Places along one side of a fold, a millimetre apart, from the fold out."""
    x = y = heading = 0.0
    found = []
    strip = fold + (1 if step > 0 else 0)
    while 0 <= strip < len(widths):
        whole = int(widths[strip])
        for _ in range(whole):
            x += cos(radians(heading))
            y += sin(radians(heading))
            found.append((x, y))
        beyond = strip if step > 0 else strip - 1
        heading += sign * angles.get(beyond, 0.0)
        strip += step
    return found


def inside(place: tuple[float, float], shape: tuple[tuple[float, float], ...]) -> bool:
    """Deeper than a touch inside a convex counter-clockwise shape."""
    for i, (ax, ay) in enumerate(shape):
        bx, by = shape[(i + 1) % len(shape)]
        size = ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5
        off = ((bx - ax) * (place[1] - ay) - (by - ay) * (place[0] - ax)) / size
        if off < brake.TOUCH + 0.7:
            return False
    return True


def can_make(
    widths: list[float], angles: list[float], done: set[int], fold: int, step: int
) -> bool:
    sign = 1.0 if angles[fold] > 0 else -1.0
    bent = {i: angles[i] for i in done}
    front = side(widths, bent, fold, step, sign)
    back = [(-x, y) for x, y in side(widths, bent, fold, -step, sign)]

    def straight(arm: list[tuple[float, float]]) -> float:
        return max(abs(x) for x, y in arm if abs(y) < 1e-6)

    if (
        straight(front) < BRAKE.smallest_flange
        or straight(back) < BRAKE.smallest_flange
    ):
        return False
    tools = [tuple(tuple(p) for p in s) for s in (*brake.JAW, *brake.BED)]
    if any(inside(place, tool) for place in back for tool in tools):
        return False
    if any(inside(p, tuple(tuple(q) for q in s)) for p in front for s in brake.LEAF):
        return False

    angle = abs(angles[fold])
    swings = [*range(10, int(angle), 10), angle]
    for swing in swings:
        c, s = cos(radians(swing)), sin(radians(swing))
        if any(
            inside((x * c - y * s, x * s + y * c), jaw)
            for x, y in front
            for jaw in tools
        ):
            return False
    return True


def makes_all(widths: list[float], angles: list[float], sequence: list[int]) -> bool:
    done: set[int] = set()
    for fold in sequence:
        if not any(can_make(widths, angles, done, fold, step) for step in (1, -1)):
            return False
        done.add(fold)
    return True


# --- checks ------------------------------------------------------------------

legs = st.lists(st.integers(20, 120), min_size=2, max_size=5)


@settings(max_examples=40, deadline=None, derandomize=True)
@given(legs, st.data())
def test_a_planned_order_can_be_made_and_none_is_missed(
    widths: list[int], data: st.DataObject
) -> None:
    sizes = [float(w) for w in widths]
    angles = [
        float(data.draw(st.sampled_from((-120, -90, -45, 30, 60, 90, 120))))
        for _ in sizes[1:]
    ]
    made = positions(sizes, angles)
    if len(made) == len(angles):
        assert makes_all(sizes, angles, made)
    else:
        assert not any(
            makes_all(sizes, angles, list(way))
            for way in permutations(range(len(angles)))
        )


def test_a_channel_needs_one_turning_round_or_none() -> None:
    # Both legs up, 60 mm on a 200 mm web: the second one swings clear.
    assert planned([60.0, 200.0, 60.0], [90.0, 90.0]).turnings <= 1


def test_folds_both_ways_turn_the_sheet_over_once() -> None:
    made = planned([60.0, 200.0, 60.0], [90.0, -90.0])
    assert len(made.steps) == 2
    assert made.turnings == 1


def test_a_box_too_narrow_for_the_jaws_is_left_to_hand_tools() -> None:
    # 30 mm web between legs of 80 mm: whichever leg stands first meets the jaw.
    made = planned([80.0, 30.0, 80.0], [90.0, 90.0])
    assert len(made.by_hand) == 1
    assert made.by_hand[0].frees


def test_an_edge_smaller_than_the_brake_folds_is_left_to_hand_tools() -> None:
    made = planned([6.0, 200.0], [90.0])
    assert not made.steps
    assert "smaller" in made.by_hand[0].why


def test_a_fold_past_the_leaf_is_left_to_hand_tools() -> None:
    made = planned([60.0, 200.0], [150.0])
    assert "145°" in made.by_hand[0].why


@pytest.mark.parametrize("folds", [4, 6, 8, 10])
def test_ten_folds_are_planned_without_trying_every_order(folds: int) -> None:
    widths = [30.0 + 7 * (i % 4) for i in range(folds + 1)]
    angles = [60.0 if i % 2 else -60.0 for i in range(folds)]
    pattern = profile(widths, angles)
    search = order._Search(pattern, bench.folds(pattern), BRAKE)
    search.order(list(search.places))
    # One answer a fold, a side and a set of folds done, at the very most.
    assert len(search.known) <= 2 * folds * 2 ** (folds - 1)


@pytest.mark.parametrize(
    ("clamp", "where"), [(0.0, 1), (30.0, 1), (31.0, 0), (19.0, 1)]
)
def test_the_jaws_hold_the_wide_side_and_need_their_least_of_it(
    clamp: float, where: int
) -> None:
    pattern = profile([20.0, 30.0], [90.0])
    firm = replace(BRAKE, smallest_clamp=clamp)
    made = order.plan(pattern, bench.folds(pattern), firm)
    assert len(made.steps) == where
    if not where:
        assert "jaws hold" in made.by_hand[0].why


def test_a_thin_nose_passes_where_the_usual_jaw_is_met() -> None:
    """The brake's own section decides: 30 mm web between legs of 80 mm."""
    pattern = profile([80.0, 30.0, 80.0], [90.0, 90.0])
    folds = bench.folds(pattern)
    thin = ((Point(0, 0), Point(0, 60), Point(-20, 60), Point(-20, 0)),)
    own = replace(BRAKE, jaw=thin, bed=thin_below(thin))
    assert len(order.plan(pattern, folds, own).steps) == 2
    assert len(order.plan(pattern, folds, BRAKE).steps) < 2


def thin_below(
    shapes: tuple[tuple[Point, ...], ...],
) -> tuple[tuple[Point, ...], ...]:
    """The same shapes mirrored under the metal, counter-clockwise again."""
    return tuple(tuple(Point(p.x, -p.y) for p in reversed(s)) for s in shapes)
