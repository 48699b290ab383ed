"""Plans as a careful person makes them, so that no answer is ever dearer.

Takes a task, gives sheets. Common practice, no source: longest blanks first, in
strips along the sheet; or levels by height; offcuts and coil first where a
blank nearly fills their width.
"""

from __future__ import annotations

from layout.nesting.model import Offer, Sheet, Spot, Task

NEARLY = 0.75
"""Share of the coil's width that a blank fills before a person reaches for coil."""

Lying = tuple[int, int, int, int]
"""Kind, width, height, quarter turns of one blank as it will lie."""


def hand_plans(task: Task) -> list[list[Sheet]]:
    """Every plan by hand that leaves no blank over; there may be none.

    The named ones, and the same ways of working with the stock in other orders:
    the last resort takes any stock that will hold the blank.
    """
    plans = list(named_plans(task).values())
    loose, whole, coils = _stock(task)
    for make in (strips_along, levels_by_height):
        for number in coils:
            plans.append(make(task, [number]))
        for order in ([*loose, *whole, *coils], [*whole, *coils, *loose]):
            plans.append(make(task, order))
    for number in whole:
        plans.append(_careful(task, loose, coils, number, along=False))
    return [plan for plan in plans if plan]


def named_plans(task: Task) -> dict[str, list[Sheet] | None]:
    """Three ways a person works, each the cheapest over the sheets to choose
    from; None where it leaves a blank over.

    hand: longest first, strips along the sheet, first fit, one kind of sheet
    hand 2: offcuts first, coil where a blank fills most of its width, one kind
    of sheet for the rest
    levels: falling height, levels across the sheet, first fit, one kind of sheet
    """
    loose, whole, coils = _stock(task)
    stock = whole or coils
    return {
        "hand": _cheapest([strips_along(task, [n]) for n in stock]),
        "hand 2": _cheapest([_careful(task, loose, coils, n, True) for n in whole]),
        "levels": _cheapest([levels_by_height(task, [n]) for n in stock]),
    }


def _cheapest(plans: list[list[Sheet] | None]) -> list[Sheet] | None:
    whole = [plan for plan in plans if plan]
    return min(whole, key=lambda p: sum(s.cost for s in p)) if whole else None


def _stock(task: Task) -> tuple[list[int], list[int], list[int]]:
    """Offcuts (a sheet of which there is one), sheets and coils on offer."""
    sheets = [n for n, o in enumerate(task.offers) if o.h and o.there >= 1]
    loose = [n for n in sheets if task.offers[n].there == 1]
    whole = [n for n in sheets if n not in loose]
    coils = [n for n, o in enumerate(task.offers) if not o.h]
    return loose, whole or sheets, coils


def strips_along(task: Task, order: list[int]) -> list[Sheet] | None:
    """Longest blank first, into strips that run along the stock, first fit."""
    lying = sorted((_long_way(task, k) for k in _each(task)), key=_by_length)
    return _first_fit(task, lying, order, along=True)


def levels_by_height(task: Task, order: list[int]) -> list[Sheet] | None:
    """Blanks by falling height, into levels across the stock, first fit."""
    lying = sorted((_long_way(task, k) for k in _each(task)), key=_by_length)
    return _first_fit(task, lying, order, along=False)


def _careful(
    task: Task, loose: list[int], coils: list[int], whole: int, along: bool
) -> list[Sheet] | None:
    """Offcuts first; coil for blanks that fill most of its width; sheets last."""
    for_coil: list[Lying] = []
    rest: list[Lying] = []
    best: dict[int, int | None] = {}
    for kind in _each(task):
        if kind not in best:
            best[kind] = _coil_for(task, kind, coils)
        (rest if best[kind] is None else for_coil).append(_long_way(task, kind))
    for_coil.sort(key=_by_length)
    rest.sort(key=_by_length)
    made: list[Sheet] = []
    for coil in coils:
        mine = [lie for lie in for_coil if best[lie[0]] == coil]
        if mine:
            part = _first_fit(task, mine, [coil], along=False)
            if part is None:
                return None
            made += part
    part = _first_fit(task, rest, [*loose, whole], along=along)
    return None if part is None else made + part


