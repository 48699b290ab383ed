"""Do straight cuts part one stock, and do the plan's own cuts do it?

Takes one CutStock, gives one sentence for each fault. Two tests that know nothing
of each other: the blanks are parted anew by any straight cut that can be found,
and the plan's cuts are made one after the other on a sheet of paper.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from layout.geometry.point import Point
from layout.geometry.tolerance import EPS
from layout.nesting.plan import Cut, CutStock, Placement

NEAR = 20 * EPS
"""Ends of a chain of cuts are sums of lengths, each within the tolerance; mm."""

Rect = tuple[float, float, float, float]


def cutting_faults(stock: CutStock) -> list[str]:
    """What is wrong with the cuts of one stock; [] if they part it."""
    found = []
    if not can_be_parted(stock.placements):
        found.append("its blanks can't be parted by straight through cuts")
    found += _made_in_order(stock)
    return found


def can_be_parted(placements: Sequence[Placement]) -> bool:
    """True where straight through cuts part the blanks, found anew.

    Two blanks whose rectangles overlap count as parted where one slanted cut
    keeps them whole.
    """
    groups = [list(placements)]
    while groups:
        group = groups.pop()
        if len(group) < 2:
            continue
        for way in (0, 1):
            ends = sorted(_far(put, way) for put in group)
            at = next((e for e in ends[:-1] if not _goes_through(group, way, e)), None)
            if at is not None:
                groups.append([p for p in group if _far(p, way) <= at + NEAR])
                groups.append([p for p in group if _far(p, way) > at + NEAR])
                break
        else:
            if len(group) > 2 or not _line_between(group[0], group[1]):
                return False
    return all(groups)


def _near(put: Placement, way: int) -> float:
    return put.y if way else put.x


def _far(put: Placement, way: int) -> float:
    return put.y + put.length if way else put.x + put.width


def _goes_through(group: Sequence[Placement], way: int, at: float) -> bool:
    """True where the cut damages a blank, or leaves all of them on one side."""
    if all(_far(put, way) <= at + NEAR for put in group):
        return True
    return any(
        _near(put, way) < at - NEAR < at + NEAR < _far(put, way) for put in group
    )


def corners(put: Placement) -> list[Point]:
    """The blank's outline on the stock, by the turn it says it has."""
    w, h = put.blank.width, put.blank.length
    points = put.blank.outline or (Point(0, 0), Point(w, 0), Point(w, h), Point(0, h))
    if put.turn == 90:
        points = tuple(Point(h - p.y, p.x) for p in points)
    elif put.turn == 180:
        points = tuple(Point(w - p.x, h - p.y) for p in points)
    elif put.turn == 270:
        points = tuple(Point(p.y, w - p.x) for p in points)
    return [Point(p.x + put.x, p.y + put.y) for p in points]


def _line_between(one: Placement, two: Placement) -> bool:
    """True where one straight line keeps both outlines whole: it then runs along
    an edge of one of their hulls, so every two corners are tried."""
    mine, other = corners(one), corners(two)
    for points in (mine, other):
        for n, a in enumerate(points):
            for b in points[n + 1 :]:
                if _parts(a, b, mine, other):
                    return True
    return False


def _parts(a: Point, b: Point, one: Sequence[Point], two: Sequence[Point]) -> bool:
    """True where the line through a and b has the outlines on its two sides."""
    along = b.minus(a)
    size = along.length()
    if size < NEAR:
        return False
    left = [along.cross(p.minus(a)) / size for p in one]
    right = [along.cross(p.minus(a)) / size for p in two]
    if min(left) >= -NEAR and max(right) <= NEAR:
        return True
    return max(left) <= NEAR and min(right) >= -NEAR


def _made_in_order(stock: CutStock) -> Iterator[str]:
    """Makes the plan's cuts on paper and looks at what comes off."""
    parts: list[Rect] = [(0.0, 0.0, stock.width, stock.length)]
    pairs: list[Rect] = []
    for number, cut in enumerate(stock.cuts, start=1):
        if cut.order != number:
            yield f"cut {cut.order} stands in place {number}"
        part = next((p for p in parts if _same(p, cut.part)), None)
        if part is None:
            yield f"cut {number} cuts a part that is not there"
            return
        parts.remove(part)
        if cut.tool == "snips":
            if not _parts_a_pair(cut, part, stock):
                yield f"cut {number} does not part two blanks head to tail"
            pairs.append(part)
            continue
        halves = _halves(cut, part)
        if halves is None:
            yield f"cut {number} does not go straight through its part"
            return
        parts += [half for half in halves if min(half[2:]) > NEAR]
    yield from _come_off(stock, parts, pairs)


def _come_off(stock: CutStock, parts: list[Rect], pairs: list[Rect]) -> Iterator[str]:
    free = list(parts)
    for put in stock.placements:
        box = (put.x, put.y, put.width, put.length)
        name = f"blank {put.blank.mark}, copy {put.blank.copy},"
        part = next((p for p in free if _same(p, box)), None)
        if part is not None:
            free.remove(part)
        elif not any(_inside(box, pair) for pair in pairs):
            yield f"{name} does not come off by the cuts"
    for offcut in stock.offcuts:
        box = (offcut.x, offcut.y, offcut.width, offcut.length)
        if not any(_same(p, box) for p in free):
            yield f"the offcut of {offcut.width} x {offcut.length} mm does not come off"


def _parts_a_pair(cut: Cut, part: Rect, stock: CutStock) -> bool:
    inside = [
        put
        for put in stock.placements
        if _inside((put.x, put.y, put.width, put.length), part)
    ]
    if len(inside) != 2:
        return False
    a, b = Point(*cut.start), Point(*cut.end)
    return _parts(a, b, corners(inside[0]), corners(inside[1]))


def _halves(cut: Cut, part: Rect) -> tuple[Rect, Rect] | None:
    """The part cut in two; None where the cut's ends don't lie on its sides."""
    x, y, w, h = part
    (x0, y0), (x1, y1) = cut.start, cut.end
    if abs(x0 - x1) <= NEAR and abs(min(y0, y1) - y) <= NEAR:
        if abs(max(y0, y1) - y - h) > NEAR or not x - NEAR <= x0 <= x + w + NEAR:
            return None
        return (x, y, x0 - x, h), (x0, y, x + w - x0, h)
    if abs(y0 - y1) <= NEAR and abs(min(x0, x1) - x) <= NEAR:
        if abs(max(x0, x1) - x - w) > NEAR or not y - NEAR <= y0 <= y + h + NEAR:
            return None
        return (x, y, w, y0 - y), (x, y0, w, y + h - y0)
    return None


def _same(one: Rect, two: Rect) -> bool:
    return all(abs(a - b) <= NEAR for a, b in zip(one, two, strict=True))


def _inside(box: Rect, part: Rect) -> bool:
    return all(
        box[way] >= part[way] - NEAR
        and box[way] + box[way + 2] <= part[way] + part[way + 2] + NEAR
        for way in (0, 1)
    )
