"""A new shop gets its first rows from shop/tables.py; an old one, what it lacks."""

from __future__ import annotations

from django.db import transaction

from shop.models import Brake, Metal, ShopProfile, Standard, Stock
from shop.tables import BRAKES, METALS, STANDARDS, STOCKS


@transaction.atomic
def open_shop() -> int:
    """Add the rows that are missing and change none; returns how many were added.

    Brakes and stock are listed only in a shop that has none: the owner may have taken
    some off, and they would come back.
    """
    before = _count()
    Metal.objects.bulk_create(
        (Metal(**row._asdict()) for row in METALS), ignore_conflicts=True
    )
    Standard.objects.bulk_create(
        (
            Standard(
                key=row.key,
                value=str(row.value),
                unit=row.unit,
                words=row.words,
                source=row.source,
            )
            for row in STANDARDS
        ),
        ignore_conflicts=True,
    )
    if not Brake.objects.exists():
        Brake.objects.bulk_create(Brake(**row._asdict()) for row in BRAKES)
    if not Stock.objects.exists():
        metals = {metal.name: metal for metal in Metal.objects.all()}
        Stock.objects.bulk_create(
            Stock(**row._asdict() | {"metal": metals[row.metal]}) for row in STOCKS
        )
    ShopProfile.objects.get_or_create(pk=1)
    return _count() - before


def _count() -> int:
    tables = (Metal, Standard, Brake, Stock, ShopProfile)
    return sum(table.objects.count() for table in tables)
