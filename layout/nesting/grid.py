"""From mm to whole steps and back, so that equal sides are equal.

Takes lengths in mm, gives steps of the coarsest grid on which all of them lie:
sizes in eighths of an inch come out as small whole numbers.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil, floor, gcd

from layout.geometry.tolerance import EPS

FINE = 1 / EPS
"""Finest steps to a mm: what the core calls the same place is one step."""

SLACK = 1e-3
"""Of a finest step, by which a float may miss the whole number it stands for."""


class Grid:
    """Steps of one size. A blank is rounded up and stock down, never the other
    way, and by less than the core's tolerance."""

    def __init__(
        self,
        blanks: Iterable[float],
        stock: Iterable[float],
        coarsest: float = 0.0,
    ) -> None:
        """coarsest: largest step, mm, where lengths not given here must fit
        closely too; 0 = no limit"""
        common = 0
        for size in blanks:
            common = gcd(common, ceil(size * FINE - SLACK))
        for size in stock:
            common = gcd(common, floor(size * FINE + SLACK))
        self._fine = max(common, 1)
        if coarsest:
            most = max(1, floor(coarsest * FINE))
            parts = -(-self._fine // most)
            while self._fine % parts:
                parts += 1
            self._fine //= parts

    @property
    def step(self) -> float:
        """Size of one step, mm."""
        return self._fine / FINE

    def up(self, size: float) -> int:
        """Steps that a blank of this size takes."""
        return -(-ceil(size * FINE - SLACK) // self._fine)

    def down(self, size: float) -> int:
        """Steps that a stock of this size gives."""
        return floor(size * FINE + SLACK) // self._fine

    def mm(self, steps: int) -> float:
        return steps * self._fine / FINE
