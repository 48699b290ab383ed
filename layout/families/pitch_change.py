"""Where a roof's pitch changes along the slope: one fold across it.

Takes both pitches, gives the flashing in the lower roof's frame, its fold along
y = 0, in one piece or in lengths that lap.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from layout.families.chain import Between, Strip
from layout.families.draft import Label
from layout.families.long_run import Bent, LongRun, add
from layout.folding.facts import ShopFacts
from layout.folding.sheet import Patch
from layout.geometry.point import Point
from layout.geometry.space import Vec


@dataclass(frozen=True, slots=True)
class PitchChange:
    """lower, upper: metal on either part, from the fold, mm; pitch: of the
    lower part, upper_pitch: of the upper, degrees."""

    length: float
    lower: float
    upper: float
    lower_edge: Literal["hem", "plain"]
    upper_edge: Literal["lock", "plain"]
    pitch: float
    upper_pitch: float

    @property
    def fold(self) -> float:
        """Turn from flat, degrees, up where the roof grows steeper.

        Example: from 4:12 to 12:12 -> 26.565 up.
        """
        return self.upper_pitch - self.pitch


def assemble(change: PitchChange, shop: ShopFacts) -> LongRun:
    """Hem at the lower edge, turned under; lock at the upper one, turned back."""
    hem, lock = shop.number("hem"), shop.number("lock")
    strips = [
        Strip("lower", "roof", change.lower, change.lower),
        Strip("upper", "face", change.upper, change.upper),
    ]
    folds = [Between(change.fold, "valley" if change.fold > 0 else "ridge")]
    root = 0
    if change.lower_edge == "hem":
        strips = [Strip("hem", "hem", hem, hem), *strips]
        folds = [Between(-180.0, "hem"), *folds]
        root = 1
    if change.upper_edge == "lock":
        strips = [*strips, Strip("lock", "hem", lock, lock)]
        folds = [*folds, Between(180.0, "hem")]
    made = LongRun(pitch=change.pitch)
    place = Patch(
        Point(0, 0), Point(1, 0), Vec(0, -change.lower, 0), Vec(1, 0, 0), Vec(0, 1, 0)
    )
    add(
        made,
        shop,
        Label("PC", "pitch_change", "Pitch change"),
        Bent(change.length, strips, folds, root, place),
    )
    return made
