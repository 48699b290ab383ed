"""What the crew does fastest and slowest; by person only where the owner wants it.

By person: one's minutes for a mark at a family's stage against the whole crew's, over
the same period, weighted by what this person did.
"""

from __future__ import annotations

from collections import defaultdict
from decimal import Decimal
from typing import NamedTuple

from django.db.models import Count, Sum

from jobs.books.hours import Hours
from jobs.books.periods import Period
from jobs.models import WorkTime
from shop.models import Person


class OfPerson(NamedTuple):
    """against: share of the crew's usual time, 1 as usual, 0.8 a fifth faster"""

    person: str
    marks: int
    minutes: Decimal
    against: Decimal


def fastest_first(rows: list[Hours]) -> list[Hours]:
    """Those with a standard to set them against, the fastest against it first."""
    known = [row for row in rows if row.ratio is not None]
    return sorted(known, key=lambda row: (row.ratio, row.words()))


def by_person(period: Period) -> list[OfPerson]:
    """Everybody with hours on pieces, by name. Two queries."""
    times = WorkTime.objects.counting().filter(
        stage__in=WorkTime.OF_A_PIECE,
        piece__isnull=False,
        minutes__isnull=False,
        day__lte=period.until,
    )
    if period.since is not None:
        times = times.filter(day__gte=period.since)
    rows = list(
        times.order_by()
        .values("person", "piece__family", "stage")
        .annotate(spent=Sum("minutes"), marks=Count("piece", distinct=True))
    )
    spent: dict[tuple[str, str], Decimal] = defaultdict(Decimal)
    marks: dict[tuple[str, str], int] = defaultdict(int)
    for row in rows:
        spent[row["piece__family"], row["stage"]] += row["spent"]
        marks[row["piece__family"], row["stage"]] += row["marks"]
    names = {person.pk: str(person) for person in Person.objects.all()}
    own: dict[int, list[Decimal]] = defaultdict(lambda: [Decimal(0)] * 3)
    for row in rows:
        of = row["piece__family"], row["stage"]
        usual = spent[of] / marks[of] * row["marks"]
        total = own[row["person"]]
        own[row["person"]] = [
            total[0] + row["marks"], total[1] + row["spent"], total[2] + usual,
        ]  # fmt: skip
    return sorted(
        OfPerson(names[pk], int(number), minutes, minutes / usual)
        for pk, (number, minutes, usual) in own.items()
        if usual
    )
