"""Long runs in lengths: worked examples D.23, D.24 and B.12 to B.15."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from layout.folding.divide import (
    count,
    divide,
    expansion_joints,
    lengths,
    longest,
)
from layout.folding.facts import BrakeFacts, StockFacts

BRAKE = BrakeFacts("brake", 3048, 1016, 9.525, 145, 0.8)


def sheet(width: float, length: float) -> StockFacts:
    return StockFacts("copper", "sheet" if length else "coil", width, length)


def test_eight_foot_cap_strips_with_three_inch_laps() -> None:
    # D.23: Copper Flashings 1925, p.55: strips 8 ft, lap 3 in; three cover 23 1/2 ft.
    assert count(25 * 12, 8 * 12, 3) == 4
    assert count(23.5 * 12, 8 * 12, 3) == 3


def test_ten_foot_strips_with_four_inch_laps() -> None:
    # D.24: SMACNA lap 4 in; 10 ft lengths, CDA section 9.3.
    assert count(25 * 12, 10 * 12, 4) == 3


# UFGS 07600, p.22 and p.17: 40 ft for copper, 32 ft for aluminium; one more where
# the last joint lies further from the end than half an interval.
@pytest.mark.parametrize(
    ("run", "interval", "places"),
    [
        pytest.param(100, 40, [40, 80], id="B.12"),
        pytest.param(130, 40, [40, 80, 120], id="B.13"),
        pytest.param(110, 32, [32, 64, 96], id="B.14"),
        pytest.param(115, 32, [32, 64, 96, 105.5], id="B.15"),
        pytest.param(40, 40, [], id="no longer than an interval"),
        pytest.param(80, 40, [40, 60], id="a whole interval is left"),
    ],
)
def test_expansion_joints(run: float, interval: float, places: list[float]) -> None:
    assert expansion_joints(run, interval) == places


def test_a_last_length_too_short_shares_with_the_one_before() -> None:
    assert lengths(250, 100, 10, 20) == [100, 100, 70]
    assert lengths(195, 100, 10, 20) == [100, 57.5, 57.5]
    assert lengths(90, 100, 10, 20) == [90]


def test_the_stock_that_is_wide_enough_decides() -> None:
    stocks = [sheet(610, 2438), sheet(914, 3048), sheet(500, 0)]
    assert longest(330, BRAKE, stocks) == 3048
    assert longest(330, BRAKE, stocks[:1]) == 2438
    # Turned, a sheet gives its width: girth 700 along its 2438.
    assert longest(700, BRAKE, stocks[:1]) == 610
    assert longest(5000, BRAKE, stocks[:1]) == 3048
    assert longest(330, BRAKE, []) == 3048


def test_a_strip_no_longer_than_its_lap_is_refused() -> None:
    with pytest.raises(ValueError, match="longer than its lap"):
        count(100, 10, 10)


@given(
    run=st.floats(50, 60000),
    strip=st.floats(700, 4000),
    lap=st.floats(20, 110),
    interval=st.floats(1500, 18000),
)
def test_lengths_follow_each_other_to_the_end(
    run: float, strip: float, lap: float, interval: float
) -> None:
    shortest = 300.0
    made = divide(run, strip, lap, interval, shortest)
    assert made[0].start == 0
    for before, after in zip(made, made[1:], strict=False):
        assert before.start + before.size - after.start == pytest.approx(lap)
    assert made[-1].start + made[-1].size == pytest.approx(run)
    assert max(part.size for part in made) <= strip + 1e-6
    assert min(part.size for part in made) >= min(run, shortest) - 1e-6
    stops = [0.0, *(p.start for p in made if p.joint == "expansion"), run]
    gaps = [b - a for a, b in zip(stops, stops[1:], strict=False)]
    assert max(gaps) <= interval + 1e-6
