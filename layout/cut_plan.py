"""The quick cut plan of one laid set: its blanks on the stock its shop keeps.

Takes a LaidSet, gives `cut-plan.json` as plain values. A job's own plans, from
the rack and with time to search, are in plans.py.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from layout.folding.facts import StockFacts
from layout.folding.result import LaidSet, Piece
from layout.nesting import check
from layout.nesting.blank import Blank, blank_of
from layout.nesting.order import CannotPlan
from layout.nesting.place import place
from layout.nesting.plan import Plan
from layout.nesting.plan_file import plan_file
from layout.nesting.stock import Form, Keep, Stock

ROUNDS = 8
"""Attempts to better the first plan: a tenth of a second for 30 blanks."""


def cut_plan(laid: LaidSet) -> dict[str, Any]:
    """The plan of a set of one metal; of several metals, one plan each under
    `plans`. Same set, same plan.

    Where a blank is larger than any stock the plan is its reasons, `refused`.
    """
    metals = list(dict.fromkeys(piece.metal for piece in laid.pieces))
    plans = [
        _plan(
            [piece for piece in laid.pieces if piece.metal == metal],
            [stock for stock in laid.stocks if stock.metal == metal],
        )
        | {"metal": metal}
        for metal in metals
    ]
    if len(plans) == 1:
        return plans[0]
    return {"format": "seambook.plan/1", "units": "mm", "plans": plans}


def _plan(pieces: Sequence[Piece], stocks: Sequence[StockFacts]) -> dict[str, Any]:
    try:
        return plan_file(quick(blanks_of(pieces), [stock_of(it) for it in stocks]))
    except CannotPlan as cannot:
        refused = [str(fault) for fault in cannot.faults]
        return {"format": "seambook.plan/1", "units": "mm", "refused": refused}


def quick(blanks: Sequence[Blank], stocks: Sequence[Stock]) -> Plan:
    """A plan at once, passed by the check. Raises CannotPlan."""
    plan = place(blanks, stocks, rounds=ROUNDS)
    if wrong := check.faults(plan, blanks, stocks, Keep()):
        # Never seen; better no plan than one that can't be cut.
        raise CannotPlan([f"the plan found fails its check: {it}" for it in wrong])
    return plan


def blanks_of(pieces: Sequence[Piece]) -> list[Blank]:
    """Every copy of every piece."""
    return [
        blank_of(piece.mark, copy, piece.pattern.outline)
        for piece in pieces
        for copy in range(1, piece.quantity + 1)
    ]


def stock_of(stock: StockFacts) -> Stock:
    """One form of a metal, as much of it as is wanted, priced by its area."""
    form: Form = "coil" if not stock.length else "sheet"
    size = f"{stock.width:.0f}" + (f" x {stock.length:.0f}" if stock.length else "")
    return Stock(f"{form} {size}", form, stock.width, stock.length)
