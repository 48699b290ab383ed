"""How sizes, areas and weights of the rack are told."""

from __future__ import annotations

from decimal import Decimal

from django import template

from shop.models import RackItem
from shop.units import Unit, show_area, show_length, show_weight

register = template.Library()


@register.filter
def size(item: RackItem, unit: Unit) -> str:
    """36 in x 120 in: width by length, of coil by the length left."""
    length = item.left_mm if item.is_coil() and item.left_mm else item.length_mm
    return f"{show_length(item.width_mm, unit)} x {show_length(length, unit)}"


@register.filter
def area(square_mm: Decimal | float | None, unit: Unit) -> str:
    return show_area(square_mm or 0, unit)


@register.filter
def weight(kilograms: Decimal | float | None, unit: Unit) -> str:
    return show_weight(kilograms, unit) if kilograms is not None else ""


@register.filter
def is_by_hand(holder: str) -> bool:
    """Reserved on its page; what a plan holds, the plan lets go."""
    return holder.startswith("by hand")
