"""Fills one sheet: a free rectangle, the blank that suits it, one straight cut.

Takes blocks in the order of their weight, gives places. Every split is one cut
straight through the rectangle it splits, so the whole can be sheared apart.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

Entry = tuple[int, int, float, int, bool]
"""Width, height, weight, number of the block, lying a quarter turn round."""

Put = tuple[int, int, int, bool]
"""Number of the block, x, y, lying a quarter turn round."""


class Manner(NamedTuple):
    """How one sheet is filled.

    first: 0 the rectangle made last, 1 the smallest, 2 the largest
    split: 0 keep the larger rest whole, 1 its longer side, 2 its shorter side,
    3 chance, 4 always strips across, 5 always strips along
    premium: factor on the weight for each side filled exactly
    near: weight also counts how much of the narrower way is filled
    """

    first: int
    split: int
    premium: float
    near: bool = False


def fill(
    w: int,
    h: int,
    entries: list[Entry],
    left: list[int],
    manner: Manner,
    chance: Callable[[], float],
) -> list[Put]:
    """The blocks put on a rectangle of w x h steps, and where.

    entries: at least one, by falling weight, weights above 0
    left: how many of each block there are; what is put is taken off
    """
    first, split, premium, near = manner
    top = premium * premium
    free: list[tuple[int, int, int, int, int]] = [(w * h, w, h, 0, 0)]
    puts: list[Put] = []
    least_w = min([e[0] for e in entries])
    least_h = min([e[1] for e in entries])
    while free:
        if first == 0:
            _, fw, fh, x, y = free.pop()
        else:
            rect = min(free) if first == 1 else max(free)
            free.remove(rect)
            _, fw, fh, x, y = rect
        best = None
        best_score = 0.0
        if near:
            for entry in entries:
                bw, bh, score, block, _turn = entry
                if score * top <= best_score:
                    break
                if bw <= fw and bh <= fh and left[block]:
                    share = bw / fw
                    other = bh / fh
                    if other > share:
                        share = other
                    score *= share * share
                    if bw == fw:
                        score *= premium
                    if bh == fh:
                        score *= premium
                    if score > best_score:
                        best_score = score
                        best = entry
        else:
            for entry in entries:
                bw, bh, score, block, _turn = entry
                if score * top <= best_score:
                    break
                if bw <= fw and bh <= fh and left[block]:
                    if bw == fw:
                        score *= premium
                    if bh == fh:
                        score *= premium
                    if score > best_score:
                        best_score = score
                        best = entry
        if best is None:
            continue
        bw, bh, _weight, block, turn = best
        left[block] -= 1
        puts.append((block, x, y, turn))
        if not left[block]:
            entries = [e for e in entries if left[e[3]]]
            if not entries:
                break
        rw = fw - bw
        rh = fh - bh
        # A rest too narrow for any blank goes to the offcut on the other side.
        if rw < least_w:
            if rh >= least_h:
                free.append((fw * rh, fw, rh, x, y + bh))
            continue
        if rh < least_h:
            free.append((rw * fh, rw, fh, x + bw, y))
            continue
        if split == 0:
            along = rw * fh > fw * rh
        elif split == 1:
            along = rw > rh
        elif split == 2:
            along = rw < rh
        elif split == 3:
            along = chance() < 0.5
        else:
            along = split == 5
        if along:
            one = (rw * fh, rw, fh, x + bw, y)
            two = (bw * rh, bw, rh, x, y + bh)
        else:
            one = (fw * rh, fw, rh, x, y + bh)
            two = (rw * bh, rw, bh, x + bw, y)
        if one > two:
            free.append(one)
            free.append(two)
        else:
            free.append(two)
            free.append(one)
    return puts
