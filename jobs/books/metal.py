"""Metal bought, used, kept and scrapped, read from the rack's events."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from decimal import Decimal

from django.db.models import BooleanField, DecimalField, ExpressionWrapper, F, Q, Sum

from jobs.books.periods import Period
from shop.models import RackEvent

What = RackEvent.What
NOUGHT = Decimal(0)
NEW = Q(item__cut_from__isnull=True)  # else it was cut from something on the rack


@dataclass(slots=True)
class Metal:
    """Square metres by rectangles; money in the shop's currency."""

    name: str
    bought: Decimal = NOUGHT
    paid: Decimal = NOUGHT
    cut: Decimal = NOUGHT
    kept: Decimal = NOUGHT
    scrapped: Decimal = NOUGHT
    sold_for: Decimal = NOUGHT

    @property
    def used(self) -> Decimal:
        """Cut, less what went back on the rack as offcuts."""
        return self.cut - self.kept


def by_metal(period: Period) -> list[Metal]:
    """Every metal that moved, by name. One query."""
    events = RackEvent.objects.filter(**period.moments("at"))
    area = ExpressionWrapper(
        F("length_mm") * F("item__width_mm"),
        DecimalField(max_digits=24, decimal_places=6),
    )
    rows = (
        events.order_by()
        .annotate(is_new=ExpressionWrapper(NEW, BooleanField()))
        .values("item__metal__name", "what", "is_new")
        .annotate(area=Sum(area), paid=Sum("item__paid"), sold=Sum("money"))
    )
    found: dict[str, Metal] = {}
    for row in rows:
        metal = found.setdefault(
            row["item__metal__name"], Metal(row["item__metal__name"])
        )
        size = Decimal(str(row["area"])) / 1_000_000
        _add(metal, row["what"], row["is_new"], size, dict(row))
    return [found[name] for name in sorted(found)]


def _add(
    metal: Metal, what: str, is_new: bool, size: Decimal, row: dict[str, object]
) -> None:
    sums: dict[str, Decimal] = defaultdict(Decimal)
    if what == What.CAME_IN and is_new:
        sums["bought"] = size
        sums["paid"] = Decimal(str(row["paid"] or 0))
    elif what == What.CAME_IN:
        sums["kept"] = size
    elif what == What.CUT:
        sums["cut"] = size
    elif what == What.PUT_BACK:
        sums["cut"] = -size
    elif what in (What.SPOILED, What.SOLD):
        sums["scrapped"] = size
        sums["sold_for"] = Decimal(str(row["sold"] or 0))
    for name, amount in sums.items():
        setattr(metal, name, getattr(metal, name) + amount)
