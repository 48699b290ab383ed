"""The check must find what is wrong, or its silence is worth nothing."""

from __future__ import annotations

from dataclasses import replace

import pytest

from layout.nesting.blank import AS_DRAWN, HEAD_TO_TAIL, Blank
from layout.nesting.check import faults
from layout.nesting.check_cuts import can_be_parted
from layout.nesting.place import place
from layout.nesting.plan import CutStock, Placement, Plan
from layout.nesting.stock import Stock
from tests.nesting.sheets import KEEP, coil, sheet, some, taper

BLANKS = some("A", 2, 400, 900) + some("B", 3, 300, 500, turns=HEAD_TO_TAIL)
STOCKS = [sheet()]


@pytest.fixture
def plan() -> Plan:
    return place(BLANKS, STOCKS)


def with_first(plan: Plan, **change: object) -> Plan:
    first, *rest = plan.stocks
    return replace(plan, stocks=(replace(first, **change), *rest))


def with_blank(plan: Plan, **change: object) -> Plan:
    first, *rest = plan.stocks[0].placements
    return with_first(plan, placements=(replace(first, **change), *rest))


def words(plan: Plan, stocks: list[Stock] = STOCKS) -> str:
    return "; ".join(faults(plan, BLANKS, stocks, KEEP))


def test_a_right_plan_has_no_fault(plan: Plan) -> None:
    assert faults(plan, BLANKS, STOCKS, KEEP) == []


def test_a_missing_blank_is_found(plan: Plan) -> None:
    first = plan.stocks[0]
    assert "is missing" in words(with_first(plan, placements=first.placements[1:]))


def test_a_blank_too_many_is_found(plan: Plan) -> None:
    first = plan.stocks[0]
    twice = (*first.placements, first.placements[0])
    assert "too often" in words(with_first(plan, placements=twice))


def test_a_blank_off_the_metal_is_found(plan: Plan) -> None:
    assert "leaves the metal" in words(with_blank(plan, x=-1.0))
    assert "leaves the metal" in words(plan, [sheet(trim=5.0)])


def test_a_shifted_blank_lies_in_its_neighbour(plan: Plan) -> None:
    one, two = plan.stocks[0].placements[:2]
    assert "deep in blank" in words(with_blank(plan, x=two.x + 1, y=two.y + 1))


def test_a_forbidden_turn_is_found(plan: Plan) -> None:
    first = plan.stocks[0]
    wrong = tuple(
        replace(p, width=p.length, length=p.width, turn=90)
        if p.blank.turns == HEAD_TO_TAIL
        else p
        for p in first.placements
    )
    assert "is turned by 90" in words(with_first(plan, placements=wrong))


def test_too_much_stock_is_found(plan: Plan) -> None:
    more = replace(plan, stocks=(*plan.stocks, replace(plan.stocks[0], number=2)))
    assert "2 are taken of 1" in words(more, [sheet(count=1)])
    assert "was not offered" in words(plan, [coil()])


def test_cuts_in_the_wrong_order_are_found(plan: Plan) -> None:
    cuts = plan.stocks[0].cuts
    assert len(cuts) > 2
    swapped = (replace(cuts[-1], order=1), *cuts[1:-1], replace(cuts[0], order=9))
    assert "a part that is not there" in words(with_first(plan, cuts=swapped))


def test_a_cut_left_out_is_found(plan: Plan) -> None:
    cuts = plan.stocks[0].cuts
    assert "does not come off" in words(with_first(plan, cuts=cuts[:-1]))


def test_a_cut_that_stops_halfway_is_found(plan: Plan) -> None:
    first, *rest = plan.stocks[0].cuts
    x, y = first.end
    short = replace(first, end=((first.start[0] + x) / 2, (first.start[1] + y) / 2))
    assert "straight through" in words(with_first(plan, cuts=(short, *rest)))


def test_a_wrong_cost_is_found(plan: Plan) -> None:
    assert "it says" in words(replace(plan, cost=plan.cost * 0.9))


def put(mark: str, x: float, y: float, width: float, length: float) -> Placement:
    return Placement(Blank(mark, 1, width, length), x, y, width, length, 0)


def test_a_pinwheel_can_not_be_cut_straight_through() -> None:
    # Four blanks round a hole: nothing overlaps, and no cut goes through.
    wheel = [
        put("A", 0, 0, 2, 1),
        put("B", 2, 0, 1, 2),
        put("C", 1, 2, 2, 1),
        put("D", 0, 1, 1, 2),
    ]
    assert not can_be_parted(wheel)
    assert can_be_parted(wheel[:3])


def test_a_pair_that_no_straight_cut_parts_is_found() -> None:
    outline = taper(400, 1000, 100)
    blanks = [Blank("T", n, 400, 1000, outline, HEAD_TO_TAIL) for n in (1, 2)]
    stocks = [coil(500.0)]
    right = place(blanks, stocks)
    assert faults(right, blanks, stocks, KEEP) == []
    one, two = right.stocks[0].placements
    close = replace(two, x=two.x - 5) if two.x > one.x else replace(two, x=two.x + 5)
    wrong = with_first(right, placements=(one, close))
    found = "; ".join(faults(wrong, blanks, stocks, KEEP))
    assert "deep in blank" in found and "does not part two" in found


def test_an_offcut_over_a_blank_is_found() -> None:
    blanks = some("A", 1, 400, 900, turns=AS_DRAWN)
    right = place(blanks, STOCKS)
    stock: CutStock = right.stocks[0]
    wrong = with_first(
        right, offcuts=tuple(replace(o, x=0.0, y=0.0) for o in stock.offcuts)
    )
    assert "not free metal" in "; ".join(faults(wrong, blanks, STOCKS, KEEP))