def _coil_for(task: Task, kind: int, coils: list[int]) -> int | None:
    """The coil whose width the blank, lying along it, fills best; or none."""
    _, w, h, _ = _long_way(task, kind)
    found, share = None, NEARLY
    for coil in coils:
        offer = task.offers[coil]
        if w <= offer.w and h <= offer.longest and w / offer.w >= share:
            found, share = coil, w / offer.w
    return found


def _each(task: Task) -> list[int]:
    return [k for k, wanted in enumerate(task.wanted) for _ in range(wanted)]


def _long_way(task: Task, number: int) -> Lying:
    """The blank with its longer side along the stock, where it may be turned."""
    kind = task.kinds[number]
    if kind.turned and kind.w > kind.h:
        return number, kind.h, kind.w, 1
    return number, kind.w, kind.h, 0


def _by_length(lying: Lying) -> tuple[int, int, int]:
    return -lying[2], -lying[1], lying[0]


class _Open:
    """One sheet being filled by hand: its strips, each (place, size, used)."""

    def __init__(self, number: int, offer: Offer, tall: int) -> None:
        self.number = number
        self.offer = offer
        self.w = offer.w
        self.h = offer.h or tall
        self.strips: list[list[int]] = []
        self.used = 0
        self.spots: list[Spot] = []

    def put(self, lying: Lying, along: bool) -> bool:
        kind, w, h, turn = lying
        size, run = (w, h) if along else (h, w)
        across, length = (self.w, self.h) if along else (self.h, self.w)
        for strip in self.strips:
            if size <= strip[1] and run <= length - strip[2]:
                break
        else:
            if size > across - self.used or run > length:
                return False
            strip = [self.used, size, 0]
            self.strips.append(strip)
            self.used += size
        x, y = (strip[0], strip[2]) if along else (strip[2], strip[0])
        strip[2] += run
        self.spots.append((kind, x, y, turn))
        return True

    def sheet(self, task: Task) -> Sheet:
        fill = sum(task.kinds[spot[0]].area for spot in self.spots)
        spots = tuple(self.spots)
        if self.offer.h:
            return Sheet(self.number, self.h, self.offer.cost, fill, spots)
        h = 0
        for kind, _x, y, turn in self.spots:
            h = max(h, y + (task.kinds[kind].w if turn else task.kinds[kind].h))
        return Sheet(self.number, h, h * self.offer.cost, fill, spots)


def _first_fit(
    task: Task, order: list[Lying], offers: list[int], along: bool
) -> list[Sheet] | None:
    opened: list[_Open] = []
    left = {number: task.offers[number].there for number in offers}
    for lying in order:
        ways = [lying]
        kind, w, h, turn = lying
        if task.kinds[kind].turned and w != h:
            ways.append((kind, h, w, 1 - turn))
        if any(one.put(way, along) for one in opened for way in ways):
            continue
        if not _open(task, opened, left, ways, along):
            return None
    return [one.sheet(task) for one in opened]


def _open(
    task: Task,
    opened: list[_Open],
    left: dict[int, int],
    ways: list[Lying],
    along: bool,
) -> bool:
    """Opens the first stock in order that holds the blank, with it on it."""
    for number, count in left.items():
        offer = task.offers[number]
        for way in ways:
            # A coil is opened as long as it may be for levels (it is cut off
            # where they end), and as long as the blank for strips along it.
            tall = way[2] if along else min(offer.longest, count)
            if not offer.h and way[2] > min(offer.longest, count):
                continue
            if offer.h and count < 1:
                continue
            one = _Open(number, offer, tall)
            if one.put(way, along):
                left[number] -= 1 if offer.h else tall
                opened.append(one)
                return True
    return False
