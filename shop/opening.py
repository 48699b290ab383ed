"""A new shop gets its first rows from shop/tables.py; an old one, what it lacks."""

from __future__ import annotations

import datetime
from decimal import Decimal

from django.db import transaction

from shop.hours_table import HOURS, SOURCE
from shop.models import (
    Brake,
    Metal,
    MetalPair,
    SeamKind,
    ShopProfile,
    Standard,
    StandardHours,
    Stock,
)
from shop.pairs_table import PAIRS
from shop.seams_table import SEAMS
from shop.tables import BRAKES, METALS, STANDARDS, STOCKS

ALWAYS = datetime.date(2000, 1, 1)


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
    MetalPair.objects.bulk_create(
        (MetalPair(**row._asdict()) for row in PAIRS), ignore_conflicts=True
    )
    _add_seams()
    if not Brake.objects.exists():
        Brake.objects.bulk_create(Brake(**row._asdict()) for row in BRAKES)
    if not Stock.objects.exists():
        metals = {metal.name: metal for metal in Metal.objects.all()}
        Stock.objects.bulk_create(
            Stock(**row._asdict() | {"metal": metals[row.metal]}) for row in STOCKS
        )
    _add_hours()
    ShopProfile.objects.get_or_create(pk=1)
    return _count() - before


def _add_seams() -> None:
    """Lengths are kept to a thousandth of a mm; the printed ones may be finer."""
    SeamKind.objects.bulk_create(
        (
            SeamKind(
                **{
                    name: round(Decimal(value), 3) if type(value) is float else value
                    for name, value in row._asdict().items()
                }
            )
            for row in SEAMS
        ),
        ignore_conflicts=True,
    )


def _add_hours() -> None:
    """Standard hours of each family and stage that has none; they always counted."""
    known = set(StandardHours.objects.order_by().values_list("family", "stage"))
    StandardHours.objects.bulk_create(
        StandardHours(**row._asdict(), from_day=ALWAYS, source=SOURCE)
        for row in HOURS
        if (row.family, row.stage) not in known
    )


def _count() -> int:
    tables = (
        Metal,
        MetalPair,
        SeamKind,
        Standard,
        Brake,
        Stock,
        StandardHours,
        ShopProfile,
    )
    return sum(table.objects.count() for table in tables)
