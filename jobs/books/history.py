"""Every job, open and closed, with what it was quoted at and what it took."""

from __future__ import annotations

import datetime
from decimal import Decimal
from typing import NamedTuple

from django.db.models import F, Q, QuerySet

from jobs.models import Job


class Filter(NamedTuple):
    """words: as in the list of jobs; state: of the job, or nothing
    since, until: day of closing; over: cost more than quoted by this share or more
    remade: only with something made again; family: only with pieces of it
    """

    words: str = ""
    state: str = ""
    since: datetime.date | None = None
    until: datetime.date | None = None
    over: Decimal | None = None
    remade: bool = False
    family: str = ""


def found(asked: Filter) -> QuerySet[Job]:
    """Jobs that fit, the newest first, each with its client and account."""
    jobs = Job.objects.matching(asked.words).select_related("client", "account__quote")
    if asked.state:
        jobs = jobs.filter(state=asked.state)
    if asked.since:
        jobs = jobs.filter(account__closed_on__gte=asked.since)
    if asked.until:
        jobs = jobs.filter(account__closed_on__lte=asked.until)
    if asked.remade:
        jobs = jobs.filter(account__remakes__gt=0)
    if asked.over is not None:
        real = F("account__metal") + F("account__labour") + F("account__other")
        quoted = (
            F("account__quoted_metal")
            + F("account__quoted_labour")
            + F("account__quoted_other")
        )
        jobs = jobs.alias(real=real, most=quoted * (1 + asked.over)).filter(
            Q(real__gte=F("most")), account__quote__isnull=False
        )
    if asked.family:
        jobs = jobs.filter(
            pk__in=Job.objects.order_by()
            .filter(pieces__family=asked.family)
            .values("pk")
        )
    return jobs.newest_first()
