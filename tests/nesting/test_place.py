from __future__ import annotations

import json

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from layout.nesting.blank import (
    ANY_WAY,
    AS_DRAWN,
    HEAD_TO_TAIL,
    Blank,
    blank_of,
    turns_allowed,
)
from layout.nesting.check import faults
from layout.nesting.hand import hand_plans
from layout.nesting.order import CannotPlan, order
from layout.nesting.place import place
from layout.nesting.plan import Plan
from layout.nesting.search import cost_of
from layout.nesting.stock import Keep, Stock
from tests.nesting.sheets import (
    INCH,
    KEEP,
    coil,
    planned,
    sheet,
    some,
    taper,
    tasks,
)

slow = settings(
    max_examples=40,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)


# --- small ones whose optimum is plain ---------------------------------------------


def test_blanks_that_tile_a_sheet_leave_nothing() -> None:
    blanks = some("A", 2, 900, 500) + some("B", 3, 300, 1000)
    plan = planned(blanks, [sheet()])
    assert len(plan.stocks) == 1
    assert plan.share == pytest.approx(1)
    assert plan.cost == pytest.approx(plan.bound)


def test_a_first_cut_that_runs_along_no_single_blank_is_found() -> None:
    # 600 | 300 across: neither column holds a blank of its full width.
    left = some("A", 1, 200, 1000) + some("B", 1, 400, 1000)
    left += some("C", 1, 350, 1000) + some("D", 1, 250, 1000)
    right = some("E", 1, 100, 2000) + some("F", 1, 200, 2000)
    plan = planned(left + right, [sheet()], rounds=200)
    assert plan.used == pytest.approx(900 * 2000)


def test_eighths_of_an_inch_fit_to_the_last() -> None:
    # 4 x 8 7/8 in and 1/2 in make 36 in; 25.4 mm has no exact binary fraction.
    blanks = some("A", 4, 8.875 * INCH, 96 * INCH, turns=HEAD_TO_TAIL)
    blanks += some("B", 1, 0.5 * INCH, 96 * INCH, turns=HEAD_TO_TAIL)
    plan = planned(blanks, [sheet(36 * INCH, 96 * INCH)])
    assert len(plan.stocks) == 1


def test_grain_keeps_a_blank_from_being_turned() -> None:
    free = planned(some("A", 4, 1000, 450), [sheet()])
    assert len(free.stocks) == 1 and all(p.turned for p in free.stocks[0].placements)
    with pytest.raises(CannotPlan, match="A is 1000 mm wide"):
        place(some("A", 1, 1000, 450, turns=HEAD_TO_TAIL), [sheet()])


def test_turns_follow_finish_and_rolling_direction() -> None:
    assert turns_allowed(rolled=False) == ANY_WAY
    assert turns_allowed(rolled=True) == HEAD_TO_TAIL
    assert turns_allowed(rolled=False, one_way=True) == AS_DRAWN


def test_coil_is_cut_to_the_length_wanted() -> None:
    plan = planned(some("A", 3, 300, 700, turns=HEAD_TO_TAIL), [coil()])
    assert sum(stock.length for stock in plan.stocks) == pytest.approx(1400)
    assert all(stock.cuts[0].part[3] == stock.length for stock in plan.stocks)


def test_coil_gives_no_more_than_is_left() -> None:
    with pytest.raises(CannotPlan, match="does not hold all 3 blanks"):
        place(some("A", 3, 600, 700, turns=HEAD_TO_TAIL), [coil(length=2000.0)])
    assert planned(some("A", 3, 600, 700), [coil(length=2100.0)]).cost


def test_longest_cut_off_is_kept() -> None:
    plan = planned(some("A", 6, 600, 700), [coil(longest=1500.0)])
    assert max(stock.length for stock in plan.stocks) <= 1500


def test_an_offcut_is_used_first_where_that_pays() -> None:
    offcut = Stock("rest", "offcut", 400, 800, 0.5, 1)
    plan = planned(some("A", 1, 390, 790), [sheet(), offcut])
    assert [stock.name for stock in plan.stocks] == ["rest"]


def test_an_offcut_is_left_where_it_does_not_pay() -> None:
    # One sheet holds both; the offcut would be cut up for nothing.
    offcut = Stock("rest", "offcut", 400, 800, 0.5, 1)
    plan = planned(some("A", 2, 450, 2000), [sheet(), offcut])
    assert [stock.name for stock in plan.stocks] == ["sheet"]


def test_a_trim_edge_is_cut_off_all_round() -> None:
    plan = planned(some("A", 1, 890, 1990), [sheet(trim=5.0)])
    put = plan.stocks[0].placements[0]
    assert (put.x, put.y) == (5, 5)
    assert len(plan.stocks[0].cuts) == 4
    with pytest.raises(CannotPlan, match="no stock holds it"):
        place(some("A", 1, 891, 1990), [sheet(trim=5.0)])


def test_tapered_blanks_go_head_to_tail_where_it_pays() -> None:
    blanks = some("T", 2, 400, 1000, outline=taper(400, 1000, 100), turns=HEAD_TO_TAIL)
    plan = planned(blanks, [coil(500.0)])
    assert plan.used == pytest.approx(500 * 1000)
    assert plan.stocks[0].cuts[-1].tool == "snips"
    assert {p.turn for p in plan.stocks[0].placements} == {0, 180}
    assert plan.share == pytest.approx(1)


def test_head_to_tail_is_never_forced() -> None:
    outline = taper(400, 1000, 100)
    one_way = some("T", 2, 400, 1000, outline=outline, turns=AS_DRAWN)
    assert planned(one_way, [coil(500.0)]).used == pytest.approx(500 * 2000)
    either = some("T", 2, 400, 1000, outline=outline, turns=HEAD_TO_TAIL)
    apart = planned(either, [coil(500.0)], pairs=False)
    assert apart.used == pytest.approx(500 * 2000)


