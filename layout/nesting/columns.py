"""Many alike: which patterns, and how often each.

Takes a task with high demand, gives sheets. Patterns are made for the prices that
covering sets on the blanks, until none pays; then whole sheets are taken of each
and only the rest is searched for.
"""

from __future__ import annotations

from math import floor
from random import Random

from layout.nesting.build import Builder
from layout.nesting.covering import NOUGHT, Covering
from layout.nesting.model import NO_LIMIT, Sheet, Spot, Task, counted
from layout.nesting.strips import best_strips

MANY = 4.0
"""Mean copies of a kind from which patterns repeat often enough to pay."""

MOST_KINDS = 80
"""Kinds above which covering takes longer than it gains."""

ENOUGH = 1e-6
"""Share of a sheet's cost by which a pattern must pay to be taken up."""

ASK = 6
"""Fillings tried for each stock before the exact strips are."""


class Columns:
    """Patterns for one task. `step` until it says False, then `rounded`."""

    def __init__(self, task: Task, builder: Builder, rng: Random) -> None:
        self.task = task
        self.builder = builder
        self.rng = rng
        self.patterns: list[Sheet] = []
        self.holds: list[list[int]] = []
        self.capped = [n for n, o in enumerate(task.offers) if o.there < NO_LIMIT]
        first = []
        for kind in range(len(task.kinds)):
            self._note(self._alone(kind))
            first.append((self.holds[kind][kind], self.patterns[kind].cost))
        self.covering = Covering(
            task.wanted, [task.offers[n].there for n in self.capped], first
        )

    @staticmethod
    def suits(task: Task) -> bool:
        """True where kinds repeat, all stock is sheets, and enough of it is
        without limit to hold every kind."""
        endless = [o for o in task.offers if o.h and o.there >= NO_LIMIT]
        return (
            len(task.kinds) <= MOST_KINDS
            and sum(task.wanted) >= MANY * len(task.kinds)
            and all(o.h for o in task.offers)
            and not task.pairs
            and not task.worth
            and all(
                any(
                    (k.w <= o.w and k.h <= o.h)
                    or (k.turned and k.h <= o.w and k.w <= o.h)
                    for o in endless
                )
                for k in task.kinds
            )
        )

    def _alone(self, kind: int) -> Sheet:
        """The cheapest sheet a blank for one kind alone."""
        prices = [0.0] * len(self.task.kinds)
        prices[kind] = 1.0
        found = []
        for number, offer in enumerate(self.task.offers):
            if number in self.capped:
                continue
            for along in (False, True):
                worth, spots = best_strips(
                    offer.w,
                    offer.h,
                    self.task.kinds,
                    prices,
                    self.task.wanted,
                    along,
                )
                if spots:
                    found.append((offer.cost / worth, number, spots))
        _, number, spots = min(found)
        return self._sheet(number, spots)

    def _sheet(self, number: int, spots: tuple[Spot, ...]) -> Sheet:
        offer = self.task.offers[number]
        area = sum(self.task.kinds[spot[0]].area for spot in spots)
        return Sheet(number, offer.h, offer.cost, area, spots)

    def _note(self, sheet: Sheet) -> None:
        self.patterns.append(sheet)
        self.holds.append(counted(sheet.spots, len(self.task.kinds)))

    def _column(self, pattern: int) -> list[float]:
        offer = self.patterns[pattern].offer
        return [*self.holds[pattern], *(float(n == offer) for n in self.capped)]

    def step(self) -> bool:
        """One round of pricing. False when no pattern pays any more."""
        prices = self.covering.prices()
        count = len(self.task.kinds)
        fee = dict(zip(self.capped, prices[count:], strict=True))
        new: list[tuple[float, Sheet]] = []
        for exact in (False, True):
            for number, offer in enumerate(self.task.offers):
                if not offer.there:
                    continue
                cost = offer.cost - fee.get(number, 0.0)
                for sheet in self._priced(number, prices[:count], exact):
                    worth = sum([prices[spot[0]] for spot in sheet.spots])
                    if worth > cost + ENOUGH * offer.cost + NOUGHT:
                        new.append(((worth - cost) / cost, sheet))
            if new:
                break
        if not new:
            return False
        new.sort(key=lambda it: -it[0])
        for _, sheet in new:
            self._note(sheet)
            name = len(self.patterns) - 1
            column = self._column(name)
            now = self.covering.prices()
            gain = sum([a * b for a, b in zip(now, column, strict=True)])
            if gain > sheet.cost * (1 + ENOUGH):
                self.covering.enter(name, sheet.cost, column)
        return True

    def _priced(self, number: int, prices: list[float], exact: bool) -> list[Sheet]:
        """Patterns of much worth at these prices."""
        task = self.task
        offer = task.offers[number]
        if not exact:
            return self.builder.for_prices(number, prices, ASK)
        found = []
        for along in (False, True):
            _, spots = best_strips(
                offer.w, offer.h, task.kinds, prices, task.wanted, along
            )
            if spots:
                found.append(self._sheet(number, spots))
        return found

    def rounded(self) -> list[Sheet] | None:
        """A whole plan: whole sheets of the patterns in use, some of the broken
        ones by chance, and what is then left filled afresh."""
        task, rng = self.task, self.rng
        left = list(task.wanted)
        stock = [offer.there for offer in task.offers]
        sheets: list[Sheet] = []
        used = self.covering.used()
        for name, amount in used:
            for _ in range(floor(amount + 1e-6)):
                self._take(name, left, stock, sheets, 1.0)
        broken = [(amount % 1.0, name) for name, amount in used]
        # The more of a pattern is wanted, the likelier one more of it is whole.
        broken.sort(key=lambda it: -(it[0] + 0.4 * rng.random()))
        least = 0.8 + 0.2 * rng.random()
        for share, name in broken[: int(rng.random() * (len(broken) + 1))]:
            if share > 1e-6:
                self._take(name, left, stock, sheets, least)
        if any(left):
            rest = self.builder.build(left, stock, float("inf"))
            if rest is None:
                return None
            sheets += rest
        return sheets

    def _take(
        self,
        name: int,
        left: list[int],
        stock: list[int],
        sheets: list[Sheet],
        least: float,
    ) -> None:
        """One sheet of a pattern, without the blanks nobody wants any more.

        least: share of its area that must still be wanted
        """
        sheet = self.patterns[name]
        if stock[sheet.offer] < 1:
            return
        still = left[:]
        spots = []
        for spot in sheet.spots:
            if still[spot[0]]:
                still[spot[0]] -= 1
                spots.append(spot)
        kept = self._sheet(sheet.offer, tuple(spots))
        if not spots or kept.fill < least * sheet.fill:
            return
        left[:] = still
        stock[sheet.offer] -= 1
        sheets.append(kept)
