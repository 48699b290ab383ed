"""The price book: what a thing costs on a day, and how a new price is written.

A price is looked up by day; the newest row that counts by then wins. What has no price
is said by name, so that nothing is reckoned with nought by mistake.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any, NamedTuple

from django.db import transaction
from django.utils import timezone

from shop.hours_table import OF_A_JOB, STAGE_WORDS
from shop.models import Metal, Person, Price, ShopProfile, StandardHours, Stock

KG_IN_LB = Decimal("0.45359237")  # exact by definition
PERCENTS = (
    Price.Kind.CONSUMABLES,
    Price.Kind.OVERHEAD,
    Price.Kind.MARGIN,
    Price.Kind.TAX,
)
PERCENT_OF = {
    Price.Kind.CONSUMABLES: "of the metal: nails, solder, rivets, blades",
    Price.Kind.OVERHEAD: "of all costs: rent, vans, tools, office",
    Price.Kind.MARGIN: "on costs and overhead",
    Price.Kind.TAX: "on the price",
}


class NoPrice(ValueError):
    """Something has no price on that day. `missing` names each."""

    def __init__(self, missing: list[str], day: datetime.date) -> None:
        self.missing = missing
        listed = ", ".join(missing)
        has = "has" if len(missing) == 1 else "have"
        super().__init__(
            f"{listed[:1].upper()}{listed[1:]} {has} no price on "
            f"{day:%a} {day.day} {day:%b %Y}. Write it in the price book first."
        )


class MetalCost(NamedTuple):
    """quantity in the price's unit; amount not yet rounded."""

    quantity: Decimal
    price: Price
    amount: Decimal


@dataclass(slots=True)
class PriceBook:
    """All prices as they count on one day, read once: three queries, however many
    are asked for."""

    day: datetime.date
    currency: str
    metals: dict[str, Price] = field(default_factory=dict)
    labour: dict[str, Price] = field(default_factory=dict)
    others: dict[str, Price] = field(default_factory=dict)
    hours: dict[tuple[str, str], StandardHours] = field(default_factory=dict)

    @classmethod
    def on(cls, day: datetime.date) -> PriceBook:
        book = cls(day, ShopProfile.current().currency)
        rows = Price.objects.on(day).select_related("metal", "stock__metal")
        for price in rows:
            if price.metal is not None:
                book.metals.setdefault(price.metal.name, price)
            elif price.role:
                book.labour.setdefault(price.role, price)
            else:
                book.others.setdefault(price.kind, price)
        for row in StandardHours.objects.on(day):
            book.hours.setdefault((row.family, row.stage), row)
        return book

    def of_metal(self, name: str) -> Price:
        """Raises NoPrice."""
        return self._found(self.metals, name)

    def of_hour(self, role: str) -> Price:
        if role not in self.labour:
            raise NoPrice([f"an hour of {role}"], self.day)
        return self.labour[role]

    def of(self, kind: str) -> Price:
        if kind not in self.others:
            words = "a visit" if kind == Price.Kind.TRAVEL else kind
            raise NoPrice([words], self.day)
        return self.others[kind]

    def missing(
        self, metals: Iterable[str], roles: Iterable[str], kinds: Iterable[str]
    ) -> list[str]:
        """Words for each of these that has no price."""
        lacking = [name for name in sorted(set(metals)) if name not in self.metals]
        lacking += [
            f"an hour of {role}"
            for role in sorted(set(roles))
            if role not in self.labour
        ]
        lacking += [
            "a visit" if kind == Price.Kind.TRAVEL else str(kind)
            for kind in kinds
            if kind not in self.others
        ]
        return lacking

    def standard(self, family: str, stage: str) -> StandardHours:
        """Hours of a family's piece; those of any other piece where it has none.

        Raises NoPrice where there are neither.
        """
        own = self.hours.get((family, stage))
        any_other = self.hours.get(("", stage))
        found = own or any_other
        if found is None:
            words = STAGE_WORDS.get(stage, stage)
            raise NoPrice([f"{words} of {family or 'a piece'}"], self.day)
        return found

    def _found(self, table: dict[str, Price], name: str) -> Price:
        if name not in table:
            raise NoPrice([name], self.day)
        return table[name]


