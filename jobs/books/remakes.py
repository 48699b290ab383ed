"""What was made again, by reason: how often, how long, at what price."""

from __future__ import annotations

from decimal import Decimal
from typing import NamedTuple

from django.db.models import Count, Sum

from jobs.books.periods import Period
from jobs.models import Piece, RemakeAccount


class Remake(NamedTuple):
    """minutes, price: lost with the scrapped pieces"""

    reason: str
    words: str
    pieces: int
    minutes: Decimal
    price: Decimal


def by_reason(period: Period) -> list[Remake]:
    """Each reason that came up, the dearest first. One query."""
    found = RemakeAccount.objects.filter(closed_on__lte=period.until)
    if period.since is not None:
        found = found.filter(closed_on__gte=period.since)
    rows = (
        found.order_by()
        .values("reason")
        .annotate(
            pieces=Count("pk"),
            spent=Sum("minutes"),
            lost_labour=Sum("labour"),
            lost_metal=Sum("metal"),
        )
    )
    made = [
        Remake(
            row["reason"],
            Piece.Spoiled(row["reason"]).label,
            row["pieces"],
            row["spent"],
            row["lost_labour"] + row["lost_metal"],
        )
        for row in rows
    ]
    return sorted(made, key=lambda row: (-row.price, -row.pieces, row.reason))
