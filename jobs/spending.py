"""Costs of a job beside its hours: written by hand or come from the rack.

A cost is only added; a wrong one is taken back by another that names why.
"""

from __future__ import annotations

import datetime
from decimal import Decimal

from django.db import transaction
from django.utils import timezone

from jobs import closing, log
from jobs.models import Cost, Job, Piece
from shop.models import Person, ShopProfile
from shop.money import rounded
from shop.prices import money_begins


def write(
    job: Job,
    by: Person,
    *,
    part: str,
    words: str,
    amount: Decimal,
    on_day: datetime.date,
    piece: Piece | None = None,
    from_rack: str = "",
    key: str | None = None,
) -> Cost:
    """Adds a cost. A closed job takes one too: bills come late.

    amount: before tax, in the shop's currency; rounded to its smallest unit
    from_rack: what it was taken from, for costs that come by themselves
    Raises ValueError for nothing, less than nothing, or a day still to come.
    """
    if key and (earlier := Cost.objects.filter(key=key).first()):
        return earlier
    currency = ShopProfile.current().currency
    amount = rounded(amount, currency)
    if amount <= 0 and not from_rack:
        raise ValueError("Amount: give more than nothing.")
    if amount < 0:
        raise ValueError("Amount: it is below nought.")
    if on_day > timezone.localdate():
        raise ValueError("Day: it is still to come.")
    if piece is not None and piece.job_id != job.pk:
        raise ValueError(f"Piece: {piece} is not of {job}.")
    words = " ".join(words.split())
    if not words:
        raise ValueError("What it was: say it in a few words.")
    with transaction.atomic():
        cost = Cost.objects.create(
            job=job,
            piece=piece,
            part=part,
            words=words[:200],
            amount=amount,
            on_day=on_day,
            from_rack=from_rack,
            by=by,
            key=key,
        )
        money_begins()
        log.write(job, "wrote a cost", by, piece=piece, about=cost.words)
        closing.again(job)
        return cost


def take_back(cost: Cost, by: Person, reason: str, key: str | None = None) -> Cost:
    """Takes a cost back by one of the same amount below nought.

    Raises ValueError without a reason, or where that was done already.
    """
    reason = " ".join(reason.split())
    if not reason:
        raise ValueError("Reason: say in a few words why it is taken back.")
    with transaction.atomic():
        locked = Cost.objects.select_for_update(of=("self",)).get(pk=cost.pk)
        if locked.takes_back_id or Cost.objects.filter(takes_back=locked).exists():
            raise ValueError(f"“{locked.words}” is taken back already.")
        back = Cost.objects.create(
            job=locked.job,
            piece=locked.piece,
            part=locked.part,
            words=locked.words,
            amount=-locked.amount,
            on_day=locked.on_day,
            from_rack=locked.from_rack,
            takes_back=locked,
            reason=reason,
            by=by,
            key=key,
        )
        log.write(locked.job, "took back a cost", by, about=locked.words, reason=reason)
        closing.again(locked.job)
        return back
