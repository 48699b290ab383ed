"""What the demo shop asks for its work and has on its rack: all of it invented.

Filled once, into a price book and a rack that are both empty.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Any, NamedTuple

from django.db import transaction
from django.utils import timezone

from shop import prices, rack
from shop.models import Metal, Person, Price, RackItem
from shop.units import as_decimal, read_length

SOURCE = "Invented for the demo"

A_KILOGRAM = {
    "copper 20 oz": "13.80",
    "copper 16 oz": "13.80",
    "zinc 0.7 mm": "6.40",
    "galvanized steel 24 ga": "2.15",
    "painted steel 24 ga": "2.90",
}
AN_HOUR = {Person.Role.CREW: "48", Person.Role.OFFICE: "36", Person.Role.OWNER: "62"}
A_VISIT = "35"
PERCENTS = {
    Price.Kind.CONSUMABLES: "6",
    Price.Kind.OVERHEAD: "14",
    Price.Kind.MARGIN: "12",
    Price.Kind.TAX: "8",
}


class Lying(NamedTuple):
    """Items alike on the rack. Sizes in inches; paid for each."""

    metal: str
    form: str
    width: str
    length: str
    alike: int
    place: str
    lot: str
    paid: str


RACK = (
    Lying("copper 20 oz", "sheet", "36", "120", 3, "upper arm, left", "K 114", "238"),
    Lying(
        "copper 20 oz", "offcut", "14 1/2", "62", 1, "behind the brake", "K 109", "31"
    ),
    Lying("copper 20 oz", "offcut", "9", "36", 2, "behind the brake", "K 109", "11"),
    Lying("copper 16 oz", "coil", "20", "480", 1, "floor, by the door", "R 7", "610"),
    Lying(
        "zinc 0.7 mm", "coil", "23 5/8", "1180", 1, "floor, by the door", "Z 31", "655"
    ),
    Lying("painted steel 24 ga", "sheet", "48", "120", 2, "lower arm, left", "", "92"),
)


@transaction.atomic
def fill(owner: Person) -> None:
    """Prices from the first of January, and metal on the rack."""
    if not Price.objects.exists():
        _write_prices(owner)
    if not RackItem.objects.exists():
        for lying in RACK:
            _take_in(lying, owner)


def _write_prices(owner: Person) -> None:
    day = timezone.localdate().replace(month=1, day=1)

    def write(kind: str, unit: str, amount: str, **of: Any) -> None:
        priced = {"from_day": day, "source": SOURCE, **of}
        prices.write(owner, kind=kind, unit=unit, amount=Decimal(amount), **priced)

    for metal in Metal.objects.filter(name__in=A_KILOGRAM):
        write(Price.Kind.METAL, Price.Unit.KG, A_KILOGRAM[metal.name], metal=metal)
    for role, amount in AN_HOUR.items():
        write(Price.Kind.LABOUR, Price.Unit.HOUR, amount, role=role)
    write(Price.Kind.TRAVEL, Price.Unit.VISIT, A_VISIT)
    for kind, amount in PERCENTS.items():
        write(kind, Price.Unit.PERCENT, amount)


def _take_in(lying: Lying, owner: Person) -> None:
    new = rack.New(
        metal=Metal.objects.get(name=lying.metal),
        form=lying.form,
        width=as_decimal(read_length(lying.width, "in")),
        length=as_decimal(read_length(lying.length, "in")),
        lot=lying.lot,
        place=lying.place,
        paid=Decimal(lying.paid),
        alike=lying.alike,
    )
    rack.take_in(new, owner, words=SOURCE)
