"""What the crew does fastest and slowest; by person only where the owner wants it.

By person: one's minutes for a mark at a family's stage against the whole crew's, over
the same period, weighted by what this person did.
"""

from __future__ import annotations

from collections import defaultdict
from decimal import Decimal
from typing import NamedTuple

from django.db import connection
from django.db.models import Q, Sum

from jobs.books.hours import EACH, Hours
from jobs.books.periods import Period
from jobs.models import Piece, WorkTime
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
    rows = _worked(period)
    spent: dict[tuple[str, str], Decimal] = defaultdict(Decimal)
    marks: dict[tuple[str, str], int] = defaultdict(int)
    for row in rows:
        spent[row.family, row.stage] += row.minutes
        marks[row.family, row.stage] += row.marks
    names = {person.pk: str(person) for person in Person.objects.all()}
    own: dict[int, list[Decimal]] = defaultdict(lambda: [Decimal(0)] * 3)
    for row in rows:
        of = row.family, row.stage
        usual = spent[of] / marks[of] * row.marks
        total = own[row.person]
        own[row.person] = [
            total[0] + row.marks, total[1] + row.minutes, total[2] + usual,
        ]  # fmt: skip
    return sorted(
        OfPerson(names[pk], int(number), minutes, minutes / usual)
        for pk, (number, minutes, usual) in own.items()
        if usual
    )


class _Worked(NamedTuple):
    """marks: how many pieces this person worked on at this stage"""

    person: int
    family: str
    stage: str
    minutes: Decimal
    marks: int


def _worked(period: Period) -> list[_Worked]:
    """By person, family and stage, over the period. One query: each piece and person
    once, read off an index, and only those summed by family; sorting every hour by
    all three takes twice as long."""
    times = WorkTime.objects.counting().filter(
        stage__in=WorkTime.OF_A_PIECE,
        piece__isnull=False,
        minutes__isnull=False,
        day__lte=period.until,
    )
    if period.since is not None:
        times = times.filter(day__gte=period.since)
    stages = [str(stage) for stage in WorkTime.OF_A_PIECE]
    once = (
        times.order_by()
        .values("piece", "person")
        .annotate(**{it: Sum("minutes", filter=Q(stage=it)) for it in stages})
    )
    # A sum of sums, which the framework has no words for.
    inner, given = once.query.sql_with_params()
    sums = ", ".join(f"SUM(once.{it}), COUNT(once.{it})" for it in stages)
    asked = (
        f"SELECT once.person, made.family, {sums} FROM ({inner}) once"
        f" JOIN {Piece._meta.db_table} made ON made.id = once.piece"
        " GROUP BY once.person, made.family"
    )
    with connection.cursor() as cursor:
        cursor.execute(asked, given)
        rows = cursor.fetchall()
    return [
        _Worked(person, family, stage, Decimal(str(minutes)).quantize(EACH), marks)
        for person, family, *figures in rows
        for stage, minutes, marks in zip(
            stages, figures[::2], figures[1::2], strict=True
        )
        if marks
    ]
