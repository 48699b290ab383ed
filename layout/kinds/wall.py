"""A wall: from a record as read to the flashing along it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from layout.families import wall
from layout.families.assembly import Assembly
from layout.faults import Fault
from layout.folding.facts import ShopFacts
from shop.units import Unit


def faults(read: dict[str, Any]) -> Iterator[Fault]:
    """A side wall without the side its roof lies on."""
    asked = read["wall"]
    if asked["kind"] == "side wall" and asked["roof_side"] is None:
        yield Fault("wall.roof_side", "was null", "give left or right for a side wall")


def assemble(read: dict[str, Any], unit: Unit, shop: ShopFacts) -> Assembly:
    """The run's lengths and end caps."""
    return wall.assemble(wall.Wall(**read["wall"], **read["roof"]), shop)
