"""From blanks and stock in mm to a task in whole steps, or a clear refusal.

Takes Blanks, Stock and what is kept, gives a Task with the way back to mm.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from layout.geometry.point import Point
from layout.nesting.blank import Blank, outline_as_it_lies
from layout.nesting.grid import Grid
from layout.nesting.model import NO_LIMIT, Kind, Offer, Task
from layout.nesting.pairs import closest
from layout.nesting.stock import Keep, Stock

TAPERED = 0.98
"""A blank that fills less of its rectangle may gain by lying head to tail."""

CLOSE = 0.05
"""How closely two tapered blanks are set to each other, mm."""

MOST_TAPERED = 40
"""Kinds of tapered blanks up to which unlike ones are tried against each other."""


class CannotPlan(ValueError):
    """There can be no plan. `faults`: one sentence a fault, with its remedy."""

    def __init__(self, faults: Sequence[str]) -> None:
        self.faults = list(faults)
        super().__init__("\n".join(faults))


@dataclass(frozen=True, slots=True)
class Order:
    """A task and what it stands for.

    blanks: of each kind, its copies; stocks: of each offer, its row of stock
    """

    task: Task
    grid: Grid
    blanks: tuple[tuple[Blank, ...], ...]
    stocks: tuple[Stock, ...]
    keep: Keep


def order(
    blanks: Sequence[Blank], stocks: Sequence[Stock], keep: Keep, pairs: bool
) -> Order:
    """The task of cutting these blanks.

    pairs: offer tapered blanks head to tail
    Raises CannotPlan: nothing to cut, no stock, one name twice, a blank larger
    than any stock as it may lie.
    """
    stocks = [stock for stock in stocks if stock.count != 0]
    _refuse_what_cannot_be(blanks, stocks)
    grid = Grid(
        [size for blank in blanks for size in (blank.width, blank.length)],
        [size for stock in stocks for size in _usable(stock) if size],
        CLOSE if pairs and any(_tapers(blank) for blank in blanks) else 0.0,
    )
    groups: dict[tuple[object, ...], list[Blank]] = {}
    for blank in blanks:
        groups.setdefault(_alike(blank, grid), []).append(blank)
    kinds = tuple(_kind(same[0], grid) for same in groups.values())
    beside = tuple(_pairs(tuple(groups.values()), kinds, grid)) if pairs else ()
    paired = {kind for pair in beside for kind in pair[:2]}
    # A blank that can't lie head to tail takes its whole rectangle.
    kinds = tuple(
        kind if n in paired else kind._replace(area=kind.w * kind.h)
        for n, kind in enumerate(kinds)
    )
    most = sum(
        max(k.w, k.h) * len(g) for k, g in zip(kinds, groups.values(), strict=True)
    )
    offers = tuple(_offer(stock, grid, most) for stock in stocks)
    made = tuple(tuple(same) for same in groups.values())
    task = Task(
        kinds,
        tuple(len(same) for same in made),
        offers,
        grid.up(keep.width),
        grid.up(keep.length),
        tuple(keep.worth * stock.price * grid.step**2 for stock in stocks)
        if keep.worth
        else (),
        beside,
    )
    found = Order(task, grid, made, tuple(stocks), keep)
    _refuse_what_is_too_large(found)
    return found


def _refuse_what_cannot_be(blanks: Sequence[Blank], stocks: Sequence[Stock]) -> None:
    faults = []
    if not blanks:
        faults.append("There is no blank to cut. Lay out a piece first.")
    if not stocks:
        faults.append("There is no stock to cut from. Add a sheet, coil or offcut.")
    for what, names in (
        ("blank", [f"{blank.mark}, copy {blank.copy}" for blank in blanks]),
        ("stock", [stock.name for stock in stocks]),
    ):
        twice = sorted({name for name in names if names.count(name) > 1})
        faults += [
            f"{what} {name} is given twice. Give each one name." for name in twice
        ]
    if faults:
        raise CannotPlan(faults)


def _refuse_what_is_too_large(made: Order) -> None:
    faults = []
    for kind, same in zip(made.task.kinds, made.blanks, strict=True):
        ways = [(kind.w, kind.h)] + ([(kind.h, kind.w)] if kind.turned else [])
        if any(w <= o.w and h <= _reach(o) for w, h in ways for o in made.task.offers):
            continue
        blank = same[0]
        widest = max(made.stocks, key=lambda s: s.width)
        turn = "" if kind.turned else " or let it be turned, if finish and grain allow"
        faults.append(
            f"Blank {blank.mark} is {blank.width:g} mm wide and {blank.length:g} mm"
            f" long; no stock holds it, the widest is {widest.name} with"
            f" {widest.width - 2 * widest.trim:g} mm. Add larger stock, divide the"
            f" piece with a seam{turn}."
        )
    if faults:
        raise CannotPlan(faults)


def _reach(offer: Offer) -> int:
    return offer.h or min(offer.longest, offer.there)


def _usable(stock: Stock) -> tuple[float, float, float]:
    """Width and length without trim, and the longest cut-off of coil; mm."""
    width = stock.width - 2 * stock.trim
    if stock.form == "coil":
        return width, stock.length, stock.longest
    return width, max(0.0, stock.length - 2 * stock.trim), 0.0


def _offer(stock: Stock, grid: Grid, most: int) -> Offer:
    width, length, longest = _usable(stock)
    if stock.form != "coil":
        cost = stock.price * stock.width * stock.length
        count = NO_LIMIT if stock.count is None else stock.count
        return Offer(grid.down(width), grid.down(length), cost, count, 0)
    left = grid.down(length) if length else NO_LIMIT
    most = min(most, left)
    return Offer(
        grid.down(width),
        0,
        stock.price * stock.width * grid.step,
        left,
        min(most, grid.down(longest)) if longest else most,
    )


def _alike(blank: Blank, grid: Grid) -> tuple[object, ...]:
    """Blanks with the same key are one kind: any of them may take its place."""
    turned = 90 in blank.turns
    w, h = grid.up(blank.width), grid.up(blank.length)
    if _tapers(blank):
        return w, h, blank.turns, blank.outline
    # A quarter turn aside, a rectangle is as wide as it is long.
    return (min(w, h), max(w, h), True) if turned else (w, h, False)


def _tapers(blank: Blank) -> bool:
    return bool(blank.outline) and blank.area < TAPERED * blank.box


def _kind(blank: Blank, grid: Grid) -> Kind:
    w, h = grid.up(blank.width), grid.up(blank.length)
    area = min(w * h, round(blank.area / grid.step**2))
    return Kind(w, h, 90 in blank.turns, max(1, area))


def _pairs(
    groups: Sequence[Sequence[Blank]], kinds: Sequence[Kind], grid: Grid
) -> list[tuple[int, int, int, int, int, int]]:
    """Every two kinds that gain head to tail, side by side."""
    taper = [
        number
        for number, same in enumerate(groups)
        if _tapers(same[0]) and 180 in same[0].turns
    ]
    found = []
    for place, a in enumerate(taper):
        mates = taper[place:] if len(taper) <= MOST_TAPERED else [a]
        for b in mates:
            if a == b and len(groups[a]) < 2:
                continue
            if kinds[a].turned != kinds[b].turned:
                continue
            found += _head_to_tail(a, b, groups, kinds, grid)
    return found


def _head_to_tail(
    a: int,
    b: int,
    groups: Sequence[Sequence[Blank]],
    kinds: Sequence[Kind],
    grid: Grid,
) -> list[tuple[int, int, int, int, int, int]]:
    one = outline_as_it_lies(groups[a][0], 0)
    two = outline_as_it_lies(groups[b][0], 180)
    wide, tall = kinds[a].w + kinds[b].w, max(kinds[a].h, kinds[b].h)
    alone = kinds[a].w * kinds[a].h + kinds[b].w * kinds[b].h
    best: tuple[int, int, int, int, int, int] | None = None
    # The second may stand at the foot or at the head of the first.
    for lift in {0, kinds[a].h - kinds[b].h}:
        if lift < 0:
            continue
        raised = [Point(p.x, p.y + grid.mm(lift)) for p in two]
        x = grid.up(max(0.0, closest(one, raised)))
        w = max(kinds[a].w, x + kinds[b].w)
        if w < wide and w * tall < alone:
            wide, best = w, (a, b, w, tall, x, lift)
    return [best] if best else []
