"""The cut plan in whole numbers: kinds of blank, stock on offer, sheets filled.

Takes and gives plain tuples, so that the search's tight loops stay fast. All
lengths here are whole steps of one grid (see `grid.py`), so two sides either
agree exactly or they don't.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

NO_LIMIT = 1 << 60

Spot = tuple[int, int, int, int]
"""Kind, x, y, quarter turns counter-clockwise (0 to 3) of one blank on a sheet."""


class Kind(NamedTuple):
    """Blanks of one size. w across, h along the rolling direction, in steps.

    turned: may lie a quarter turn round; area: of the outline, square steps
    """

    w: int
    h: int
    turned: bool
    area: int


class Offer(NamedTuple):
    """One row of stock. w, h in steps, trim already taken off; h 0 = coil.

    cost: of one sheet, or of one step of coil's length
    there: how many sheets there are, or steps of coil left
    longest: longest piece to be cut off the coil, steps
    """

    w: int
    h: int
    cost: float
    there: int
    longest: int


class Sheet(NamedTuple):
    """One sheet or cut-off with its blanks. h: the length really taken.

    fill: area of the blanks on it; credit: worth of the rests kept
    """

    offer: int
    h: int
    cost: float
    fill: int
    spots: tuple[Spot, ...]
    credit: float = 0.0

    @property
    def net(self) -> float:
        return self.cost - self.credit


class Task(NamedTuple):
    """What is to be planned: kinds and how many of each, stock on offer.

    keep_w, keep_h: least sides of a rest worth keeping, steps
    worth: cost given back for one square step of a rest kept, by offer
    pairs: (kind, kind, w, h, second's x, second's y) set head to tail
    """

    kinds: tuple[Kind, ...]
    wanted: tuple[int, ...]
    offers: tuple[Offer, ...]
    keep_w: int = 0
    keep_h: int = 0
    worth: tuple[float, ...] = ()
    pairs: tuple[tuple[int, int, int, int, int, int], ...] = ()


def counted(spots: Sequence[Spot], kinds: int) -> list[int]:
    """How many of each kind lie there."""
    found = [0] * kinds
    for spot in spots:
        found[spot[0]] += 1
    return found
