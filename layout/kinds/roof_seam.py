"""The roof's standing seam of a record: its sense, and the Seam it is.

Takes roof.seam as read, gives the Seam this metal is folded to; shared by every
kind of site whose pieces are seamed to the roof's pans.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from layout.faults import Fault
from layout.folding.facts import ShopFacts
from layout.folding.seam import Seam


def seam_of(read: dict[str, Any], shop: ShopFacts | None = None) -> Seam:
    """The seam of a record as read. shop: for its play; None = without any."""
    asked = read["roof"]["seam"]
    return Seam(
        asked["fold"],
        asked["height"],
        asked["turn"],
        asked["first_turn"],
        shop.number("seam_play") if shop else 0.0,
    )


def faults(read: dict[str, Any]) -> Iterator[Fault]:
    """Turns that can't be folded so."""
    seam = seam_of(read)
    if seam.turn > seam.height:
        yield Fault(
            "roof.seam.turn",
            f"was {seam.turn:.1f} mm",
            f"give a turn no wider than the seam's height, {seam.height:.1f} mm",
        )
    if seam.first_turn is None:
        return
    if seam.fold == "single":
        yield Fault(
            "roof.seam.first_turn",
            f"was {seam.first_turn:.1f} mm",
            "leave it null for a single fold, or give fold double",
        )
    elif seam.first_turn > seam.turn:
        yield Fault(
            "roof.seam.first_turn",
            f"was {seam.first_turn:.1f} mm",
            f"give no more than the turn it is folded into, {seam.turn:.1f} mm",
        )
