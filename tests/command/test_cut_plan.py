"""cut-plan.json: every copy of every blank, placed by a plan the checker passes."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest

from layout import cut_plan, run
from layout.nesting.check import faults
from layout.nesting.stock import Keep
from tests.sites import record


def laid(changes: dict[str, Any] | None = None) -> Any:
    return run.lay_out(record(changes))


def test_every_copy_is_placed_once() -> None:
    made = laid()
    plan = cut_plan.cut_plan(made)
    placed = Counter(put["mark"] for put in plan["placements"])
    assert placed == {piece.mark: piece.quantity for piece in made.pieces}


@pytest.mark.parametrize("back", ["flat", "falling left", "saddle"])
@pytest.mark.parametrize("counterflashing", ["none", "level and raked", "stepped"])
def test_the_plan_is_checked_by_code_that_shares_nothing_with_the_search(
    back: str, counterflashing: str
) -> None:
    made = laid({"back": back, "counterflashing": counterflashing})
    blanks = cut_plan.blanks_of(made.pieces)
    stocks = [cut_plan.stock_of(stock) for stock in made.stocks]
    found = cut_plan.quick(blanks, stocks)
    assert faults(found, blanks, stocks, Keep()) == []


def test_yield_is_outlines_over_metal_used_and_never_over_its_bound() -> None:
    made = laid()
    plan = cut_plan.cut_plan(made)
    outlines = sum(piece.area * piece.quantity for piece in made.pieces)
    assert plan["yield"] == pytest.approx(outlines / plan["metal_used"], rel=1e-5)
    assert plan["yield"] <= plan["bound"]["yield"] + 1e-6


def test_a_blank_larger_than_any_stock_is_named() -> None:
    plan = cut_plan.cut_plan(laid({"width": "130", "back": "flat"}))
    assert any("B" in reason for reason in plan["refused"])


def test_the_same_set_gives_the_same_plan() -> None:
    assert cut_plan.cut_plan(laid()) == cut_plan.cut_plan(laid())
