"""How much of each pattern: the least cost that covers what is wanted.

Takes patterns (how many of each row one holds, and its cost), gives how often each
is used, in fractions, and what one more of each row would cost. The revised
simplex method with the inverse of the basis kept whole; rows are few.
Source: the textbook method (Dantzig; the columns as Gilmore and Gomory 1961).
"""

from __future__ import annotations

from collections.abc import Sequence

NOUGHT = 1e-9
"""Below this a pivot or a gain counts as nothing."""

NUDGE = 1e-7
"""Added to what is wanted, growing by row, so that no two rows tie."""


class Covering:
    """min cost x with each row covered at least as often as wanted, and caps.

    rows: first those to be covered, then those capped (a stock's count)
    """

    def __init__(
        self,
        wanted: Sequence[float],
        caps: Sequence[float],
        first: Sequence[tuple[int, float]],
    ) -> None:
        """first: for each row to cover, a pattern that holds only it: how many,
        and its cost. They are columns 0, 1, ... of the basis."""
        self.covered = len(wanted)
        size = self.covered + len(caps)
        self.costs: list[float] = [cost for _, cost in first] + [0.0] * len(caps)
        self.names: list[int] = [*range(self.covered), *([-1] * len(caps))]
        self.inverse = [[0.0] * size for _ in range(size)]
        self.amounts = []
        for row in range(size):
            if row < self.covered:
                self.inverse[row][row] = 1 / first[row][0]
                want = wanted[row] * (1 + NUDGE * (row + 1))
                self.amounts.append(want / first[row][0])
            else:
                self.inverse[row][row] = 1.0
                self.amounts.append(caps[row - self.covered])

    def prices(self) -> list[float]:
        """What one more of each row would cost; rows that are capped give a
        price of 0 or less. Slack is used up first, so none has a wrong sign."""
        while True:
            found = self._prices()
            worst, row = -NOUGHT, -1
            for n, price in enumerate(found):
                gain = price if n < self.covered else -price
                if gain < worst:
                    worst, row = gain, n
            if row < 0:
                return found
            column = [0.0] * len(found)
            column[row] = -1.0 if row < self.covered else 1.0
            if not self.enter(-1, 0.0, column):
                return found

    def _prices(self) -> list[float]:
        found = [0.0] * len(self.costs)
        for cost, line in zip(self.costs, self.inverse, strict=True):
            if cost:
                for n, value in enumerate(line):
                    if value:
                        found[n] += cost * value
        return found

    def enter(self, name: int, cost: float, column: Sequence[float]) -> bool:
        """Brings a pattern into the basis in the place of the one that runs out
        first. False where none would."""
        inverse, amounts = self.inverse, self.amounts
        filled = [(n, value) for n, value in enumerate(column) if value]
        change = [sum([line[n] * value for n, value in filled]) for line in inverse]
        leave, least = -1, float("inf")
        for row, share in enumerate(change):
            if share > NOUGHT and amounts[row] / share < least:
                leave, least = row, amounts[row] / share
        if leave < 0:
            return False
        pivot = change[leave]
        line = [value / pivot for value in inverse[leave]]
        inverse[leave] = line
        amounts[leave] = least
        for row, share in enumerate(change):
            if row != leave and share:
                inverse[row] = [
                    value - share * there
                    for value, there in zip(inverse[row], line, strict=True)
                ]
                amounts[row] = max(0.0, amounts[row] - share * least)
        self.costs[leave] = cost
        self.names[leave] = name
        return True

    def used(self) -> list[tuple[int, float]]:
        """Patterns in use and how much of each."""
        return [
            (name, amount)
            for name, amount in zip(self.names, self.amounts, strict=True)
            if name >= 0 and amount > NOUGHT
        ]
