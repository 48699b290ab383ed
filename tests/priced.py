"""A price book of round figures, and works to reckon: invented, easy to follow."""

from __future__ import annotations

import datetime
from decimal import Decimal
from typing import Any

from jobs.costing import PieceWork
from shop import prices
from shop.models import Metal, Person

SINCE = datetime.date(2024, 1, 1)
RATES = {
    "travel": ("visit", "40"),
    "consumables": ("percent", "5"),
    "overhead": ("percent", "20"),
    "margin": ("percent", "10"),
    "tax": ("percent", "8"),
}


def price_all(by: Person, metals: tuple[str, ...] = ("copper 20 oz",)) -> None:
    """Everything a quote needs has a price from SINCE on."""

    def write(**given: Any) -> None:
        prices.write(by, from_day=SINCE, source="invented", **given)

    for name in metals:
        metal = Metal.objects.get(name=name)
        write(kind="metal", metal=metal, unit="kg", amount=Decimal("15"))
    for role, amount in (("crew", "60"), ("office", "50"), ("owner", "75")):
        write(kind="labour", role=role, unit="hour", amount=Decimal(amount))
    for kind, (unit, amount) in RATES.items():
        write(kind=kind, unit=unit, amount=Decimal(amount))


def work(mark: str = "A", **given: Any) -> PieceWork:
    row = {
        "family": "apron",
        "title": "Apron",
        "pieces": 1,
        "metal": "copper 20 oz",
        "blank_m2": Decimal("0.5"),
        "blank_words": "0.5 m by 1 m",
    }
    return PieceWork(mark=mark, **{**row, **given})
