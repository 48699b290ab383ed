"""Is a plan right? Judged from the plan alone, sharing nothing with the search.

Takes a Plan and what was asked, gives one sentence for each fault; none if it can
be cut. Written from the promises: every blank once and on the metal, turned only
where allowed, no more stock than there is, the cost that the stock has, and
straight cuts that part all of it (see `check_cuts.py`).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import combinations

from layout.geometry import outline as polygon
from layout.geometry.point import Point
from layout.geometry.tolerance import EPS
from layout.nesting.blank import Blank
from layout.nesting.check_cuts import cutting_faults
from layout.nesting.plan import CutStock, Placement, Plan
from layout.nesting.stock import Keep, Stock

NEAR = 10 * EPS
"""Places are sums of several lengths, each within the core's tolerance; mm."""


def faults(
    plan: Plan, blanks: Sequence[Blank], stocks: Sequence[Stock], keep: Keep
) -> list[str]:
    """One sentence for everything that is wrong with the plan; [] if nothing."""
    found = list(_blanks(plan, blanks))
    found += _stock(plan, stocks)
    found += _cost(plan, stocks, keep)
    rows = {stock.name: stock for stock in stocks}
    for cut in plan.stocks:
        where = f"stock {cut.number}, {cut.name}"
        row = rows.get(cut.name)
        if row is None:
            continue
        for fault in (
            *_places(cut, row),
            *_overlaps(cut),
            *_offcuts(cut, keep),
            *cutting_faults(cut),
        ):
            found.append(f"{where}: {fault}")
    return found


def _blanks(plan: Plan, blanks: Sequence[Blank]) -> Iterator[str]:
    asked = Counter(blanks)
    placed = Counter(p.blank for stock in plan.stocks for p in stock.placements)
    for blank, count in (asked - placed).items():
        yield f"blank {blank.mark}, copy {blank.copy}, is missing {count} times"
    for blank, count in (placed - asked).items():
        yield f"blank {blank.mark}, copy {blank.copy}, is there {count} times too often"


def _stock(plan: Plan, stocks: Sequence[Stock]) -> Iterator[str]:
    rows = {stock.name: stock for stock in stocks}
    for name in {cut.name for cut in plan.stocks}:
        mine = [cut for cut in plan.stocks if cut.name == name]
        row = rows.get(name)
        if row is None:
            yield f"stock {name} was not offered"
        elif row.form == "coil":
            length = sum(cut.length for cut in mine)
            if row.length and length > row.length + NEAR * len(mine):
                yield f"coil {name}: {length} mm are taken of {row.length} mm"
        elif row.count is not None and len(mine) > row.count:
            yield f"stock {name}: {len(mine)} are taken of {row.count}"
    numbers = [cut.number for cut in plan.stocks]
    if numbers != list(range(1, len(numbers) + 1)):
        yield "the stocks are not numbered in order"


def _cost(plan: Plan, stocks: Sequence[Stock], keep: Keep) -> Iterator[str]:
    prices = {stock.name: stock.price for stock in stocks}
    total = 0.0
    for cut in plan.stocks:
        price = prices.get(cut.name, 0.0)
        whole = price * cut.width * cut.length
        if abs(whole - cut.cost) > EPS * whole:
            yield f"stock {cut.number} costs {whole}, the plan says {cut.cost}"
        kept = sum(offcut.width * offcut.length for offcut in cut.offcuts)
        total += whole - keep.worth * price * kept
    if abs(total - plan.cost) > EPS * total:
        yield f"the plan costs {total}, it says {plan.cost}"
    if plan.cost < plan.bound * (1 - EPS):
        yield f"the plan costs {plan.cost}, less than its bound of {plan.bound}"


def _places(cut: CutStock, row: Stock) -> Iterator[str]:
    if cut.form != row.form or cut.width != row.width:
        yield "its form or width is not that of the row of stock"
    coil = row.form == "coil"
    if not coil and cut.length != row.length:
        yield f"it is {cut.length} mm long, the row of stock {row.length} mm"
    if coil and row.longest and cut.length > row.longest + NEAR:
        yield f"{cut.length} mm are cut off, {row.longest} mm is the most"
    low_y, high_y = (0.0, cut.length) if coil else (row.trim, cut.length - row.trim)
    low_x, high_x = row.trim, cut.width - row.trim
    for put in cut.placements:
        blank, name = put.blank, f"blank {put.blank.mark}, copy {put.blank.copy}"
        size = (blank.width, blank.length)
        if put.turn not in blank.turns:
            yield f"{name} is turned by {put.turn} degrees; allowed are {blank.turns}"
        if (put.width, put.length) != (size if put.turn in (0, 180) else size[::-1]):
            yield f"{name} has not its own size"
        if not (
            put.x >= low_x - NEAR
            and put.y >= low_y - NEAR
            and put.x + put.width <= high_x + NEAR
            and put.y + put.length <= high_y + NEAR
        ):
            yield f"{name} leaves the metal"


def outline_on_stock(put: Placement) -> list[Point]:
    """The blank's outline where it lies, mm in the frame of the stock."""
    blank = put.blank
    w, h = blank.width, blank.length
    points = blank.outline or (Point(0, 0), Point(w, 0), Point(w, h), Point(0, h))
    turned = [p.turned(put.turn) for p in points]
    # What the blank's lower left corner becomes once its rectangle has turned.
    shift = {0: (0.0, 0.0), 90: (h, 0.0), 180: (w, h), 270: (0.0, w)}[put.turn]
    return [Point(p.x + put.x + shift[0], p.y + put.y + shift[1]) for p in turned]


def _overlaps(cut: CutStock) -> Iterator[str]:
    for one, two in combinations(cut.placements, 2):
        deep = min(
            min(one.x + one.width, two.x + two.width) - max(one.x, two.x),
            min(one.y + one.length, two.y + two.length) - max(one.y, two.y),
        )
        if deep <= NEAR:
            continue
        if one.blank.outline and two.blank.outline:
            deep = polygon.overlap_depth(_cut_up(one), _cut_up(two))
        if deep > NEAR:
            yield (
                f"blank {one.blank.mark}, copy {one.blank.copy}, lies {deep:.6f} mm"
                f" deep in blank {two.blank.mark}, copy {two.blank.copy}"
            )


def _cut_up(put: Placement) -> list[polygon.Triangle]:
    points = outline_on_stock(put)
    return polygon.triangles(points if polygon.area(points) > 0 else points[::-1])


def _offcuts(cut: CutStock, keep: Keep) -> Iterator[str]:
    boxes = [(p.x, p.y, p.width, p.length) for p in cut.placements]
    kept = [(o.x, o.y, o.width, o.length) for o in cut.offcuts]
    for number, one in enumerate(kept):
        short, long = sorted(one[2:])
        least = sorted((keep.width, keep.length))
        if short < least[0] - NEAR or long < least[1] - NEAR:
            yield f"an offcut of {one[2]} x {one[3]} mm is too small to keep"
        for two in (*boxes, *kept[number + 1 :]):
            deep = min(
                min(one[way] + one[way + 2], two[way] + two[way + 2])
                - max(one[way], two[way])
                for way in (0, 1)
            )
            if deep > NEAR:
                yield f"an offcut of {one[2]} x {one[3]} mm is not free metal"
