"""A valley: from a record as read to its pan."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from layout.families import valley
from layout.families.assembly import Assembly
from layout.faults import Fault
from layout.folding.facts import ShopFacts
from shop.units import Unit


def faults(read: dict[str, Any]) -> Iterator[Fault]:
    """An upstand taller than the wings are wide."""
    size = read["valley"]
    if (size["upstand"] or 0.0) >= size["wing"]:
        yield Fault(
            "valley.upstand",
            f"was {size['upstand']:.1f} mm",
            f"give less than the wing, {size['wing']:.1f} mm",
        )


def assemble(read: dict[str, Any], unit: Unit, shop: ShopFacts) -> Assembly:
    """The valley pan."""
    size = {**read["valley"], "upstand": read["valley"]["upstand"] or 0.0}
    return valley.assemble(valley.Valley(**size, **read["roof"]), shop)
