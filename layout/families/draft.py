"""A piece as a family gives it, before proof, folds and marks."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import NamedTuple

from layout.folding.pattern import FlatPattern, mirrored_pattern, other_hand
from layout.folding.result import Hand, Proof
from layout.folding.sheet import Sheet

OTHER: dict[Hand, Hand] = {"left": "right", "right": "left", "none": "none"}


class Label(NamedTuple):
    """What a piece is called. mark: short, on the metal and the file name."""

    mark: str
    family: str
    title: str
    hand: Hand = "none"

    def mirrored(self) -> Label:
        """The other hand: L and R in the mark, left and right in the title."""
        mark = self.mark.translate(str.maketrans("LR", "RL"))
        return Label(mark, self.family, other_hand(self.title), OTHER[self.hand])


@dataclass(frozen=True, slots=True)
class Draft:
    """label: names of the piece; quantity: how many alike.

    figures: of a proof that is not by folding (curved pieces), else None
    """

    label: Label
    pattern: FlatPattern
    quantity: int = 1
    notes: tuple[str, ...] = ()
    figures: Proof | None = None

    @property
    def mark(self) -> str:
        return self.label.mark

    def mirrored(self, width: float) -> Draft:
        """The other hand of this piece; width: of the penetration, mm."""
        return replace(
            self,
            label=self.label.mirrored(),
            pattern=mirrored_pattern(self.pattern, width),
        )


def drafted(
    label: Label, sheet: Sheet, quantity: int = 1, notes: tuple[str, ...] = ()
) -> Draft:
    """The finished sheet as a draft."""
    return Draft(label, sheet.pattern(), quantity, notes)
