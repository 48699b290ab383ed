"""How money, shares and hours are told in pages: never without their unit."""

from __future__ import annotations

from decimal import Decimal

from django import template

from shop.money import show_money, show_rate

register = template.Library()


@register.filter
def money(amount: Decimal | None, currency: str) -> str:
    return "" if amount is None else show_money(Decimal(amount), currency)


@register.filter
def rate(amount: Decimal | None, currency: str) -> str:
    return "" if amount is None else show_rate(Decimal(amount), currency)


@register.filter
def hours(minutes: Decimal | float | int | None) -> str:
    """Minutes as hours and minutes: 95 -> 1 h 35 min"""
    if minutes is None:
        return ""
    whole = int(Decimal(minutes).quantize(Decimal(1), "ROUND_HALF_UP"))
    sign, whole = ("−", -whole) if whole < 0 else ("", whole)
    if whole < 60:
        return f"{sign}{whole} min"
    number = f"{whole // 60:,}".replace(",", "\u00a0")
    rest = f" {whole % 60} min" if whole % 60 else ""
    return f"{sign}{number} h{rest}"


@register.filter
def percent(share: Decimal | float | None) -> str:
    """0.124 -> 12.4 %"""
    if share is None:
        return ""
    return f"{Decimal(share) * 100:.1f}\u00a0%".replace("-", "−")


@register.filter
def plain(number: Decimal | None) -> str:
    """A decimal without the zeros behind it."""
    if number is None:
        return ""
    words = f"{Decimal(number):f}"
    return words.rstrip("0").rstrip(".") if "." in words else words
