"""Takes a filled sheet apart along its straight through cuts.

Takes places, gives a tree; from it, blocks worth keeping together when the
sheet's blanks are planned again.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from layout.nesting.model import Kind, Spot

Box = tuple[int, int, int, int, Spot]


class Part(NamedTuple):
    """A rectangle that comes off whole. area: of the blanks in it."""

    x: int
    y: int
    w: int
    h: int
    area: int
    spots: tuple[Spot, ...]
    inside: tuple[Part, ...]


def taken_apart(spots: tuple[Spot, ...], kinds: tuple[Kind, ...]) -> Part:
    """The places as a tree of parts; leaves are what can't be cut further."""
    boxes = []
    for spot in spots:
        kind, x, y, turn = spot
        w, h = kinds[kind].w, kinds[kind].h
        if turn & 1:
            w, h = h, w
        boxes.append((x, y, x + w, y + h, spot))
    return _part(boxes, kinds)


def _part(boxes: list[Box], kinds: tuple[Kind, ...]) -> Part:
    x = min([b[0] for b in boxes])
    y = min([b[1] for b in boxes])
    w = max([b[2] for b in boxes]) - x
    h = max([b[3] for b in boxes]) - y
    inside: tuple[Part, ...] = ()
    if len(boxes) > 1:
        groups = groups_along(boxes, 0)
        if len(groups) == 1:
            groups = groups_along(boxes, 1)
        if len(groups) > 1:
            inside = tuple([_part(g, kinds) for g in groups])
    area = sum([kinds[b[4][0]].area for b in boxes])
    return Part(x, y, w, h, area, tuple([b[4] for b in boxes]), inside)


def groups_along(boxes: list[Box], way: int) -> list[list[Box]]:
    """The boxes in groups that straight cuts part, along x (0) or y (1)."""
    if way:
        spans = sorted([(b[1], b[3], b) for b in boxes])
    else:
        spans = sorted([(b[0], b[2], b) for b in boxes])
    groups: list[list[Box]] = []
    reach = spans[0][0]
    for start, end, box in spans:
        if start >= reach:
            groups.append([box])
        else:
            groups[-1].append(box)
        if end > reach:
            reach = end
    return groups


def kept_parts(
    part: Part, dense: float, keep: float, chance: Callable[[], float]
) -> list[Part]:
    """Dense parts to keep whole by chance, and the single blanks of the rest.

    dense: least share of a part's rectangle that its blanks fill
    keep: chance that such a part is kept
    """
    if not part.inside:
        return [part]
    if part.area >= dense * part.w * part.h and chance() < keep:
        return [part]
    found: list[Part] = []
    for one in part.inside:
        found += kept_parts(one, dense, keep, chance)
    return found
