"""A pipe: from a record as read to its collar."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from layout.families import pipe
from layout.families.assembly import Assembly
from layout.faults import Fault
from layout.folding.facts import ShopFacts
from shop.units import Unit

STEEPEST = 80.0
"""A pipe that lies nearer to the roof than this, degrees, has no collar. Our own
bound."""


def faults(read: dict[str, Any]) -> Iterator[Fault]:
    """A lap wider than the pipe, a cone upside down, a lean without direction."""
    size = read["pipe"]
    if size["lap"] > size["diameter"]:
        yield Fault(
            "pipe.lap",
            f"was {size['lap']:.1f} mm",
            f"give less than the diameter, {size['diameter']:.1f} mm",
        )
    foot = size["foot_diameter"]
    if foot is not None and foot < size["diameter"]:
        yield Fault(
            "pipe.foot_diameter",
            f"was {foot:.1f} mm",
            f"give at least the pipe's diameter, {size['diameter']:.1f} mm",
        )
    if size["lean"] and size["lean_towards"] is None:
        yield Fault(
            "pipe.lean_towards",
            "was null",
            "give where the pipe's top leans: 0° up the slope, 90° to the right",
        )
    elif _pipe(read).tilt > STEEPEST:
        yield Fault(
            "pipe.lean",
            f"was {size['lean'] or 0:g}°",
            f"the pipe would stand {_pipe(read).tilt:.0f}° off square to the roof; "
            f"take it again: at most {STEEPEST:.0f}°",
        )


def assemble(read: dict[str, Any], unit: Unit, shop: ShopFacts) -> Assembly:
    """Sleeve and flange."""
    return pipe.assemble(_pipe(read), shop)


def _pipe(read: dict[str, Any]) -> pipe.Pipe:
    size = read["pipe"]
    known = {**size, "lean": size["lean"] or 0.0}
    known["lean_towards"] = size["lean_towards"] or 0.0
    return pipe.Pipe(**known, pitch=read["roof"]["pitch"])
