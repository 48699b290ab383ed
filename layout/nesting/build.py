"""Builds sheets for a pool of blanks, one sheet at a time, with chance in it.

Takes how many of each kind are to be placed and what stock is left, gives
sheets, or nothing where the cost would pass a limit.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import inf
from random import Random
from typing import NamedTuple

from layout.nesting.blocks import Block, entries, laid, merge, single
from layout.nesting.cuts import Rect, parted
from layout.nesting.fill import Entry, Manner, Put, fill
from layout.nesting.model import NO_LIMIT, Sheet, Task

MARGIN = 1e-9
"""Share by which two costs must differ to be told apart."""


ALL_IN = 1e30
"""Score of a sheet that holds all that is left, for a cost of 1."""


class Try(NamedTuple):
    """One sheet as it might be filled."""

    offer: int
    h: int
    cost: float
    fill: int
    puts: list[Put]


class Builder:
    """Fills sheets for one task; all chance comes from one seeded source."""

    def __init__(self, task: Task, rng: Random) -> None:
        self.task = task
        self.rng = rng
        self.singles = [single(n, k) for n, k in enumerate(task.kinds)]
        self.rates = [
            o.cost / (o.w * o.h) if o.h else o.cost / o.w for o in task.offers
        ]
        endless = [o.there >= NO_LIMIT for o in task.offers]
        some = [r for r, e in zip(self.rates, endless, strict=True) if e]
        self.usual = min(some or self.rates)
        wide = max(o.w for o in task.offers)
        high = max(o.h or min(o.longest, o.there) for o in task.offers)
        self.room = (wide, high)
        self.pairs = [
            Block(
                w,
                h,
                task.kinds[a].area + task.kinds[b].area,
                task.kinds[a].turned,
                ((a, 0, 0, 0), (b, x, y, 2)),
                (a, b),
            )
            for a, b, w, h, x, y in task.pairs
        ]

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
            base = base + [
                b._replace(members=(known + n,)) for n, b in enumerate(given)
            ]
            pool += [1] * len(given)
        area = sum([n * base[k].area for k, n in enumerate(pool) if n])
        merges = random() if random() < 0.7 else 0.0
        noise = random() * 0.6
        tries = 1 + int(random() * random() * 5)
        greedy = random() < 0.5
        # Either most area for the money, or most saved at a usual price of area.
        rate = self.usual * (1 + 0.2 * random()) if random() < 0.5 else 0.0
        sheets: list[Sheet] = []
        spent = 0.0
        while area > 0:
            rates = [r for r, n in zip(self.rates, stock, strict=True) if n > 0]
            if not rates:
                return None
            if spent + area * min(rates) > limit:
                return None
            blocks, left = self._blocks(base, pool, merges)
            best: Try | None = None
            best_score = 0.0
            offers = self._choice(stock)
            for _ in range(tries):
                ordered = self._ordered(blocks, left, noise)
                for number in offers:
                    most = self._most(number, area, rate, greedy)
                    if best is not None and most <= best_score:
                        continue
                    one = self._one(number, blocks, ordered, left, stock)
                    if one is None:
                        continue
                    if greedy and one.fill == area:
                        score = ALL_IN / one.cost
                    elif rate:
                        score = rate * one.fill - one.cost
                    else:
                        score = one.fill / one.cost
                    score *= 1 - 0.1 * random() * noise
                    if best is None or score > best_score:
                        best, best_score = one, score
            if best is None:
                return None
            for put in best.puts:
                for member in blocks[put[0]].members:
                    pool[member] -= 1
            area -= best.fill
            stock[best.offer] -= 1 if self.task.offers[best.offer].h else best.h
            spots = laid(blocks, best.puts, kinds)
            sheet = Sheet(best.offer, best.h, best.cost, best.fill, spots)
            if self.task.worth:
                sheet = self.credited(sheet)
            spent += sheet.net
            if spent > limit:
                return None
            sheets.append(sheet)
        return sheets

    def _most(self, number: int, area: int, rate: float, greedy: bool) -> float:
        """The best score that a sheet of an offer could have."""
        w, h, cost, _there, _longest = self.task.offers[number]
        if not h:
            full = w * self.room[1]
            if greedy and full >= area:
                return inf
            return max(0.0, rate * w - cost) * self.room[1] if rate else w / cost
        full = min(area, w * h)
        if greedy and full == area:
            return inf
        return rate * full - cost if rate else full / cost

    def rests(self, sheet: Sheet) -> list[Rect]:
        """The rectangles left over on a sheet that are worth keeping."""
        task = self.task
        whole = 0, 0, task.offers[sheet.offer].w, sheet.h
        keep = task.keep_w, task.keep_h
        return parted(whole, sheet.spots, task.kinds, keep).rests

    def credited(self, sheet: Sheet) -> Sheet:
        """The sheet with what its rests are worth."""
        area = sum([rest[2] * rest[3] for rest in self.rests(sheet)])
        return sheet._replace(credit=area * self.task.worth[sheet.offer])

    def again(self, sheet: Sheet) -> Sheet | None:
        """The same blanks on the same stock another way, or None."""
        pool = [0] * len(self.task.kinds)
        for spot in sheet.spots:
            pool[spot[0]] += 1
        stock = [0] * len(self.task.offers)
        coil = not self.task.offers[sheet.offer].h
        stock[sheet.offer] = sheet.h if coil else 1
        made = self.build(pool, stock, sheet.cost * (1 + MARGIN))
        return made[0] if made and len(made) == 1 else None

    def for_prices(self, number: int, prices: list[float], times: int) -> list[Sheet]:
        """Sheets of one offer filled for a price of each kind, not for area."""
        task, random = self.task, self.rng.random
        offer = task.offers[number]
        left = list(task.wanted)
        found = []
        for turn in range(times):
            blocks, there = self._blocks(self.singles, left, random() * (turn % 2))
            weights = [
                sum([prices[spot[0]] for spot in b.spots]) * (1 - 0.3 * random())
                for b in blocks
            ]
            if turn % 3:
                # Worth for its area, for a sheet that is full of small ones.
                weights = [
                    weight / (b[0] * b[1]) ** 0.5
                    for weight, b in zip(weights, blocks, strict=True)
                ]
            ordered = entries(blocks, there, weights, offer.w, offer.h)
            ordered = [entry for entry in ordered if entry[2] > 0]
            if not ordered:
                continue
            puts = fill(offer.w, offer.h, ordered, there, self._manner(), random)
            area = sum([blocks[put[0]].area for put in puts])
            spots = laid(blocks, puts, task.kinds)
            found.append(Sheet(number, offer.h, offer.cost, area, spots))
        return found

    def _manner(self) -> Manner:
        random = self.rng.random
        return Manner(
            int(random() * 3),
            (0, 0, 1, 2, 3)[int(random() * 5)],
            1.0 + random() * 1.5,
            random() < 0.4,
        )

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
        if self.pairs and self.rng.random() < 0.8:
            self._pair(pool, blocks, left)
        if merges:
            times = int(merges * 1.5 * min(sum(left), 120))
            merge(blocks, left, self.task.kinds, self.room, times, self.rng)
        return blocks, left

    def _pair(self, pool: list[int], blocks: list[Block], left: list[int]) -> None:
        """Sets some tapered blanks head to tail, by chance; none is forced."""
        random = self.rng.random
        place = {block.members[0]: n for n, block in enumerate(blocks)}
        some = self.pairs[:]
        self.rng.shuffle(some)
        for pair in some:
            a, b = (place.get(member, -1) for member in pair.members)
            if a < 0 or b < 0:
                continue
            most = left[a] // 2 if a == b else min(left[a], left[b])
            count = int(random() * (most + 1.5))
            if count > most:
                count = most
            if count:
                left[a] -= count
                left[b] -= count
                blocks.append(pair)
                left.append(count)

    def _ordered(
        self, blocks: list[Block], left: list[int], noise: float
    ) -> list[Entry]:
        """The blocks each way they may lie, by a weight with chance in it."""
        random = self.rng.random
        power = (1.0, 1.0, 0.7, 1.5)[int(random() * 4)]
        weights = [(b[0] * b[1]) ** power * (1 - noise * random()) for b in blocks]
        return entries(blocks, left, weights, *self.room)

    def _one(
        self,
        number: int,
        blocks: list[Block],
        ordered: list[Entry],
        left: list[int],
        stock: list[int],
    ) -> Try | None:
        """One sheet of an offer filled in a manner chosen by chance."""
        random = self.rng.random
        w, h, cost, _count, longest = self.task.offers[number]
        coil = not h
        if coil:
            h = min(longest, stock[number])
        fitting = [e for e in ordered if e[0] <= w and e[1] <= h]
        if not fitting:
            return None
        if coil:
            h = self._cut_off(fitting, h)
            fitting = [e for e in fitting if e[1] <= h]
        puts = fill(w, h, fitting, left[:], self._manner(), random)
        if coil:
            h = max([y + (blocks[b][0] if t else blocks[b][1]) for b, _, y, t in puts])
            cost *= h
        return Try(number, h, cost, sum([blocks[p[0]][2] for p in puts]), puts)

    def _cut_off(self, ordered: list[Entry], most: int) -> int:
        """Length to cut off a coil: that of a leading blank, or of two."""
        random = self.rng.random
        h = ordered[int(random() * random() * len(ordered))][1]
        if random() < 0.4:
            more = ordered[int(random() * len(ordered))][1]
            if h + more <= most:
                h += more
        return h
