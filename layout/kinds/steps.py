"""Steps: from a record as read to the row of step flashing."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from layout.families import steps
from layout.families.assembly import Assembly
from layout.faults import Fault
from layout.folding.facts import ShopFacts
from shop.units import Unit

MOST = 2000
"""No wall has more courses: a slip of the unit. Our own bound."""


def faults(read: dict[str, Any]) -> Iterator[Fault]:
    """An exposure so small that there would be thousands of courses."""
    asked = read["steps"]
    if asked["slope_length"] > MOST * asked["exposure"]:
        yield Fault(
            "steps.exposure",
            f"was {asked['exposure']:.1f} mm",
            f"that makes more than {MOST} courses; check the unit",
        )


def assemble(read: dict[str, Any], unit: Unit, shop: ShopFacts) -> Assembly:
    """One piece and how many."""
    asked = read["steps"]
    lap = asked["lap"]
    if lap is None:
        lap = shop.number("step_flashing_lap")
    return steps.assemble(
        steps.Steps(**{**asked, "lap": lap}, pitch=read["roof"]["pitch"]), shop
    )
