"""Kinds of site: what makes sense together, and how each becomes an assembly.

One file a kind; the tables below are all that the rest knows of them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from layout.families.assembly import Assembly
from layout.faults import Fault
from layout.folding.facts import ShopFacts
from layout.kinds import (
    cap,
    chimney,
    end_cap,
    pan,
    pipe,
    pitch_change,
    profile,
    steps,
    valley,
    wall,
)
from shop.units import Unit

Read = dict[str, Any]

SENSE: dict[str, Callable[[Read], Iterable[Fault]]] = {
    "penetration": chimney.faults,
    "pipe": pipe.faults,
    "profile": profile.faults,
    "valley": valley.faults,
    "wall": wall.faults,
    "steps": steps.faults,
    "pan": pan.faults,
    "cap": cap.faults,
    "pitch_change": pitch_change.faults,
    "end_cap": end_cap.faults,
}
"""Faults of measures that can be read one by one, but not together."""

ASSEMBLE: dict[str, Callable[[Read, Unit, ShopFacts], Assembly]] = {
    "penetration": chimney.assemble,
    "pipe": pipe.assemble,
    "profile": profile.assemble,
    "valley": valley.assemble,
    "wall": wall.assemble,
    "steps": steps.assemble,
    "pan": pan.assemble,
    "cap": cap.assemble,
    "pitch_change": pitch_change.assemble,
    "end_cap": end_cap.assemble,
}
"""From a record as read to its pieces. May raise BadRecord."""
