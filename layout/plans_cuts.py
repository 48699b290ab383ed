"""The straight cuts that part a stock, in the order they are made.

Takes the rectangles of the blanks on one stock, gives cuts, and what is left and
worth keeping. The next cut is the one that takes off the largest rest worth keeping;
where there is none, the one that parts the blanks; the trims come last, so that
nothing small is handled longer than it must be.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from layout.geometry.tolerance import EPS as TOLERANCE

LEAST_TRIM = 0.5
"""Millimetres no shear takes off a sheet: a blank nearer than that to its part's
edges is free. Common practice, no source."""

Box = tuple[float, float, float, float]
"""x, y, width, length; mm in the frame of the stock."""


class Cut(NamedTuple):
    """One cut straight through `part`.

    across: it runs across the rolling direction, else along it
    gauge: mm from the part's foot (across) or left edge (along) to the cut
    blanks, offcuts: positions of those that come free with it
    """

    across: bool
    gauge: float
    part: Box
    blanks: tuple[int, ...]
    offcuts: tuple[int, ...]

    def line(self) -> tuple[tuple[float, float], tuple[float, float]]:
        x, y, w, h = self.part
        if self.across:
            return (x, y + self.gauge), (x + w, y + self.gauge)
        return (x + self.gauge, y), (x + self.gauge, y + h)


class Parted(NamedTuple):
    cuts: tuple[Cut, ...]
    offcuts: tuple[Box, ...]


class NotStraight(ValueError):
    """The blanks can't be parted by straight through cuts."""


def part(
    width: float, length: float, blanks: Sequence[Box], keep: tuple[float, float]
) -> Parted:
    """Cuts in order, and the offcuts worth keeping.

    keep: least width and length of an offcut, mm, either way round
    A blank that is the whole stock comes free without a cut: one is given all the
    same, at gauge 0, for somebody must take it.
    Raises NotStraight where a blank would have to be cut through.
    """
    whole: Box = (0.0, 0.0, width, length)
    state = _State(list(blanks), keep, [], [])
    if _is_whole(whole, blanks):
        return Parted((Cut(True, 0.0, whole, (0,), ()),), ())
    _part(whole, list(range(len(blanks))), state)
    return Parted(tuple(state.cuts), tuple(state.offcuts))


class _State(NamedTuple):
    boxes: list[Box]
    keep: tuple[float, float]
    cuts: list[Cut]
    offcuts: list[Box]


def _part(region: Box, inside: list[int], state: _State) -> None:
    """Cuts a region until its blanks are free. Its own cut stands before theirs."""
    if not inside or _is_whole(region, [state.boxes[n] for n in inside]):
        return
    across, at = _best(region, inside, state)
    low, high = _halves(region, across, at)
    sides = []
    for half in (low, high):
        held = [n for n in inside if _within(state.boxes[n], half)]
        sides.append((half, held))
    place = len(state.cuts)
    state.cuts.append(Cut(across, at, region, (), ()))
    freed: list[int] = []
    kept: list[int] = []
    for half, held in sides:
        if not held and _worth(half, state.keep):
            state.offcuts.append(half)
            kept.append(len(state.offcuts) - 1)
        elif _is_whole(half, [state.boxes[n] for n in held]):
            freed += held
    state.cuts[place] = Cut(across, at, region, tuple(freed), tuple(kept))
    for half, held in sides:
        _part(half, held, state)


def _best(region: Box, inside: list[int], state: _State) -> tuple[bool, float]:
    """The cut to make next: across or not, and where from the region's edge."""
    found: list[tuple[int, float, bool, float]] = []
    for across in (True, False):
        way = 1 if across else 0
        start, size = region[way], region[way + 2]
        spans = sorted(
            (state.boxes[n][way], state.boxes[n][way] + state.boxes[n][way + 2])
            for n in inside
        )
        for at in _gaps(start, start + size, spans):
            halves = _halves(region, across, at - start)
            empty = [
                half
                for half in halves
                if not any(_within(state.boxes[n], half) for n in inside)
            ]
            worth = [half[2] * half[3] for half in empty if _worth(half, state.keep)]
            rank = 2 if worth else 0 if empty else 1
            found.append((rank, max(worth, default=size), across, at - start))
    if not found:
        raise NotStraight("the blanks can't be parted by straight through cuts")
    _, _, across, gauge = max(found)
    return across, gauge


def _gaps(low: float, high: float, spans: list[tuple[float, float]]) -> list[float]:
    """Places between low and high where no span is cut through, at spans' ends."""
    places = []
    reach = low
    for start, end in spans:
        if start >= reach - TOLERANCE:
            places += [reach, start]
        reach = max(reach, end)
    places.append(reach)
    inner = [p for p in places if low + TOLERANCE < p < high - TOLERANCE]
    return sorted(set(inner))


def _halves(region: Box, across: bool, at: float) -> tuple[Box, Box]:
    x, y, w, h = region
    if across:
        return (x, y, w, at), (x, y + at, w, h - at)
    return (x, y, at, h), (x + at, y, w - at, h)


def _within(box: Box, region: Box) -> bool:
    return all(
        region[way] - TOLERANCE <= box[way]
        and box[way] + box[way + 2] <= region[way] + region[way + 2] + TOLERANCE
        for way in (0, 1)
    )


def _is_whole(region: Box, boxes: Sequence[Box]) -> bool:
    """One blank that fills the region."""
    return len(boxes) == 1 and all(
        abs(region[n] - boxes[0][n]) <= LEAST_TRIM for n in range(4)
    )


def _worth(region: Box, keep: tuple[float, float]) -> bool:
    small, large = sorted(region[2:])
    return small >= min(keep) - TOLERANCE and large >= max(keep) - TOLERANCE
