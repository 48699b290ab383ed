"""Quoted against real, over time: sums of closed jobs by month or year."""

from __future__ import annotations

import datetime
from decimal import Decimal
from typing import Any, NamedTuple

from django.db.models import Count, Sum
from django.db.models.functions import TruncMonth, TruncYear

from jobs.books.periods import Period
from jobs.models import Account, Job
from jobs.models.accounts import AccountQuerySet


class Span(NamedTuple):
    """One month or year."""

    begins: datetime.date
    label: str
    jobs: int
    quoted_metal: Decimal
    metal: Decimal
    quoted_labour: Decimal
    labour: Decimal
    quoted_other: Decimal
    other: Decimal
    net: Decimal

    @property
    def quoted(self) -> Decimal:
        return self.quoted_metal + self.quoted_labour + self.quoted_other

    @property
    def real(self) -> Decimal:
        return self.metal + self.labour + self.other

    @property
    def over(self) -> Decimal | None:
        return (self.real - self.quoted) / self.quoted if self.quoted else None


SUMS = (
    "quoted_metal", "metal", "quoted_labour", "labour", "quoted_other", "other",
    "quoted_net",
)  # fmt: skip


def closed_in(period: Period) -> AccountQuerySet:
    """Accounts of jobs handed over in a period, with a quote to set them against."""
    return Account.objects.of_state(Job.State.DONE).between(period.since, period.until)


def spans(period: Period) -> list[Span]:
    """Every month or year with a job, the oldest first. One query."""
    cut = TruncYear if period.is_long else TruncMonth
    rows = (
        closed_in(period)
        .filter(quote__isnull=False)
        .order_by()
        .annotate(begins=cut("closed_on"))
        .values("begins")
        .annotate(jobs=Count("pk"), **{f"all_{name}": Sum(name) for name in SUMS})
        .order_by("begins")
    )
    found: list[dict[str, Any]] = [dict(row) for row in rows]
    form = "%Y" if period.is_long else "%b %Y"
    return [
        Span(
            row["begins"],
            row["begins"].strftime(form),
            row["jobs"],
            *(row[f"all_{name}"] for name in SUMS),
        )
        for row in found
    ]
