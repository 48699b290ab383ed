"""A pipe: from a record as read to its collar."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from layout.families import pipe
from layout.families.assembly import Assembly
from layout.faults import Fault
from layout.folding.facts import ShopFacts
from shop.units import Unit


def faults(read: dict[str, Any]) -> Iterator[Fault]:
    """A seam's lap wider than the pipe goes round."""
    size = read["pipe"]
    if size["lap"] > size["diameter"]:
        yield Fault(
            "pipe.lap",
            f"was {size['lap']:.1f} mm",
            f"give less than the diameter, {size['diameter']:.1f} mm",
        )


def assemble(read: dict[str, Any], unit: Unit, shop: ShopFacts) -> Assembly:
    """Sleeve and flange."""
    return pipe.assemble(pipe.Pipe(**read["pipe"], pitch=read["roof"]["pitch"]), shop)
