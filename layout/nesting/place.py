"""Blanks on stock: the door of the cut plan.

Takes Blanks and Stock in mm, gives a Plan; better ones are handed on as they are
found. Holds no clock: `carry_on` says when to stop, so the same seed and the same
number of rounds give the same plan.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from layout.nesting.assemble import plan_of
from layout.nesting.blank import Blank
from layout.nesting.model import Sheet
from layout.nesting.order import CannotPlan, order
from layout.nesting.plan import Plan
from layout.nesting.search import Search
from layout.nesting.stock import Keep, Stock

QUICK = 12
"""Rounds of a plan that is wanted at once: about 0.2 s for 30 blanks."""

SHEAR = 3100.0
"""Longest cut along the rolling direction that goes on the shear, mm: a 10 ft shear
with its margin. Common practice, no source."""


def place(
    blanks: Sequence[Blank],
    stocks: Sequence[Stock],
    keep: Keep | None = None,
    *,
    seed: int = 1,
    rounds: int | None = QUICK,
    carry_on: Callable[[], bool] | None = None,
    progress: Callable[[Plan], None] | None = None,
    pairs: bool = True,
    shear: float = SHEAR,
) -> Plan:
    """The cheapest plan found for all the blanks.

    rounds: attempts to better it; None = until `carry_on` says stop
    carry_on: asked before every round; False ends the search
    progress: given the first plan and each better one
    pairs: offer tapered blanks head to tail
    shear: length of the shear, mm; longer cuts along the metal go on the slitter
    The answer is never dearer than a plan by hand, and among plans of one cost
    leaves the larger offcuts.
    Raises CannotPlan where there is nothing to cut, a blank is larger than any
    stock, or the stock does not hold all of them; ValueError without an end.
    """
    if rounds is None and carry_on is None:
        raise ValueError("a search without rounds needs carry_on to end it")
    made = order(blanks, stocks, keep or Keep(), pairs)
    better = None
    if progress is not None:
        tell = progress

        def better(sheets: list[Sheet]) -> None:
            tell(plan_of(made, sheets, shear))

    search = Search(made.task, seed, better)
    search.begin()
    done = 0
    while (rounds is None or done < rounds) and not search.finished:
        if carry_on is not None and not carry_on():
            break
        search.round()
        done += 1
    if not search.best:
        raise CannotPlan(
            [
                f"The stock given does not hold all {len(blanks)} blanks. Add sheets"
                " or coil, or plan fewer blanks at once."
            ]
        )
    search.settle()
    return plan_of(made, search.best, shear)
