"""Standards that learn: the median of recent jobs is offered, the owner takes it.

Nothing changes by itself. Taken, it is a new dated row that says from how many jobs it
comes and how far they spread; the one before it is kept.
"""

from __future__ import annotations

import datetime
from decimal import ROUND_HALF_UP, Decimal
from typing import NamedTuple

from jobs.books.hours import Hours, by_family
from jobs.books.periods import Period
from shop import prices
from shop.models import Person, StandardHours
from shop.prices import PriceBook

FEWEST = 5
"""Jobs below which a median says too little. Our own rule."""
CLOSE = Decimal("0.05")
"""A standard within a twentieth of the median needs no new one."""
HALF = Decimal("0.5")


class Offer(NamedTuple):
    """minutes: the median to the half minute; hours: what it comes from"""

    hours: Hours
    minutes: Decimal
    standard: StandardHours

    @property
    def slug(self) -> str:
        return f"{self.hours.family}.{self.hours.stage}"

    def source(self, period: Period) -> str:
        found = self.hours
        return (
            f"Median of {found.jobs} jobs, {found.pieces} pieces, in {period.words} to"
            f" {_day(period.until)}; half of the jobs lie between {found.low} and"
            f" {found.high} min"
        )


def offers(period: Period) -> list[Offer]:
    """What recent jobs would change, the farthest from its standard first."""
    book = PriceBook.on(period.until)
    minutes = {key: row.minutes for key, row in book.hours.items()}
    made = []
    for hours in by_family(period, minutes):
        standard = book.hours.get((hours.family, hours.stage)) or book.hours.get(
            ("", hours.stage)
        )
        if standard is None or hours.jobs < FEWEST:
            continue
        median = _to_half(hours.median)
        apart = abs(median - standard.minutes)
        if apart > standard.minutes * CLOSE and apart >= HALF:
            made.append(Offer(hours, median, standard))
    return sorted(
        made, key=lambda it: -abs(it.minutes - it.standard.minutes) / it.minutes
    )


def take(slug: str, by: Person, period: Period) -> StandardHours:
    """Writes the offer of that slug as the standard from today on.

    Raises ValueError for one that is not offered (any more).
    """
    for offer in offers(period):
        if offer.slug == slug:
            return prices.write_hours(
                by,
                family=offer.hours.family,
                stage=offer.hours.stage,
                minutes=offer.minutes,
                from_day=period.until,
                source=offer.source(period),
            )
    raise ValueError("This is no longer offered. Look at the page again.")


def _to_half(minutes: Decimal) -> Decimal:
    return max((minutes / HALF).quantize(Decimal(1), ROUND_HALF_UP) * HALF, HALF)


def _day(day: datetime.date) -> str:
    return f"{day:%a} {day.day} {day:%b %Y}"