def metal_cost(price: Price, metal: Metal, area_m2: Decimal) -> MetalCost:
    """What that much metal costs: by its weight, or as a share of the priced sheet.

    area_m2: exact; the quantity is kept to four decimals and the amount comes from it
    """
    if price.unit == Price.Unit.SHEET:
        assert price.stock is not None
        quantity = area_m2 / stock_area(price.stock)
    else:
        kilograms = area_m2 * metal.thickness_mm / 1000 * metal.density_kg_m3
        quantity = kilograms if price.unit == Price.Unit.KG else kilograms / KG_IN_LB
    quantity = quantity.quantize(Decimal("0.0001"))
    return MetalCost(quantity, price, quantity * price.amount)


def stock_area(stock: Stock) -> Decimal:
    """Square metres of one sheet."""
    assert stock.length_mm is not None
    return stock.width_mm * stock.length_mm / 1_000_000


def write(
    by: Person,
    *,
    kind: str,
    unit: str,
    amount: Decimal,
    from_day: datetime.date | None,
    metal: Metal | None = None,
    stock: Stock | None = None,
    role: str = "",
    source: str = "",
) -> Price:
    """Adds a price that counts from a day on; those before it are kept.

    Raises ValueError for a price without a day, below nought, or not of one thing.
    """
    if from_day is None:
        raise ValueError("Counts from: a price without a day can't be written.")
    if amount < 0:
        raise ValueError(f"Amount: {amount} is below nought. Give 0 or more.")
    if unit == Price.Unit.SHEET:
        if stock is None or stock.length_mm is None:
            raise ValueError("Sheet: choose the sheet that this is the price of.")
        metal = metal or stock.metal
        if stock.metal_id != metal.pk:
            raise ValueError(f"Sheet: {stock} is not {metal}. Choose one of {metal}.")
    with transaction.atomic():
        price = Price.objects.create(
            kind=kind,
            unit=unit,
            amount=amount,
            from_day=from_day,
            metal=metal,
            stock=stock if unit == Price.Unit.SHEET else None,
            role=role,
            source=source.strip(),
            set_by=by,
        )
        money_begins()
        return price


def write_hours(
    by: Person | None,
    *,
    family: str,
    stage: str,
    minutes: Decimal,
    from_day: datetime.date,
    source: str,
) -> StandardHours:
    """Adds standard hours that count from a day on; those before are kept.

    Raises ValueError for a stage that is not known, less than nought or no source.
    """
    if stage not in STAGE_WORDS or (family and stage in OF_A_JOB):
        raise ValueError(f"Stage: “{stage}” is not one of a piece.")
    if minutes < 0:
        raise ValueError(f"Minutes: {minutes} is below nought. Give 0 or more.")
    if not source.strip():
        raise ValueError("Source: say where these hours come from.")
    return StandardHours.objects.create(
        family=family,
        stage=stage,
        minutes=minutes,
        from_day=from_day,
        source=source.strip(),
        set_by=by,
    )


def money_begins() -> None:
    """From the first price or cost on, the shop's currency stays what it is."""
    profile, _ = ShopProfile.objects.get_or_create(pk=1)
    if profile.money_since is None:
        ShopProfile.objects.filter(pk=1, money_since__isnull=True).update(
            money_since=timezone.now()
        )


def history(price: Price) -> list[Price]:
    """Every price ever written for the same thing, newest first."""
    same: dict[str, Any] = {
        "kind": price.kind,
        "metal": price.metal,
        "role": price.role,
    }
    return list(Price.objects.filter(**same).select_related("set_by", "stock"))
