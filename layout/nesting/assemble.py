"""From sheets in whole steps to a Plan in mm, with its cuts and offcuts.

Takes an Order and the sheets found for it, gives a Plan.
"""

from __future__ import annotations

from collections.abc import Sequence

from layout.geometry.point import Point
from layout.nesting.blank import Blank, outline_as_it_lies
from layout.nesting.bound import least_area, least_cost
from layout.nesting.cuts import parted
from layout.nesting.model import Sheet, Spot
from layout.nesting.order import Order
from layout.nesting.pairs import parting_line
from layout.nesting.plan import Cut, CutStock, Offcut, Placement, Plan, Tool
from layout.nesting.stock import Stock

FORMS = ("offcut", "sheet", "coil")

Line = tuple[tuple[float, float], tuple[float, float]]
Part = tuple[float, float, float, float]


def plan_of(order: Order, sheets: Sequence[Sheet], shear: float) -> Plan:
    """The plan of these sheets: offcuts first, the fullest first within a form.

    shear: length of the shear, mm
    """
    left = [list(same) for same in order.blanks]
    ranked = sorted(sheets, key=lambda sheet: _as_taken(order, sheet))
    stocks = []
    for number, sheet in enumerate(ranked, start=1):
        blanks = [left[spot[0]].pop(0) for spot in sheet.spots]
        stocks.append(_stock(order, sheet, number, blanks, shear))
    cost = sum(
        stock.cost
        - order.keep.worth
        * order.stocks[sheet.offer].price
        * sum(offcut.area for offcut in stock.offcuts)
        for stock, sheet in zip(stocks, ranked, strict=True)
    )
    step = order.grid.step
    least = least_area(order.task) * step * step
    return Plan(tuple(stocks), cost, least_cost(order.task), least)


def _as_taken(order: Order, sheet: Sheet) -> tuple[int, int, float, tuple[Spot, ...]]:
    form = FORMS.index(order.stocks[sheet.offer].form)
    return form, sheet.offer, -sheet.fill / sheet.h, sheet.spots


def _stock(
    order: Order, sheet: Sheet, number: int, blanks: list[Blank], shear: float
) -> CutStock:
    stock, mm = order.stocks[sheet.offer], order.grid.mm
    offer = order.task.offers[sheet.offer]
    trim = stock.trim
    low = 0.0 if stock.form == "coil" else trim
    length = mm(sheet.h) if stock.form == "coil" else stock.length
    placements = tuple(
        _placement(order, spot, blank, trim, low)
        for spot, blank in zip(sheet.spots, blanks, strict=True)
    )
    keep = order.task.keep_w, order.task.keep_h
    found = parted((0, 0, offer.w, sheet.h), sheet.spots, order.task.kinds, keep)
    lines = _first_cuts(stock, length)
    for cut in found.slices:
        x, y, w, h = cut.part
        part = trim + mm(x), low + mm(y), mm(w), mm(h)
        at = (low if cut.across else trim) + mm(cut.at)
        lines.append((cut.across, part, at))
    cuts = [
        _straight(n, across, part, at, shear)
        for n, (across, part, at) in enumerate(lines, start=1)
    ]
    by_spot = dict(zip(sheet.spots, placements, strict=True))
    for rect, spots in found.pairs:
        part = trim + mm(rect[0]), low + mm(rect[1]), mm(rect[2]), mm(rect[3])
        cuts.append(_slanted(len(cuts) + 1, part, [by_spot[s] for s in spots]))
    offcuts = tuple(
        Offcut(trim + mm(x), low + mm(y), mm(w), mm(h)) for x, y, w, h in found.rests
    )
    cost = stock.price * stock.width * length
    return CutStock(
        stock.name,
        stock.form,
        number,
        stock.width,
        length,
        cost,
        placements,
        tuple(cuts),
        offcuts,
    )


def _placement(
    order: Order, spot: Spot, blank: Blank, trim: float, low: float
) -> Placement:
    kind, x, y, quarters = spot
    pattern = order.task.kinds[kind]
    # Of rectangles that may be turned, each copy may stand the other way round.
    turned = (order.grid.up(blank.width), order.grid.up(blank.length)) != pattern[:2]
    paired = any(kind in pair[:2] for pair in order.task.pairs)
    # Half a turn changes nothing but for blanks head to tail.
    turn = (quarters + turned) * 90 % (360 if paired else 180)
    wide, long = blank.width, blank.length
    if turn % 180:
        wide, long = long, wide
    mm = order.grid.mm
    return Placement(blank, trim + mm(x), low + mm(y), wide, long, turn)


def _first_cuts(stock: Stock, length: float) -> list[tuple[bool, Part, float]]:
    """Off the coil, and the trim edge all round."""
    found: list[tuple[bool, Part, float]] = []
    x, y, w, h = 0.0, 0.0, stock.width, length
    if stock.form == "coil":
        found.append((True, (x, y, w, h), h))
    trim = stock.trim
    if trim:
        found.append((False, (x, y, w, h), trim))
        found.append((False, (trim, y, w - trim, h), w - trim))
        w -= 2 * trim
        if stock.form != "coil":
            found.append((True, (trim, y, w, h), trim))
            found.append((True, (trim, trim, w, h - trim), h - trim))
    return found


def _straight(number: int, across: bool, part: Part, at: float, shear: float) -> Cut:
    x, y, w, h = part
    tool: Tool = "shear"
    if across:
        start, end = (x, at), (x + w, at)
    else:
        start, end = (at, y), (at, y + h)
        if h > shear:
            tool = "slitter"
    return Cut(number, tool, start, end, part)


def _slanted(number: int, part: Part, pair: list[Placement]) -> Cut:
    outlines = [
        tuple(
            Point(p.x + put.x, p.y + put.y)
            for p in outline_as_it_lies(put.blank, put.turn)
        )
        for put in pair
    ]
    line = parting_line(outlines[0], outlines[1], part)
    start, end = line or ((part[0], part[1]), (part[0] + part[2], part[1] + part[3]))
    return Cut(number, "snips", start, end, part)
