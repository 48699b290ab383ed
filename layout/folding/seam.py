"""Standing seams: what each kind adds to an edge.

The receiving leg is folded over; the covering leg folds over it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Part = Literal["receiving", "covering"]


@dataclass(frozen=True, slots=True)
class Seam:
    """A standing seam of one roof.

    fold: "single" or "double"; height: finished, mm; turn: mm
    """

    fold: Literal["single", "double"]
    height: float
    turn: float

    def turns(self, part: Part) -> int:
        """How many turns stand above the finished height.

        Double fold: one on the receiving leg, two on the covering leg.
        Single fold: none and one. Source: design practice of the trade; the
        European hand legs 35 and 45 for a 25 mm seam are H + t and H + 2t
        (zinc producer's standing seam guide, trade value 2.22).
        """
        extra = 1 if self.fold == "double" else 0
        return extra + (1 if part == "covering" else 0)

    def above(self, part: Part) -> float:
        """Metal above the finished height, mm."""
        return self.turns(part) * self.turn

    def leg(self, part: Part) -> float:
        """The whole leg from its crease to its cut edge, mm.

        Example: double, 25, 10 -> receiving 35, covering 45.
        """
        return self.height + self.above(part)

    def lost(self) -> float:
        """Metal one bay loses to its two legs, mm. Example: 35 + 45 = 80."""
        return self.leg("receiving") + self.leg("covering")
