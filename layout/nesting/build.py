"""Builds sheets for a pool of blanks, one sheet at a time, with chance in it.

Takes how many of each kind are to be placed and what stock is left, gives
sheets, or nothing where the cost would pass a limit.
"""

from __future__ import annotations

from collections.abc import Sequence
from random import Random

from layout.nesting.blocks import Block, entries, laid, merge, single
from layout.nesting.fill import Manner, Put, fill
from layout.nesting.model import Sheet, Spot, Task

MARGIN = 1e-9
"""Share by which two costs must differ to be told apart."""


class Builder:
    """Fills sheets for one task; all chance comes from one seeded source."""

    def __init__(self, task: Task, rng: Random) -> None:
        self.task = task
        self.rng = rng
        self.singles = [single(n, k) for n, k in enumerate(task.kinds)]
        self.rates = [
            o.cost / (o.w * o.h) if o.h else o.cost / o.w for o in task.offers
        ]
        wide = max(o.w for o in task.offers)
        high = max(o.h or min(o.longest, o.count) for o in task.offers)
        self.room = (wide, high)

    def build(
        self,
        pool: list[int],
        stock: list[int],
        limit: float,
        given: Sequence[Block] = (),
    ) -> list[Sheet] | None:
        """Sheets for the whole pool, within the cost limit; else None.

        pool: how many of each kind; emptied on the way
        stock: how many of each offer are left (steps of a coil); taken off
        given: blocks to place besides, kept together
        """
        rng = self.rng
        random = rng.random
        kinds = self.task.kinds
        base = self.singles
        if given:
            known = len(base)
            base = base + [b._replace(members=(known + n,)) for n, b in enumerate(given)]
            pool += [1] * len(given)
        area = sum([n * base[k].area for k, n in enumerate(pool) if n])
        merges = random() if random() < 0.7 else 0.0
        noise = random() * 0.6
        tries = 1 + int(random() * random() * 5)
        greedy = random() < 0.5
        sheets: list[Sheet] = []
        spent = 0.0
        while area > 0:
            rate = min(r for r, n in zip(self.rates, stock, strict=True) if n)
            if spent + area * rate > limit:
                return None
            blocks, left = self._blocks(base, pool, merges)
            best: Sheet | None = None
            best_score = 0.0
            best_puts: list[Put] = []
            for offer in self._choice(stock):
                for _ in range(tries):
                    made = self._one(offer, blocks, left, noise, stock)
                    if made is None:
                        break
                    sheet, puts = made
                    score = sheet.fill / sheet.cost if sheet.cost else 1e30
                    score *= 1 - 0.1 * random() * noise
                    if greedy and sheet.fill == area:
                        score = 1e9 / sheet.cost if sheet.cost else 1e30
                    if score > best_score:
                        best, best_puts, best_score = sheet, puts, score
            if best is None:
                return None
            spent += best.cost
            if spent > limit:
                return None
            for put in best_puts:
                for member in blocks[put[0]].members:
                    pool[member] -= 1
            area -= best.fill
            stock[best.offer] -= 1 if self.task.offers[best.offer].h else best.h
            sheets.append(best)
        return sheets

    def _choice(self, stock: list[int]) -> list[int]:
        """Offers to try for the next sheet: all, or some by chance."""
        there = [n for n, left in enumerate(stock) if left > 0]
        if len(there) < 3 or self.rng.random() < 0.3:
            return there
        some = [n for n in there if self.rng.random() < 0.4]
        return some or there

    def _blocks(
        self, base: list[Block], pool: list[int], merges: float
    ) -> tuple[list[Block], list[int]]:
        """The pool as blocks, some of them set together by chance."""
        blocks = [base[k] for k, n in enumerate(pool) if n]
        left = [n for n in pool if n]
        if merges:
            times = int(merges * 1.5 * min(sum(left), 120))
            merge(blocks, left, self.task.kinds, self.room, times, self.rng)
        return blocks, left

    def _one(
        self,
        number: int,
        blocks: list[Block],
        left: list[int],
        noise: float,
        stock: list[int],
    ) -> tuple[Sheet, list[Put]] | None:
        """One sheet of an offer filled in a manner chosen by chance."""
        random = self.rng.random
        offer = self.task.offers[number]
        w = offer.w
        h = offer.h or min(offer.longest, stock[number])
        power = (1.0, 1.0, 0.7, 1.5)[int(random() * 4)]
        weights = [
            (b.w * b.h) ** power * (1 - noise * random()) for b in blocks
        ]
        ordered = entries(blocks, left, weights, w, h)
        if not ordered:
            return None
        if not offer.h:
            h = self._cut_off(ordered, left, h)
            ordered = [e for e in ordered if e[1] <= h]
        manner = Manner(
            int(random() * 3),
            (0, 0, 1, 2, 3)[int(random() * 5)],
            1.0 + random() * 1.5,
            random() < 0.4,
        )
        puts = fill(w, h, ordered, left[:], manner, random)
        if not puts:
            return None
        spots = laid(blocks, puts, self.task.kinds)
        area = sum([blocks[p[0]].area for p in puts])
        if offer.h:
            return Sheet(number, h, offer.cost, area, spots), puts
        h = self.reach(spots)
        return Sheet(number, h, h * offer.cost, area, spots), puts

    def _cut_off(self, ordered: list, left: list[int], most: int) -> int:
        """Length to cut off a coil: that of a leading blank, or of two."""
        random = self.rng.random
        h = ordered[int(random() * random() * len(ordered))][1]
        if random() < 0.4:
            more = ordered[int(random() * len(ordered))][1]
            if h + more <= most:
                h += more
        return h

    def reach(self, spots: tuple[Spot, ...]) -> int:
        """How far up the blanks reach, steps."""
        kinds = self.task.kinds
        return max(
            [y + (kinds[k].w if t & 1 else kinds[k].h) for k, _x, y, t in spots]
        )
