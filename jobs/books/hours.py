"""Hours of a piece by family and stage: median and spread over jobs, by one query.

A job counts once: its minutes at a stage over its pieces of the family. Low and high
are the quartiles by nearest rank, so the band holds the middle half of the jobs.
"""

from __future__ import annotations

from collections import defaultdict
from decimal import Decimal
from typing import Any, NamedTuple

from django.db.models import Count, F, FloatField, Q, QuerySet, Sum, Window
from django.db.models.functions import Cast, RowNumber

from jobs.books.periods import Period
from jobs.models import FamilyAccount, WorkTime

EACH = Decimal("0.01")


class Hours(NamedTuple):
    """Minutes of one piece. ratio: median over standard, None without a standard"""

    family: str
    stage: str
    jobs: int
    pieces: int
    minutes: Decimal
    low: Decimal
    median: Decimal
    high: Decimal
    standard: Decimal | None

    @property
    def ratio(self) -> Decimal | None:
        return self.median / self.standard if self.standard else None

    @property
    def mean(self) -> Decimal:
        return self.minutes / self.pieces

    def words(self) -> str:
        return f"{self.family.replace('_', ' ')}, {self.stage}"


def by_family(period: Period, standards: dict[tuple[str, str], Decimal]) -> list[Hours]:
    """Every family and stage with hours in the period. Two queries.

    standards: (family, stage) -> minutes, to set them against
    """
    worked = FamilyAccount.objects.filter(
        stage__in=WorkTime.OF_A_PIECE,
        pieces__gt=0,
        minutes__gt=0,
        closed_on__lte=period.until,
        account__state="done",
    ).exclude(family="")
    if period.since is not None:
        worked = worked.filter(closed_on__gte=period.since)
    sums = {
        (row["family"], row["stage"]): dict(row)
        for row in worked.order_by()
        .values("family", "stage")
        .annotate(jobs=Count("pk"), all_pieces=Sum("pieces"), spent=Sum("minutes"))
    }
    found = [
        _hours(sums[key], ranks, standards.get(key))
        for key, ranks in _ranked(worked).items()
    ]
    return sorted(found, key=lambda row: (row.family, _place(row.stage)))


def _ranked(
    worked: QuerySet[FamilyAccount],
) -> dict[tuple[str, str], list[tuple[int, Decimal]]]:
    """(family, stage) -> the few ranks that quartiles and median are read from."""
    part = [F("family"), F("stage")]
    # As floats: the embedded database would divide whole numbers whole.
    each = Cast("minutes", FloatField()) / Cast("pieces", FloatField())
    rows = (
        worked.order_by()
        .annotate(each=each)
        .annotate(
            rank=Window(RowNumber(), partition_by=part, order_by=["each", "pk"]),
            many=Window(Count("pk"), partition_by=part),
        )
        .annotate(r4=F("rank") * 4, r2=F("rank") * 2, n3=F("many") * 3)
        .filter(
            Q(r4__gte=F("many"), r4__lt=F("many") + 4)
            | Q(r2__gte=F("many"), r2__lte=F("many") + 2)
            | Q(r4__gte=F("n3"), r4__lt=F("n3") + 4)
        )
        .values_list("family", "stage", "rank", "each")
    )
    found: dict[tuple[str, str], list[tuple[int, Decimal]]] = defaultdict(list)
    for family, stage, rank, value in rows:
        found[family, stage].append((rank, Decimal(str(value))))
    return found


def _hours(
    row: dict[str, Any],
    ranks: list[tuple[int, Decimal]],
    standard: Decimal | None,
) -> Hours:
    jobs: int = row["jobs"]
    at = dict(ranks)
    low, high = at[-(-jobs // 4)], at[-(-3 * jobs // 4)]
    middle = (at[(jobs + 1) // 2] + at[jobs // 2 + 1]) / 2
    return Hours(
        family=row["family"],
        stage=row["stage"],
        jobs=jobs,
        pieces=row["all_pieces"],
        minutes=row["spent"],
        low=low.quantize(EACH),
        median=middle.quantize(EACH),
        high=high.quantize(EACH),
        standard=standard,
    )


def _place(stage: str) -> int:
    return [str(known) for known in WorkTime.OF_A_PIECE].index(stage)