def test_a_larger_offcut_is_left_among_plans_of_one_cost() -> None:
    plan = planned(some("A", 4, 200, 300), [sheet()])
    kept = max(offcut.area for offcut in plan.stocks[0].offcuts)
    # All four in a row across, or in one block: over 80 % stays in one piece.
    assert kept >= 0.8 * 900 * 2000


def test_what_a_kept_offcut_is_worth_is_given_back() -> None:
    plan = planned(some("A", 1, 900, 500), [sheet()], Keep(worth=0.5))
    assert plan.cost == pytest.approx(900 * 500 + 0.5 * 900 * 1500)
    assert plan.used == pytest.approx(900 * 500)


def test_many_alike_are_planned_by_patterns() -> None:
    # 3 of A and 2 of B fill a sheet; 40 sheets are the area.
    blanks = some("A", 120, 300, 1000) + some("B", 80, 900, 500)
    plan = planned(blanks, [sheet()])
    assert plan.cost == pytest.approx(plan.bound)


def test_a_long_cut_along_the_coil_goes_on_the_slitter() -> None:
    plan = planned(some("A", 2, 300, 4000, turns=HEAD_TO_TAIL), [coil()])
    tools = [cut.tool for cut in plan.stocks[0].cuts]
    assert tools == ["shear", "slitter"]


def test_blank_of_an_outline_runs_its_length_along_the_datum_edge() -> None:
    outline = [(p.x, p.y) for p in taper(1000, 200, 700)]
    found = blank_of("A", 1, [type(taper(1, 1, 1)[0])(*p) for p in outline])
    assert (found.width, found.length) == (200, 1000)
    assert found.area == pytest.approx((1000 + 700) / 2 * 200)


# --- refused well ------------------------------------------------------------------


def test_a_blank_larger_than_any_stock_is_named_with_the_remedy() -> None:
    with pytest.raises(CannotPlan) as refusal:
        place(some("PL", 1, 950, 2100) + some("A", 1, 10, 10), [sheet()])
    [fault] = refusal.value.faults
    assert "Blank PL is 950 mm wide" in fault and "divide the piece" in fault


@pytest.mark.parametrize(
    ("blanks", "stocks", "words"),
    [
        ([], [sheet()], "no blank to cut"),
        (some("A", 1, 10, 10), [], "no stock to cut from"),
        (some("A", 1, 10, 10) * 2, [sheet()], "A, copy 1 is given twice"),
        (some("A", 1, 10, 10), [sheet(), sheet()], "stock sheet is given twice"),
        (some("A", 2, 900, 2000), [sheet(count=1)], "does not hold all 2"),
    ],
)
def test_what_cannot_be_planned_is_said(blanks: list, stocks: list, words: str) -> None:
    with pytest.raises(CannotPlan, match=words):
        place(blanks, stocks)


@pytest.mark.parametrize("size", [0.0, -1.0, float("nan"), float("inf")])
def test_a_size_that_is_no_length_is_refused(size: float) -> None:
    with pytest.raises(ValueError, match="width was"):
        Blank("A", 1, size, 100)
    with pytest.raises(ValueError, match="width was"):
        sheet(size)


def test_a_search_without_an_end_is_refused() -> None:
    with pytest.raises(ValueError, match="carry_on"):
        place(some("A", 1, 10, 10), [sheet()], rounds=None)


# --- at once, better and better, stopped at will ------------------------------------


def test_a_search_told_to_stop_at_once_gives_a_whole_plan() -> None:
    blanks = some("A", 7, 333, 777) + some("B", 5, 210, 1400)
    plan = planned(blanks, [sheet()], rounds=None, carry_on=lambda: False)
    assert len(plan.stocks) >= 1


def test_progress_tells_each_better_plan_once() -> None:
    told: list[Plan] = []
    blanks = [
        b for n in range(9) for b in some(f"P{n}", 3, 101 + 37 * n, 300 + 111 * n)
    ]
    last = planned(blanks, [sheet(), coil()], rounds=60, progress=told.append)
    costs = [plan.cost for plan in told]
    assert costs == sorted(costs, reverse=True) and len(set(costs)) == len(costs)
    assert len(told) > 1 and last.cost <= costs[-1] * (1 + 1e-9)
    assert all(faults(p, blanks, [sheet(), coil()], KEEP) == [] for p in told)


# --- promises on any task -----------------------------------------------------------


@slow
@given(tasks(), st.integers(0, 3))
def test_every_plan_passes_the_check_and_is_no_dearer_than_by_hand(
    task: tuple[list[Blank], list[Stock], Keep], seed: int
) -> None:
    blanks, stocks, keep = task
    plan = planned(blanks, stocks, keep, seed=seed, rounds=6)
    plain = Keep(keep.width, keep.length)
    by_hand = hand_plans(order(blanks, stocks, plain, pairs=False).task)
    least = min(cost_of(sheets) for sheets in by_hand)
    assert plan.cost <= least * (1 + 1e-9)
    assert plan.bound <= plan.cost * (1 + 1e-9)
    json.dumps(faults(plan, blanks, stocks, keep))


@slow
@given(tasks(), st.integers(0, 3))
def test_same_seed_same_plan(
    task: tuple[list[Blank], list[Stock], Keep], seed: int
) -> None:
    blanks, stocks, keep = task
    one = place(blanks, stocks, keep, seed=seed, rounds=5)
    two = place(blanks, stocks, keep, seed=seed, rounds=5, carry_on=lambda: True)
    assert one == two
