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

    fold: "single" or "double"; height: finished, mm; turn: width of the turn at
    the finished height, mm
    first_turn: width of the turn made first, at the covering leg's edge, mm;
    None = as wide as the other. A double fold has it, a single one has not.
    play: more metal in the covering leg's turn, for the layers it closes over, mm
    """

    fold: Literal["single", "double"]
    height: float
    turn: float
    first_turn: float | None = None
    play: float = 0.0

    @property
    def hook(self) -> float:
        """Width of the covering leg's first turn, over the receiving edge, mm."""
        if self.fold == "single":
            return 0.0
        return self.turn if self.first_turn is None else self.first_turn

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
        return self.first_line(part) + (self.hook if part == "covering" else 0.0)

    def first_line(self, part: Part) -> float:
        """Where the turn at the finished height ends, mm above it: the cut edge,
        or the line of the covering leg's first turn."""
        if part == "covering":
            return self.turn + self.play
        return self.turn if self.fold == "double" else 0.0

    def leg(self, part: Part) -> float:
        """The whole leg from its crease to its cut edge, mm.

        Example: double, 25, 10 -> receiving 35, covering 45. Double, 1, 1/2 with
        a first turn of 1/4 -> 1 1/2 and 1 3/4 (trade value 2.21).
        """
        return self.height + self.above(part)

    def lost(self) -> float:
        """Metal one bay loses to its two legs, mm. Example: 35 + 45 = 80."""
        return self.leg("receiving") + self.leg("covering")
