"""The search: plans by hand first, then restarts, then take out and fill again.

Takes a task, gives sheets; better ones as they are found. Holds no clock: whoever
asks says when to stop, so the same seed and rounds give the same sheets.
"""

from __future__ import annotations

from collections.abc import Callable
from random import Random

from layout.nesting.blocks import Block, block_of
from layout.nesting.bound import least_cost
from layout.nesting.build import MARGIN, Builder
from layout.nesting.columns import Columns
from layout.nesting.hand import hand_plans
from layout.nesting.model import Sheet, Spot, Task
from layout.nesting.parts import Part, kept_parts, taken_apart

RESTARTS = 0.15
"""Share of the rounds that start afresh."""
TRIES = 16
"""Attempts to fill the same sheets again before others are taken."""


BLANKS_OUT = 36
"""Blanks up to which small sheets are taken out with the others."""
PRICING = 400
"""Most rounds in which patterns are made for prices."""
ROUNDINGS = 40
"""Whole plans made from the patterns before their sheets are taken out again."""
SETTLING = 12
"""Times a sheet of the finished plan is laid again for the sake of its rests."""


def cost_of(sheets: list[Sheet]) -> float:
    """What the sheets cost, less what is given back for rests."""
    return sum([s.cost - s.credit for s in sheets])


class Search:
    """One search over one task. `best` is a whole plan at any time."""

    def __init__(
        self,
        task: Task,
        seed: int,
        better: Callable[[list[Sheet]], None] | None = None,
    ) -> None:
        self.task = task
        self.rng = Random(seed)
        self.builder = Builder(task, self.rng)
        self.better = better
        self.best: list[Sheet] = []
        self.best_cost = float("inf")
        self.now: list[Sheet] = []
        self.now_cost = float("inf")
        self.now_full = 0.0
        self.idle = 0
        self.bound = least_cost(task)
        suits = Columns.suits(task)
        self.columns = Columns(task, self.builder, self.rng) if suits else None
        self.pricing, self.roundings = PRICING, ROUNDINGS
        self.apart: dict[tuple[Spot, ...], Part] = {}

    def begin(self) -> None:
        """The plans by hand, so that there is an answer at once."""
        for plan in hand_plans(self.task):
            if self.task.worth:
                plan = [self.builder.credited(sheet) for sheet in plan]
            self._take(plan)

    @property
    def finished(self) -> bool:
        """True where no plan can cost less."""
        return self.best_cost <= self.bound * (1 + MARGIN)

    def settle(self) -> None:
        """Lays each sheet of the best plan again so that larger rests stay."""
        self.best = [self._settled(sheet) for sheet in self.best]

    def _settled(self, sheet: Sheet) -> Sheet:
        best, most = sheet, self._kept(sheet)
        for _ in range(SETTLING):
            again = self.builder.again(sheet)
            if again and again.net <= sheet.net + MARGIN * abs(sheet.net):
                kept = self._kept(again)
                if kept > most:
                    best, most = again, kept
        return best

    def _kept(self, sheet: Sheet) -> int:
        """How large the rests are: one large one counts more than two small."""
        return sum([(rest[2] * rest[3]) ** 2 for rest in self.builder.rests(sheet)])

    def round(self) -> None:
        """One attempt at a better plan."""
        if self.columns and self._from_columns():
            return
        self.idle += 1
        if not self.now or self.rng.random() < RESTARTS / (1 + len(self.now) / 20):
            self._restart()
        else:
            self._refill()

    def _from_columns(self) -> bool:
        """One step with patterns for many alike; False when that is done."""
        assert self.columns is not None
        if self.pricing > 0:
            self.pricing = self.pricing - 1 if self.columns.step() else 0
            return True
        sheets = self.columns.rounded()
        if sheets is not None:
            self._take(sheets)
        self.roundings -= 1
        if self.roundings <= 0:
            self.columns = None
        return True

    def _restart(self) -> None:
        task = self.task
        stock = [o.there for o in task.offers]
        limit = self.best_cost * 1.02
        sheets = self.builder.build(list(task.wanted), stock, limit)
        if sheets is not None:
            self._take(sheets)

    def _refill(self) -> None:
        """Takes out some sheets and plans their blanks again."""
        task = self.task
        out = self._out()
        taken = [self.now[n] for n in out]
        stock = [o.there for o in task.offers]
        gone = set(out)
        for n, sheet in enumerate(self.now):
            if n not in gone:
                stock[sheet.offer] -= 1 if task.offers[sheet.offer].h else sheet.h
        cost = cost_of(taken)
        full = self._full(taken)
        limit = cost * (1 + MARGIN)
        for _ in range(TRIES):
            pool, given = self._pool(taken)
            made = self.builder.build(pool, stock[:], limit, given)
            if made is None:
                continue
            new = cost_of(made)
            if new < cost * (1 - MARGIN) or (
                new <= limit and self._full(made) > full - 1e-12
            ):
                rest = [s for n, s in enumerate(self.now) if n not in gone]
                self._set(rest + made)
                return

    def _pool(self, taken: list[Sheet]) -> tuple[list[int], list[Block]]:
        """The blanks of the sheets: loose ones counted, dense parts kept whole."""
        random = self.rng.random
        kinds = self.task.kinds
        pool = [0] * len(kinds)
        given: list[Block] = []
        keep = random() * 1.2
        dense = 1.0 - 0.06 * random() * random()
        for sheet in taken:
            if keep <= 0:
                for spot in sheet.spots:
                    pool[spot[0]] += 1
                continue
            part = self.apart.get(sheet.spots)
            if part is None:
                if len(self.apart) > 5000:
                    self.apart.clear()
                part = self.apart[sheet.spots] = taken_apart(sheet.spots, kinds)
            for kept in kept_parts(part, dense, keep, random):
                if len(kept.spots) == 1:
                    pool[kept.spots[0][0]] += 1
                else:
                    given.append(block_of(kept, kinds))
        return pool, given

    def _out(self) -> list[int]:
        """Sheets to take out: the emptiest often, the others by chance."""
        rng = self.rng
        count = len(self.now)
        most = min(count, 1 + int(rng.random() * 4) if count > 1 else 1)
        if count > 1 and most == 1 and rng.random() < 0.7:
            most = 2
        order = sorted(range(count), key=lambda n: self._share(self.now[n]))
        out: list[int] = []
        blanks = 0
        target = int(rng.random() * BLANKS_OUT)
        while order and (len(out) < most or blanks < target):
            pick = order[int(rng.random() ** 1.7 * len(order))]
            order.remove(pick)
            out.append(pick)
            blanks += len(self.now[pick].spots)
        return out

    def _share(self, sheet: Sheet) -> float:
        return sheet.fill / (self.task.offers[sheet.offer].w * sheet.h)

    def _full(self, sheets: list[Sheet]) -> float:
        """How unevenly full the sheets are: fuller full ones, emptier empty ones."""
        return sum([s.cost * self._share(s) ** 2 for s in sheets])

    def _set(self, sheets: list[Sheet]) -> None:
        self.now = sheets
        self.now_cost = cost_of(sheets)
        if self.now_cost <= self.best_cost * (1 - MARGIN):
            self.best, self.best_cost = sheets, self.now_cost
            self.idle = 0
            if self.better:
                self.better(sheets)

    def _take(self, sheets: list[Sheet]) -> None:
        if cost_of(sheets) < self.best_cost * (1 - MARGIN):
            self._set(sheets)
