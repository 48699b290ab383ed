"""A long run -> lengths the brake and the stock allow, laps and joints kept.

Takes a run and what limits it, mm, gives the lengths to cut and where each
lies. Each length covers the end of the one before it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import ceil, inf
from typing import NamedTuple

from layout.folding.facts import BrakeFacts, StockFacts
from layout.geometry.tolerance import EPS


class Length(NamedTuple):
    """One length of a run: from start, mm along the run, both ends' laps in it.

    joint: how it begins: "end", "lap" or "expansion"
    """

    start: float
    size: float
    joint: str


def longest(girth: float, brake: BrakeFacts, stocks: Iterable[StockFacts]) -> float:
    """The longest piece of that girth the brake folds and a stock gives, mm.

    girth: stretch-out, mm. Coil is cut to any length. Where no stock is wide
    enough, or none is kept, the brake alone decides.
    Example: girth 330, brake 3048, sheets 914 x 2438 -> 2438.
    """
    given = [size for stock in stocks for size in _out_of(stock, girth)]
    return min(brake.length, max(given, default=inf))


def _out_of(stock: StockFacts, girth: float) -> Iterable[float]:
    if girth <= stock.width + EPS:
        yield stock.length or inf
    if stock.length and girth <= stock.length + EPS:
        yield stock.width


def count(run: float, strip: float, lap: float) -> int:
    """How many strips cover a run, each lapping the one before.

    run, strip, lap: mm, in any one unit. Raises ValueError where a strip is no
    longer than its lap.
    Example: 25 ft in strips of 8 ft with laps of 3 in -> 4.
    """
    if strip <= lap:
        raise ValueError("a strip must be longer than its lap")
    return max(1, ceil((run - lap) / (strip - lap) - EPS))


def lengths(run: float, strip: float, lap: float, shortest: float) -> list[float]:
    """Full strips and a last one, mm. Where the last would be shorter than
    `shortest`, it shares evenly with the one before.

    Their sum less the laps between them is the run.
    Example: 25 ft, 8 ft, 3 in -> 8, 8, 8 and 1 3/4 ft.
    """
    n = count(run, strip, lap)
    if n == 1:
        return [run]
    last = run - (n - 1) * (strip - lap)
    if last >= shortest:
        return [strip] * (n - 1) + [last]
    return [strip] * (n - 2) + [(strip + last) / 2] * 2


def expansion_joints(run: float, interval: float) -> list[float]:
    """Places of the joints along a run that let the metal move, mm.

    One at every interval; one more, midway, where the last lies further from
    the end than half an interval.
    Source: Unified Facilities Guide Specification 07600, p.17 and p.22; the
    place of the additional joint: our own.
    Example: 115 ft, 32 ft -> 32, 64, 96 and 105 1/2 ft.
    """
    if run <= interval + EPS:
        return []
    places = [interval * i for i in range(1, ceil(run / interval - EPS))]
    rest = run - places[-1]
    if rest > interval / 2 + EPS:
        places.append(places[-1] + rest / 2)
    return places


def divide(
    run: float, strip: float, lap: float, interval: float, shortest: float
) -> list[Length]:
    """The lengths of a run, from its near end on.

    strip: the longest piece; lap: at every joint; interval: from one expansion
    joint to the next; shortest: no piece is shorter, where it can be helped. mm
    Raises ValueError where the strip is no longer than its lap.
    """
    places = expansion_joints(run, interval)
    if places:
        places[-1] = min(places[-1], run - shortest)
    stops = [0.0, *places, run]
    made: list[Length] = []
    for i, (low, high) in enumerate(zip(stops, stops[1:], strict=False)):
        # A stretch reaches under the next one by the lap.
        reach = high + (lap if high < run - EPS else 0.0)
        joint, place = ("expansion" if i else "end"), low
        for size in lengths(reach - low, strip, lap, shortest):
            made.append(Length(place, size, joint))
            joint, place = "lap", place + size - lap
    return made


def alike(made: Sequence[Length]) -> list[list[int]]:
    """Indices of lengths of one size, in the order in which each size comes."""
    groups: list[list[int]] = []
    for i, length in enumerate(made):
        for group in groups:
            if abs(made[group[0]].size - length.size) < EPS:
                group.append(i)
                break
        else:
            groups.append([i])
    return groups
