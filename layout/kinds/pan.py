"""A pan: from a record as read to the roof pan."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from layout.families import pan
from layout.families.assembly import Assembly
from layout.faults import Fault
from layout.folding.facts import ShopFacts
from layout.kinds import roof_seam
from shop.units import Unit


def faults(read: dict[str, Any]) -> Iterator[Fault]:
    """Width given twice or not at all, a head without height, too narrow a strip."""
    asked, seam = read["pan"], roof_seam.seam_of(read)
    sheet, width = asked["sheet_width"], asked["pan_width"]
    if (sheet is None) == (width is None):
        given = "was null, as is pan.pan_width" if sheet is None else "is given twice"
        yield Fault(
            "pan.sheet_width",
            given,
            "give either the sheet's width or the pan's, the other null",
        )
    elif sheet is not None and sheet <= seam.lost():
        yield Fault(
            "pan.sheet_width",
            f"was {sheet:.1f} mm",
            f"give more than the two legs take, {seam.lost():.1f} mm",
        )
    yield from roof_seam.faults(read)
    if (asked["head"] == "turned up") == (asked["head_height"] is None):
        turned = asked["head"] == "turned up"
        yield Fault(
            "pan.head_height",
            "was null" if turned else "is given",
            "give it for a head that is turned up" if turned else "leave it null",
        )


def assemble(read: dict[str, Any], unit: Unit, shop: ShopFacts) -> Assembly:
    """The pan on its roof."""
    asked, seam = read["pan"], roof_seam.seam_of(read, shop)
    width = asked["pan_width"]
    if width is None:
        width = pan.finished_width(asked["sheet_width"], seam)
    return pan.assemble(
        pan.Pan(
            width,
            asked["length"],
            asked["head"],
            asked["head_height"] or 0.0,
            asked["foot"],
            seam,
            read["roof"]["pitch"],
        ),
        shop,
    )
