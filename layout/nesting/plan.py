"""The answer: which blank lies where on which stock, the cuts, what is kept.

Plain values in mm. x runs across the stock and y along its rolling direction, from
the lower left corner of the stock itself (trim edges included).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from layout.nesting.blank import Blank
from layout.nesting.stock import Form

Tool = Literal["shear", "slitter", "snips"]


@dataclass(frozen=True, slots=True)
class Placement:
    """One blank on its stock. width, length: as it lies, mm.

    turn: 0, 90, 180 or 270 degrees counter-clockwise from the blank as given
    """

    blank: Blank
    x: float
    y: float
    width: float
    length: float
    turn: int

    @property
    def turned(self) -> bool:
        """True a quarter turn round: its width lies along the rolling direction."""
        return self.turn % 180 == 90


@dataclass(frozen=True, slots=True)
class Cut:
    """One straight cut through the whole of a part of the stock.

    order: 1, 2, ... within its stock, in which the cuts are made
    start, end: its two ends, (x, y) mm
    part: x, y, width, length of the rectangle it cuts in two
    tool: shear; slitter for a cut along the coil longer than the shear; snips for
    the slanted cut that parts two blanks set head to tail
    """

    order: int
    tool: Tool
    start: tuple[float, float]
    end: tuple[float, float]
    part: tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Offcut:
    """A rectangle left over and worth keeping, in its place on the stock, mm."""

    x: float
    y: float
    width: float
    length: float

    @property
    def area(self) -> float:
        return self.width * self.length


@dataclass(frozen=True, slots=True)
class CutStock:
    """One sheet, offcut or length of coil with its blanks.

    name: of the row of stock it comes from
    number: 1, 2, ... within the plan, in which stock is taken
    length: mm; of coil what is cut off
    """

    name: str
    form: Form
    number: int
    width: float
    length: float
    cost: float
    placements: tuple[Placement, ...]
    cuts: tuple[Cut, ...]
    offcuts: tuple[Offcut, ...]

    @property
    def used(self) -> float:
        """Metal used up, square mm: a kept offcut goes back to the rack."""
        return self.width * self.length - sum(offcut.area for offcut in self.offcuts)


@dataclass(frozen=True, slots=True)
class Plan:
    """A whole cut plan. Money as in the stock's prices, areas in square mm.

    cost: of the stock taken, less what kept offcuts are worth
    bound: no plan can cost less (area of what must be cut on the cheapest stock)
    least: area that straight cuts must use up at the least: the rectangles
    """

    stocks: tuple[CutStock, ...]
    cost: float
    bound: float
    least: float

    @property
    def used(self) -> float:
        return sum(stock.used for stock in self.stocks)

    @property
    def blanks(self) -> float:
        """Area of the outlines."""
        return sum(p.blank.area for stock in self.stocks for p in stock.placements)

    @property
    def share(self) -> float:
        """Yield: area of outlines over area of stock used up, 0 to 1."""
        return self.blanks / self.used if self.used else 0.0

    @property
    def best_share(self) -> float:
        """The yield that `least` would give: what the yield is measured against."""
        return self.blanks / self.least if self.least else 0.0
