"""The most worth on one sheet in strips: each strip blanks side by side, each of
them alone or stacked on its like.

Takes a price for each kind, gives the places of the best such pattern, or nothing.
Two knapsacks, one along a strip and one over the strips.
Source: Gilmore and Gomory 1965, two-stage cutting; stacks make it three-stage.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from layout.nesting.model import Kind, Spot

CELLS = 1000
"""Finest division of a side that the knapsacks look at."""


class Stack(NamedTuple):
    """So many blanks of a kind on each other. w, h: of one, as it lies, steps."""

    h: int
    w: int
    high: int
    kind: int
    turn: int
    many: int


def best_strips(
    w: int,
    h: int,
    kinds: Sequence[Kind],
    prices: Sequence[float],
    most: Sequence[int],
    along: bool,
) -> tuple[float, tuple[Spot, ...]]:
    """Worth and places of the best pattern of strips on w x h steps.

    along: the strips run along the sheet, else across it
    most: how many of each kind are of any use in one stack
    """
    if along:
        w, h = h, w
    stacks = sorted(_stacks(w, h, kinds, prices, most, along))
    cell_w, cell_h = -(-w // CELLS), -(-h // CELLS)
    wide, tall = w // cell_w, h // cell_h
    # One strip: the best worth for each width, as taller stacks come to hand.
    best = [0.0] * (wide + 1)
    pick = [-1] * (wide + 1)
    strips: list[tuple[int, float, list[int]]] = []
    for number, stack in enumerate(stacks):
        worth = prices[stack.kind] * stack.many
        size = -(-stack.w // cell_w)
        for x in range(size, wide + 1):
            gain = best[x - size] + worth
            if gain > best[x]:
                best[x] = gain
                pick[x] = number
        if number + 1 == len(stacks) or stacks[number + 1].h != stack.h:
            if not strips or best[wide] > strips[-1][1]:
                strips.append((stack.h, best[wide], pick[:]))
    total = [0.0] * (tall + 1)
    chosen = [-1] * (tall + 1)
    for number, (height, worth, _) in enumerate(strips):
        size = -(-height // cell_h)
        for y in range(size, tall + 1):
            gain = total[y - size] + worth
            if gain > total[y]:
                total[y] = gain
                chosen[y] = number
    spots: list[Spot] = []
    y, at = tall, 0
    while y > 0 and chosen[y] >= 0:
        height, _, picks = strips[chosen[y]]
        spots += _laid(picks, stacks, wide, cell_w, at, along)
        at += height
        y -= -(-height // cell_h)
    return total[tall], tuple(spots)


def _stacks(
    w: int,
    h: int,
    kinds: Sequence[Kind],
    prices: Sequence[float],
    most: Sequence[int],
    along: bool,
) -> list[Stack]:
    found = []
    for number, kind in enumerate(kinds):
        if prices[number] <= 0 or most[number] <= 0:
            continue
        ways = {(kind.w, kind.h): 0}
        if kind.turned:
            ways.setdefault((kind.h, kind.w), 1)
        for (wide, high), turn in ways.items():
            if along:
                wide, high = high, wide
            if wide <= w:
                for count in range(1, min(h // high, most[number]) + 1):
                    found.append(Stack(count * high, wide, high, number, turn, count))
    return found


def _laid(
    picks: list[int],
    stacks: list[Stack],
    wide: int,
    cell: int,
    y: int,
    along: bool,
) -> list[Spot]:
    """Places of one strip's blanks, its foot at y."""
    found: list[Spot] = []
    x, at = wide, 0
    while x > 0 and picks[x] >= 0:
        stack = stacks[picks[x]]
        for n in range(stack.many):
            up = y + n * stack.high
            place = (up, at) if along else (at, up)
            found.append((stack.kind, *place, stack.turn))
        at += stack.w
        x -= -(-stack.w // cell)
    return found
