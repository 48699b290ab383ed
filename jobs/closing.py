"""What a job was quoted at and what it took, side by side.

`reckoned` gives it for any job; `close` keeps it as rows when the job is closed, for
the books; `again` does so anew when an hour or a bill comes late.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from decimal import Decimal

from django.db import transaction
from django.db.models import Q, Sum
from django.utils import timezone

from jobs.models import (
    Account,
    Cost,
    FamilyAccount,
    Job,
    Piece,
    Quote,
    QuoteLine,
    RemakeAccount,
    WorkTime,
)
from shop.models import ShopProfile

NOUGHT = Decimal(0)
Part = QuoteLine.Part


@dataclass(slots=True)
class Family:
    """One family at one stage, or its metal where stage is empty."""

    pieces: int = 0
    quoted_minutes: Decimal = NOUGHT
    minutes: Decimal = NOUGHT
    quoted: Decimal = NOUGHT
    real: Decimal = NOUGHT


@dataclass(slots=True)
class Reckoned:
    """A job's account and its parts, not yet kept."""

    account: Account
    families: dict[tuple[str, str], Family] = field(default_factory=dict)
    remakes: list[RemakeAccount] = field(default_factory=list)


def basis(job: Job) -> Quote | None:
    """The quote a job is measured by: the accepted one, else the last one made."""
    quotes = job.quotes.exclude(state=Quote.State.REFUSED)
    return quotes.accepted().first() or quotes.newest_first().first()


def reckoned(job: Job) -> Reckoned:
    """Quoted against real as it is now. The same number of queries for any job."""
    quote = basis(job)
    profile = ShopProfile.current()
    account = Account(
        job=job,
        state=job.state,
        closed_on=timezone.localdate(),
        quote=quote,
        currency=profile.currency,
    )
    made = Reckoned(account)
    families: dict[tuple[str, str], Family] = defaultdict(Family)
    if quote is not None:
        _quoted(made, families, quote)
    pieces = {piece.pk: piece for piece in job.pieces.all()}
    lived = [piece for piece in pieces.values() if not piece.scrapped]
    account.pieces = sum(piece.quantity for piece in lived)
    account.remakes = sum(piece.scrapped for piece in pieces.values())
    for piece in lived:
        for stage in ("", *WorkTime.OF_A_PIECE):
            families[piece.family, stage].pieces += piece.quantity
    remakes = {
        piece.pk: RemakeAccount(
            piece=piece, reason=piece.scrapped_because, family=piece.family
        )
        for piece in pieces.values()
        if piece.scrapped
    }
    _hours(made, families, pieces, remakes)
    _costs(made, families, pieces, remakes)
    made.families = {
        key: row
        for key, row in families.items()
        if row.pieces or row.real or row.quoted or row.minutes or row.quoted_minutes
    }
    made.remakes = list(remakes.values())
    return made


def _quoted(
    made: Reckoned, families: dict[tuple[str, str], Family], quote: Quote
) -> None:
    account = made.account
    account.quoted_metal, account.quoted_labour = quote.metal, quote.labour
    account.quoted_other, account.quoted_net = quote.other, quote.net
    account.quoted_minutes = quote.minutes
    lines = (
        quote.lines.filter(part__in=(Part.METAL, Part.LABOUR))
        .order_by()
        .values_list("family", "stage", "part")
        .annotate(money=Sum("amount"), many=Sum("quantity"))
    )
    for family, stage, part, amount, quantity in lines:
        row = families[family, stage]
        row.quoted += amount
        if part == Part.LABOUR:
            row.quoted_minutes += quantity


def _hours(
    made: Reckoned,
    families: dict[tuple[str, str], Family],
    pieces: dict[int, Piece],
    remakes: dict[int, RemakeAccount],
) -> None:
    account = made.account
    times = (
        account.job.times.counting()
        .filter(minutes__isnull=False)
        .order_by()
        .values_list("piece", "stage")
        .annotate(
            spent=Sum("minutes"),
            cost=Sum("amount"),
            unpriced=Sum("minutes", filter=Q(amount__isnull=True)),
        )
    )
    for pk, stage, minutes, amount, unpriced in times:
        amount = amount or NOUGHT
        family = pieces[pk].family if pk else ""
        row = families[family, stage]
        row.minutes += minutes
        row.real += amount
        account.minutes += minutes
        account.labour += amount
        account.unpriced_minutes += unpriced or NOUGHT
        if pk in remakes:
            remakes[pk].minutes += minutes
            remakes[pk].labour += amount


def _costs(
    made: Reckoned,
    families: dict[tuple[str, str], Family],
    pieces: dict[int, Piece],
    remakes: dict[int, RemakeAccount],
) -> None:
    account = made.account
    costs = (
        account.job.costs.order_by()
        .values_list("piece", "part")
        .annotate(money=Sum("amount"))
    )
    for pk, part, amount in costs:
        if part != Cost.Part.METAL:
            account.other += amount
            continue
        account.metal += amount
        families[pieces[pk].family if pk else "", ""].real += amount
        if pk in remakes:
            remakes[pk].metal += amount


def close(job: Job) -> Account:
    """Keeps the account of a closed job, in place of one kept before."""
    with transaction.atomic():
        before = Account.objects.filter(job=job).first()
        made = reckoned(job)
        account = made.account
        if before is not None:
            account.closed_on = before.closed_on
            before.delete()
        account.save()
        for remake in made.remakes:
            remake.account, remake.closed_on = account, account.closed_on
        RemakeAccount.objects.bulk_create(made.remakes)
        FamilyAccount.objects.bulk_create(
            FamilyAccount(
                account=account,
                closed_on=account.closed_on,
                family=family,
                stage=stage,
                pieces=row.pieces,
                quoted_minutes=row.quoted_minutes,
                minutes=row.minutes,
                quoted=row.quoted,
                real=row.real,
            )
            for (family, stage), row in made.families.items()
        )
        return account


def opened(job: Job) -> None:
    """A job opened again has no account until it is closed."""
    Account.objects.filter(job=job).delete()


def again(job: Job) -> None:
    """Anew, if the job is closed: something came late."""
    if not job.is_open():
        close(job)
