"""What a layout's pieces ask of metal and hours: the door from layout to a quote.

Takes a stored layout, gives plain values for `jobs.costing`.
"""

from __future__ import annotations

from decimal import Decimal

from jobs.costing import MetalNeed, PieceWork, waste_only
from layout import plans_costs
from layout.models import Layout
from shop.models import ShopProfile
from shop.units import Unit, show_length

_MM = Decimal("0.001")


def works(layout: Layout) -> list[PieceWork]:
    """Every piece of the layout, with the rectangle of its blank."""
    unit: Unit = "mm" if ShopProfile.current().units == "mm" else "in"
    made = []
    for laid in layout.laid_pieces.light():
        width = Decimal(str(laid.width_mm)).quantize(_MM)
        length = Decimal(str(laid.length_mm)).quantize(_MM)
        made.append(
            PieceWork(
                mark=laid.mark,
                family=laid.family,
                title=laid.title,
                pieces=laid.quantity,
                metal=laid.metal,
                blank_m2=width * length / 1_000_000,
                blank_words=f"{show_length(width, unit)} by"
                f" {show_length(length, unit)}",
            )
        )
    return made


def needs(layout: Layout) -> dict[str, MetalNeed]:
    """How much of each metal the blanks take: by the cut plan, where one has them all,
    else by the shop's waste standard."""
    metals = layout.laid_pieces.values_list("metal", flat=True).distinct()
    waste = ShopProfile.current().waste_percent
    return waste_only(metals.order_by(), waste) | plans_costs.needs(layout)
