"""A pitch change: from a record as read to the flashing across it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from layout.families import pitch_change
from layout.families.assembly import Assembly
from layout.faults import Fault
from layout.folding.facts import ShopFacts
from shop.units import Unit

LEAST = 1.0
"""Degrees under which two pitches are one: no brake shows less. Our own bound."""


def faults(read: dict[str, Any]) -> Iterator[Fault]:
    """Two pitches that are the same."""
    roof = read["roof"]
    if abs(roof["upper_pitch"] - roof["pitch"]) < LEAST:
        yield Fault(
            "roof.upper_pitch",
            f"was {roof['upper_pitch']:.1f}°",
            f"the lower part has {roof['pitch']:.1f}°; take the pitches again",
        )


def assemble(read: dict[str, Any], unit: Unit, shop: ShopFacts) -> Assembly:
    """The flashing across the slope."""
    return pitch_change.assemble(
        pitch_change.PitchChange(**read["pitch_change"], **read["roof"]), shop
    )
