"""The straight cuts that part one sheet, in order, and the rests worth keeping.

Takes places on a sheet in whole steps, gives cuts. The next cut is the one that
frees the largest rest worth keeping; where there is none, one that parts the
blanks; trimming comes last, so that nothing small is handled longer than it must.
"""

from __future__ import annotations

from typing import NamedTuple

from layout.nesting.model import Kind, Spot
from layout.nesting.parts import taken_apart

Rect = tuple[int, int, int, int]
"""x, y, width, height in steps."""

Unit = tuple[int, int, int, int, tuple[Spot, ...]]
"""x, y, far x, far y of what comes off whole; two spots are a pair."""


class Slice(NamedTuple):
    """One cut right through a rectangle. across: square to the rolling direction.

    at: its x (along) or y (across), steps
    """

    part: Rect
    across: bool
    at: int


class Parted(NamedTuple):
    """pairs: rectangles of blanks set head to tail, to be parted by snips."""

    slices: list[Slice]
    rests: list[Rect]
    pairs: list[tuple[Rect, tuple[Spot, ...]]]


class NotStraight(ValueError):
    """The blanks can't be parted by straight through cuts."""


def parted(
    whole: Rect,
    spots: tuple[Spot, ...],
    kinds: tuple[Kind, ...],
    keep: tuple[int, int],
) -> Parted:
    """Cuts and rests of one sheet.

    whole: what may be cut up; keep: least sides of a rest, either way round
    Raises NotStraight where a cut would have to go through a blank.
    """
    found = Parted([], [], [])
    units: list[Unit] = []
    stack = [taken_apart(spots, kinds)]
    while stack:
        part = stack.pop()
        if part.inside:
            stack += part.inside
        elif len(part.spots) > 2:
            raise NotStraight("the blanks can't be parted by straight through cuts")
        else:
            far_x, far_y = part.x + part.w, part.y + part.h
            units.append((part.x, part.y, far_x, far_y, part.spots))
    _split(whole, units, keep, found)
    return found


def worth_keeping(rect: Rect, keep: tuple[int, int]) -> bool:
    """True where both sides are long enough, either way round."""
    one, two = rect[2], rect[3]
    if one > two:
        one, two = two, one
    return one > 0 and one >= min(keep) and two >= max(keep)


def _split(
    region: Rect, units: list[Unit], keep: tuple[int, int], found: Parted
) -> None:
    if not units:
        if worth_keeping(region, keep):
            found.rests.append(region)
        return
    cut = _next(region, units, keep)
    if cut is None:
        if len(units[0][4]) == 2:
            found.pairs.append((region, units[0][4]))
        return
    found.slices.append(cut)
    near: list[Unit] = []
    far: list[Unit] = []
    for unit in units:
        (near if (unit[1] if cut.across else unit[0]) < cut.at else far).append(unit)
    low, high = halves(cut)
    _split(low, near, keep, found)
    _split(high, far, keep, found)


def halves(cut: Slice) -> tuple[Rect, Rect]:
    """The two rectangles a cut makes: left and right, or lower and upper."""
    x, y, w, h = cut.part
    if cut.across:
        return (x, y, w, cut.at - y), (x, cut.at, w, y + h - cut.at)
    return (x, y, cut.at - x, h), (cut.at, y, x + w - cut.at, h)


def _next(region: Rect, units: list[Unit], keep: tuple[int, int]) -> Slice | None:
    """The cut to make in a region; None where its one unit fills it."""
    best: Slice | None = None
    best_rank = (-1, -1)
    for way in (0, 1):
        low, high = region[way], region[way] + region[way + 2]
        spans = sorted([(u[1], u[3]) if way else (u[0], u[2]) for u in units])
        reach = low
        for place, (start, end) in enumerate([*spans, (high, high)]):
            if start >= reach:
                for at in sorted({reach, start}):
                    if not low < at < high:
                        continue
                    cut = Slice(region, way == 1, at)
                    rank = _rank(cut, place, reach, start, len(units), keep)
                    if rank > best_rank:
                        best, best_rank = cut, rank
            reach = max(reach, end)
    return best


def _rank(
    cut: Slice, below: int, reach: int, start: int, count: int, keep: tuple[int, int]
) -> tuple[int, int]:
    """How good a cut is: frees a rest (its area), parts blanks, or trims."""
    empty: Rect | None = None
    low, high = halves(cut)
    if below == 0:
        empty = low
    elif below == count:
        empty = high
    if empty is None:
        # Between two cuts that part blanks, the one with the wider gap first.
        return 1, start - reach
    if worth_keeping(empty, keep):
        return 2, empty[2] * empty[3]
    return 0, empty[2] * empty[3]
