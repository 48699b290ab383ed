"""Which time the books look at: the last year, two, five, or all of it."""

from __future__ import annotations

import datetime
from typing import NamedTuple

from django.utils import timezone

CHOICES = {"1": "the last year", "2": "the last 2 years", "5": "the last 5 years"}
ALL = "all"
USUAL = "2"


class Period(NamedTuple):
    """since: its first day, None for all time; until: its last day"""

    name: str
    words: str
    since: datetime.date | None
    until: datetime.date

    @property
    def is_long(self) -> bool:
        """Told by the year, not by the month."""
        return self.since is None or (self.until - self.since).days > 3 * 366

    def moments(self, name: str) -> dict[str, datetime.datetime]:
        """The same days as a filter on a field of moments: the embedded database
        turns a moment into a day only row by row."""
        after = self.until + datetime.timedelta(days=1)
        bounds = {f"{name}__lt": _midnight(after)}
        if self.since is not None:
            bounds[f"{name}__gte"] = _midnight(self.since)
        return bounds


def period(asked: str | None, today: datetime.date) -> Period:
    """The one asked for in the address; the usual one where it makes no sense."""
    if asked == ALL:
        return Period(ALL, "all the years", None, today)
    name = asked if asked in CHOICES else USUAL
    since = _years_before(today, int(name))
    return Period(name, CHOICES[name], since, today)


def choices() -> list[tuple[str, str]]:
    return [*CHOICES.items(), (ALL, "all the years")]


def _midnight(day: datetime.date) -> datetime.datetime:
    return timezone.make_aware(datetime.datetime.combine(day, datetime.time.min))


def _years_before(day: datetime.date, years: int) -> datetime.date:
    try:
        return day.replace(year=day.year - years) + datetime.timedelta(days=1)
    except ValueError:  # the 29th of February
        return day.replace(year=day.year - years, day=28) + datetime.timedelta(days=1)
