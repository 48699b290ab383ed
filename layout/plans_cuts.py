"""The cuts of one stock as the bench needs them: where to set the stop, what is free.

Takes a stock of a plan, gives its cuts in order, each with the blanks and offcuts that
come free with it.
"""

from __future__ import annotations

from collections.abc import Sequence

from layout.geometry.tolerance import EPS
from layout.models import ShownCut
from layout.nesting.plan import Cut, CutStock

Rect = tuple[float, float, float, float]
"""x, y, width, length; mm in the frame of the stock."""

NEAR = 10 * EPS  # places that went through the search's grid and back


def shown_cuts(stock: CutStock, squared: Rect | None = None) -> list[ShownCut]:
    """Every cut, in order.

    squared: for an offcut with an outline, the rectangle it is squared to first,
    in the frame of its outline; the plan's own places begin at its corner
    A stock that comes free without a cut gets one at gauge 0: somebody takes it.
    """
    dx, dy = squared[:2] if squared else (0.0, 0.0)
    found: list[ShownCut] = []
    parts = [cut.part for cut in stock.cuts]
    for cut in stock.cuts:
        blanks, offcuts = _freed(cut, parts, stock)
        found.append(_shown(cut, dx, dy, blanks, offcuts))
    if not found:
        whole = (0.0, 0.0, stock.width, stock.length)
        found.append(_taken_whole(stock, whole, dx, dy))
    first = _squaring(squared) if squared else []
    return [
        cut._replace(order=number) for number, cut in enumerate([*first, *found], 1)
    ]


def _freed(
    cut: Cut, parts: Sequence[Rect], stock: CutStock
) -> tuple[list[int], list[int]]:
    """Places of the blanks and of the offcuts that no later cut touches."""
    halves = [cut.part] if cut.tool == "snips" else _halves(cut)
    blanks: list[int] = []
    offcuts: list[int] = []
    # A cut off the coil leaves its own part to be cut on.
    later = parts[cut.order :]
    for half in halves:
        if any(_same(half, part) for part in later):
            continue
        for place, put in enumerate(stock.placements):
            if _within((put.x, put.y, put.width, put.length), half):
                blanks.append(place)
        for place, rest in enumerate(stock.offcuts):
            if _within((rest.x, rest.y, rest.width, rest.length), half):
                offcuts.append(place)
    return blanks, offcuts


def _halves(cut: Cut) -> list[Rect]:
    x, y, w, h = cut.part
    at = _gauge(cut)
    two: list[Rect]
    if _is_across(cut):
        two = [(x, y, w, at), (x, y + at, w, h - at)]
    else:
        two = [(x, y, at, h), (x + at, y, w - at, h)]
    return [half for half in two if half[2] > NEAR and half[3] > NEAR]


def _is_across(cut: Cut) -> bool:
    return abs(cut.start[1] - cut.end[1]) <= NEAR


def _gauge(cut: Cut) -> float:
    """From the foot or the left edge of the part to the cut."""
    way = 1 if _is_across(cut) else 0
    return cut.start[way] - cut.part[way]


def _shown(
    cut: Cut, dx: float, dy: float, blanks: list[int], offcuts: list[int]
) -> ShownCut:
    x, y, w, h = cut.part
    ends = (cut.start, cut.end)
    return ShownCut(
        cut.order,
        cut.tool,
        _is_across(cut),
        round(_gauge(cut), 3),
        [[round(px + dx, 3), round(py + dy, 3)] for px, py in ends],
        [round(it, 3) for it in (x + dx, y + dy, w, h)],
        blanks,
        offcuts,
    )


def _taken_whole(stock: CutStock, whole: Rect, dx: float, dy: float) -> ShownCut:
    line = [[dx, dy], [dx + whole[2], dy]]
    part = [dx, dy, whole[2], whole[3]]
    places = list(range(len(stock.placements)))
    return ShownCut(1, "shear", True, 0.0, line, part, places, [])


def _squaring(squared: Rect) -> list[ShownCut]:
    """The offcut is squared along the four sides of the rectangle in it."""
    x, y, w, h = squared
    sides = (
        (True, [[x, y], [x + w, y]]),
        (False, [[x, y], [x, y + h]]),
        (False, [[x + w, y], [x + w, y + h]]),
        (True, [[x, y + h], [x + w, y + h]]),
    )
    part = [x, y, w, h]
    return [
        ShownCut(0, "shear", across, 0.0, line, part, [], []) for across, line in sides
    ]


def _within(box: Rect, region: Rect) -> bool:
    return all(
        region[way] - NEAR <= box[way]
        and box[way] + box[way + 2] <= region[way] + region[way + 2] + NEAR
        for way in (0, 1)
    )


def _same(one: Rect, two: Rect) -> bool:
    return all(abs(a - b) <= NEAR for a, b in zip(one, two, strict=True))
