"""Costs of a job beside its hours: written by hand or come from the rack.

A cost is only added; a wrong one is taken back by another that names why.
"""

from __future__ import annotations

import datetime
from decimal import Decimal

from django.db import IntegrityError, transaction
from django.utils import timezone

from jobs import closing, log
from jobs.models import Cost, Job, Piece
from jobs.refused import Refused
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
    Raises Refused for nothing, less than nothing, or a day still to come.
    """
    if key and (earlier := Cost.objects.filter(key=key).first()):
        return earlier
    currency = ShopProfile.current().currency
    amount = rounded(amount, currency)
    if amount <= 0 and not from_rack:
        raise Refused("Amount: give more than nothing.", "amount")
    if amount < 0:
        raise Refused("Amount: it is below nought.", "amount")
    if on_day > timezone.localdate():
        raise Refused("Day: it is still to come.", "on_day")
    if piece is not None and piece.job_id != job.pk:
        raise Refused(f"Piece: {piece} is not of {job}.", "piece")
    words = " ".join(words.split())
    if not words:
        raise Refused("What it was: say it in a few words.", "words")
    try:
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
    except IntegrityError:
        # Sent twice at once: the other one was kept.
        earlier = Cost.objects.filter(key=key).first() if key else None
        if earlier is None:
            raise
        return earlier


def take_back(cost: Cost, by: Person, reason: str, key: str | None = None) -> Cost:
    """Takes a cost back by one of the same amount below nought.

    The same key again gives what it took back by.
    Raises Refused without a reason, or where that was done already.
    """
    reason = " ".join(reason.split())
    if not reason:
        raise Refused("Reason: say in a few words why it is taken back.", "reason")
    with transaction.atomic():
        locked = Cost.objects.select_for_update(of=("self",)).get(pk=cost.pk)
        if key and (earlier := locked.taken_back_by(key)):
            return earlier
        if locked.takes_back_id or Cost.objects.filter(takes_back=locked).exists():
            raise Refused(f"“{locked.words}” is taken back already.")
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
