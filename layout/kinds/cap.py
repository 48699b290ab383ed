"""A cap: from a record as read to the ridge or hip cap."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from layout.families import cap
from layout.families.assembly import Assembly
from layout.faults import Fault
from layout.folding.facts import ShopFacts
from shop.units import Unit


def faults(read: dict[str, Any]) -> Iterator[Fault]:
    """A hip without its plan angle, or a ridge with one."""
    hip, angle = read["cap"]["kind"] == "hip", read["roof"]["plan_angle"]
    if hip and angle is None:
        yield Fault("roof.plan_angle", "was null", "give it for a hip, such as 90°")
    if not hip and angle is not None:
        yield Fault(
            "roof.plan_angle",
            f"was {angle:g}°",
            "leave it null for a ridge, whose eaves run the same way",
        )


def assemble(read: dict[str, Any], unit: Unit, shop: ShopFacts) -> Assembly:
    """The cap over both roofs."""
    asked, roof = read["cap"], read["roof"]
    return cap.assemble(
        cap.Cap(
            asked["length"],
            asked["wing"],
            asked["other_wing"] or asked["wing"],
            asked["leg"] or 0.0,
            asked["edge"],
            roof["pitch"],
            roof["other_pitch"],
            roof["plan_angle"] or 0.0,
        ),
        shop,
    )
