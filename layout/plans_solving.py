"""From an order to a cut plan: rows become the search's values here, and no further.

Takes an Order and when to stop, gives FoundPlans with the way back to its rows. Nothing
is read from or written to the database.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from jobs.models import Piece
from layout.geometry.point import Point
from layout.models import LaidPiece
from layout.nesting.blank import Blank, blank_of, turns_allowed
from layout.nesting.order import CannotPlan
from layout.nesting.place import place
from layout.nesting.plan import CutStock, Plan
from layout.nesting.stock import Form, Keep, Stock
from layout.plans_reading import Offered, Order, Refused


class Task(NamedTuple):
    """The search's values, and what they stand for.

    sources: name of a stock -> what it is
    pieces: (mark, copy) -> its rows, and the quarter turns from the bench frame to the
    search's blank
    """

    blanks: tuple[Blank, ...]
    stocks: tuple[Stock, ...]
    keep: Keep
    sources: dict[str, Offered]
    pieces: dict[tuple[str, int], tuple[LaidPiece, Piece, int]]


class FoundPlan(NamedTuple):
    plan: Plan
    task: Task

    def source(self, stock: CutStock) -> Offered:
        return self.task.sources[stock.name]


def solve(
    order: Order,
    seed: int,
    goes_on: Callable[[], bool],
    better: Callable[[FoundPlan], None],
    rounds: int | None = None,
    pairs: bool = True,
) -> None:
    """Searches until told to stop; `better` is called with each plan found, every one
    better than the last, and at the end with the best once more.

    goes_on: asked all the time; False ends the search
    rounds: so many attempts instead; the same give the same plan
    pairs: offer tapered blanks head to tail
    Raises Refused where the stock does not hold all the blanks.
    """
    task = task_of(order)
    try:
        last = place(
            task.blanks,
            task.stocks,
            task.keep,
            seed=seed,
            rounds=rounds,
            carry_on=goes_on,
            pairs=pairs,
            progress=lambda plan: better(FoundPlan(plan, task)),
        )
    except CannotPlan as cannot:
        raise Refused(*cannot.faults) from cannot
    better(FoundPlan(last, task))


def task_of(order: Order) -> Task:
    """The order in the search's words."""
    turns = turns_allowed(rolled=not order.terms["turned"])
    blanks: list[Blank] = []
    pieces: dict[tuple[str, int], tuple[LaidPiece, Piece, int]] = {}
    for it in order.blanks:
        outline, quarters = _longer_side_along(it.outline)
        for piece, copy in it.copies:
            mark = f"{piece} of {piece.job}"
            pieces[mark, copy] = it.laid, piece, quarters
            blanks.append(blank_of(mark, copy, outline, turns))
    sources = {_name(it): it for it in order.offered}
    keep = Keep(
        order.terms["keep_width_mm"],
        order.terms["keep_length_mm"],
        min(1.0, order.terms["worth_percent"] / 100),
    )
    stocks = tuple(_stock(name, it) for name, it in sources.items())
    return Task(tuple(blanks), stocks, keep, sources, pieces)


def _longer_side_along(
    outline: tuple[tuple[float, float], ...],
) -> tuple[list[Point], int]:
    """The outline turned so that its longer side lies along the rolling direction once
    it is a blank, and how many quarter turns that is in all. Where a blank may be
    turned it makes no odds. Common practice, no source."""
    xs, ys = [p[0] for p in outline], [p[1] for p in outline]
    if max(xs) - min(xs) >= max(ys) - min(ys):
        return [Point(x, y) for x, y in outline], 1  # blank_of turns it once
    return [Point(-y, x) for x, y in outline], 2


def _name(it: Offered) -> str:
    return f"rack {it.item.pk}" if it.item else f"to order {it.buy.pk if it.buy else 0}"


def _stock(name: str, it: Offered) -> Stock:
    form: Form = "coil" if it.form == "coil" else it.form  # type: ignore[assignment]
    count = 1 if it.item else None
    if form == "coil":
        return Stock(
            name, form, it.width, it.left, it.price, 1, it.trim, longest=it.longest
        )
    return Stock(name, form, it.width, it.length, it.price, count, it.trim)
