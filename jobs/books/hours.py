"""Hours of a piece by family and stage: median and spread over jobs, by two queries.

A job counts once: its minutes at a stage over its pieces of the family. Low and high
are the quartiles by nearest rank, so the band holds the middle half of the jobs.

The database counts jobs by tenths of a minute; only where a rank falls are they looked
at one by one. Sorting all of them takes about three times as long.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from decimal import Decimal
from typing import NamedTuple

from django.db.models import Count, FloatField, IntegerField, Q, QuerySet, Sum
from django.db.models.functions import Cast

from jobs.books.periods import Period
from jobs.models import Account, FamilyAccount, Job, WorkTime

EACH = Decimal("0.01")
# As floats: the embedded database would divide whole numbers whole.
OF_ONE = Cast("minutes", FloatField()) / Cast("pieces", FloatField())
TENTH = Cast(OF_ONE * 10, IntegerField())
Key = tuple[str, str]  # family, stage


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


@dataclass(slots=True)
class _Counted:
    """Jobs of one family and stage. bins: (tenth of a minute, how many jobs)"""

    jobs: int = 0
    pieces: int = 0
    minutes: Decimal = Decimal(0)
    bins: list[tuple[int, int]] = field(default_factory=list)

    def ranks(self) -> dict[str, tuple[int, int]]:
        """The ranks, from 1, that each figure is the mean of."""
        first, third = -(-self.jobs // 4), -(-3 * self.jobs // 4)
        return {
            "low": (first, first),
            "median": ((self.jobs + 1) // 2, self.jobs // 2 + 1),
            "high": (third, third),
        }

    def place(self, rank: int) -> tuple[int, int]:
        """The bin a rank falls into, and which in it, from 0."""
        before = 0
        for tenth, many in self.bins:
            if rank <= before + many:
                return tenth, rank - before - 1
            before += many
        raise ValueError(f"rank {rank} of {self.jobs}")


def by_family(period: Period, standards: dict[Key, Decimal]) -> list[Hours]:
    """Every family and stage with hours in the period. Two queries.

    standards: (family, stage) -> minutes, to set them against
    """
    # Few jobs are called off: leaving those out costs less than a join for each row.
    called_off = Account.objects.exclude(state=Job.State.DONE).order_by()
    worked = (
        FamilyAccount.objects.order_by()
        .filter(
            stage__in=WorkTime.OF_A_PIECE,
            pieces__gt=0,
            minutes__gt=0,
            closed_on__lte=period.until,
        )
        .exclude(family="")
        .exclude(account__in=called_off.values("pk"))
    )
    if period.since is not None:
        worked = worked.filter(closed_on__gte=period.since)
    counted = _counted(worked)
    values = _values(worked, counted) if counted else {}
    found = [
        _hours(key, row, values, standards.get(key)) for key, row in counted.items()
    ]
    return sorted(found, key=lambda row: (row.family, _place(row.stage)))


def _counted(worked: QuerySet[FamilyAccount]) -> dict[Key, _Counted]:
    rows = (
        worked.annotate(tenth=TENTH)
        .values("family", "stage", "tenth")
        .annotate(jobs=Count("pk"), all_pieces=Sum("pieces"), spent=Sum("minutes"))
        .order_by("tenth")
    )
    found: dict[Key, _Counted] = defaultdict(_Counted)
    for row in rows:
        counted = found[row["family"], row["stage"]]
        counted.jobs += row["jobs"]
        counted.pieces += row["all_pieces"]
        counted.minutes += row["spent"]
        counted.bins.append((row["tenth"], row["jobs"]))
    return found


def _values(
    worked: QuerySet[FamilyAccount], counted: dict[Key, _Counted]
) -> dict[tuple[str, str, int], list[Decimal]]:
    """(family, stage, tenth) -> minutes of one piece, job by job, the least first, of
    the few bins that quartiles and median are read from."""
    wanted = Q()
    for (family, stage), row in counted.items():
        tenths = {row.place(at)[0] for ranks in row.ranks().values() for at in ranks}
        wanted |= Q(family=family, stage=stage, tenth__in=tenths)
    rows = (
        worked.annotate(each=OF_ONE, tenth=TENTH)
        .filter(wanted)
        .order_by("each")
        .values_list("family", "stage", "tenth", "each")
    )
    found: dict[tuple[str, str, int], list[Decimal]] = defaultdict(list)
    for family, stage, tenth, value in rows:
        found[family, stage, tenth].append(Decimal(str(value)))
    return found


def _hours(
    key: Key,
    row: _Counted,
    values: dict[tuple[str, str, int], list[Decimal]],
    standard: Decimal | None,
) -> Hours:
    def at(rank: int) -> Decimal:
        tenth, which = row.place(rank)
        return values[*key, tenth][which]

    figures = {
        name: ((at(first) + at(last)) / 2).quantize(EACH)
        for name, (first, last) in row.ranks().items()
    }
    return Hours(
        family=key[0],
        stage=key[1],
        jobs=row.jobs,
        pieces=row.pieces,
        minutes=row.minutes,
        standard=standard,
        **figures,
    )


def _place(stage: str) -> int:
    return [str(known) for known in WorkTime.OF_A_PIECE].index(stage)
