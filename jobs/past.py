"""Makes an invented past of a shop as rows, in bulk: jobs, events, hours, accounts.

For trying the books on many years. The accounts are reckoned here by the same sums as
`jobs.closing`; tests/jobs/test_books_history.py holds the two against each other.
"""

from __future__ import annotations

import datetime
from collections import defaultdict
from dataclasses import dataclass, field
from decimal import Decimal
from random import Random
from typing import Any

from django.db import transaction
from django.db.models import Max, Model

from jobs.models import (
    Account,
    Client,
    Cost,
    Event,
    FamilyAccount,
    Job,
    Piece,
    Quote,
    QuoteLine,
    RemakeAccount,
    WorkTime,
)
from jobs.past_plan import FIRST, LAST, STAGES, STANDARD, PlannedJob, PlannedPiece
from shop.models import Person, Price, ShopProfile
from shop.money import rounded
from shop.prices import KG_IN_LB

NOUGHT = Decimal(0)
BATCH = 2000
CREW = ("Rowan", "Tansy", "Alder", "Bryony", "Sorrel")
SURNAME = "Marlowe-Pike"
HOUR, PER_M2 = Decimal(46), Decimal(78)  # of the first year
RISE = Decimal("1.03")
LINE_ORDER = ("", *STAGES)
MOVES = (
    ("measured", "asked", "measured"),
    ("laid out", "measured", "laid_out"),
    ("cut", "laid_out", "cut"),
    ("bent", "cut", "bent"),
    ("installed", "bent", "installed"),
)


@dataclass(slots=True)
class Past:
    """The rows of one month before they are written."""

    people: list[Person]
    office: Person
    currency: str
    rates: dict[int, tuple[Decimal, Decimal]]
    prices: dict[int, Price]
    number: int
    jobs: list[tuple[Job, PlannedJob]] = field(default_factory=list)
    rows: dict[type[Model], list[Any]] = field(
        default_factory=lambda: defaultdict(list)
    )


def people() -> tuple[Person, list[Person]]:
    """The office and the crew, made if they are not there; they can't sign in."""
    made = []
    roles = [("Wren", Person.Role.OFFICE), *((name, Person.Role.CREW) for name in CREW)]
    for name, role in roles:
        person = Person.objects.filter(username=f"past-{name.lower()}").first()
        if person is None:
            person = Person(
                username=f"past-{name.lower()}",
                first_name=name,
                last_name=SURNAME,
                role=role,
            )
            person.set_unusable_password()
            person.save()
        made.append(person)
    return made[0], made[1:]


def begin(first: int, last: int) -> Past:
    """Prices for every year from first to last, and whoever worked then."""
    office, crew = people()
    rates, prices = {}, {}
    currency = ShopProfile.current().currency
    for i, year in enumerate(range(first, last + 1)):
        rate = rounded(HOUR * RISE**i, currency)
        rates[year] = rate, rounded(PER_M2 * RISE**i, currency)
        prices[year] = Price.objects.create(
            kind=Price.Kind.LABOUR,
            role=Person.Role.CREW,
            unit=Price.Unit.HOUR,
            amount=rate,
            from_day=datetime.date(year, 1, 1),
            source="invented",
            set_by=office,
        )
    ShopProfile.objects.filter(pk=1).update(money_since=prices[first].set_at)
    number = Job.objects.aggregate(last=Max("number"))["last"] or 0
    return Past(crew, office, currency, rates, prices, number)


@transaction.atomic
def write_month(past: Past, chance: Random, planned: list[PlannedJob]) -> int:
    """Writes the jobs of a month with all that happened to them; gives the pieces."""
    past.rows.clear()
    clients = Client.objects.bulk_create(_client(plan) for plan in planned)
    jobs = []
    for plan, client in zip(planned, clients, strict=True):
        past.number += 1
        jobs.append(_job(past, plan, client))
    Job.objects.bulk_create(jobs, BATCH)
    past.jobs = list(zip(jobs, planned, strict=True))
    pieces = _pieces(past)
    quotes = [_quote(past, job, plan) for job, plan in past.jobs]
    Quote.objects.bulk_create(quotes, BATCH)
    closed = [
        (_account(past, job, plan, quote), job, plan, quote)
        for (job, plan), quote in zip(past.jobs, quotes, strict=True)
    ]
    Account.objects.bulk_create([it[0] for it in closed if it[2].closed], BATCH)
    for account, job, plan, quote in closed:
        _write_job(past, chance, account, job, plan, quote, pieces[job.pk])
    for model, rows in past.rows.items():
        model._default_manager.bulk_create(rows, BATCH)
    return sum(len(of_job) for of_job in pieces.values())


def _client(plan: PlannedJob) -> Client:
    first = FIRST[plan.who % len(FIRST)]
    last = LAST[plan.who // 7 % len(LAST)]
    address = f"{plan.who % 97 + 1} Alder Row\nTarn Hollow"
    return Client(name=f"{first} {last}", phone="555 0100", address=address)


def _job(past: Past, plan: PlannedJob, client: Client) -> Job:
    state = Job.State.OPEN
    if plan.closed:
        state = Job.State.OFF if plan.off else Job.State.DONE
    return Job(
        number=past.number,
        client=client,
        title=plan.title,
        site_address=client.address,
        present_metal="copper",
        visit_on=plan.booked + datetime.timedelta(days=3),
        state=state,
        created_by=past.office,
    )


def _pieces(past: Past) -> dict[int, list[tuple[Piece, PlannedPiece, bool]]]:
    """Job id -> its pieces: row, plan, whether it is the making that was scrapped."""
    olds, news = [], []
    for job, plan in past.jobs:
        for it in plan.pieces:
            if it.spoiled:
                olds.append((_piece(job, plan, it, spoiled=True), it))
    Piece.objects.bulk_create([row for row, _ in olds], BATCH)
    old_of = {(row.job_id, row.mark): row for row, _ in olds}
    for job, plan in past.jobs:
        for it in plan.pieces:
            old = old_of.get((job.pk, it.mark))
            news.append((_piece(job, plan, it, spoiled=False, old=old), it))
    Piece.objects.bulk_create([row for row, _ in news], BATCH)
    found: dict[int, list[tuple[Piece, PlannedPiece, bool]]] = defaultdict(list)
    for row, it in olds:
        found[row.job_id].append((row, it, True))
    for row, it in news:
        found[row.job_id].append((row, it, False))
    return found


def _piece(
    job: Job, plan: PlannedJob, it: PlannedPiece, spoiled: bool, old: Any = None
) -> Piece:
    state = "cut" if spoiled else "installed" if plan.closed else "laid_out"
    return Piece(
        job=job,
        mark=it.mark,
        making=2 if old else 1,
        family=it.family,
        quantity=it.many,
        metal=plan.metal,
        state=state,
        scrapped=spoiled,
        scrapped_because=it.spoiled if spoiled else "",
        remake_of=old,
    )


def _quote(past: Past, job: Job, plan: PlannedJob) -> Quote:
    rate, per_m2 = past.rates[plan.booked.year]
    lines = _quoted(past, plan)
    metal = sum((line[3] for line in lines if not line[1]), NOUGHT)
    labour = sum((line[3] for line in lines if line[1]), NOUGHT)
    other = rounded(metal * Decimal("0.05") + 80, past.currency)
    overhead = rounded((metal + labour + other) * Decimal("0.2"), past.currency)
    margin = rounded(
        (metal + labour + other + overhead) * Decimal("0.1"), past.currency
    )
    net = metal + labour + other + overhead + margin
    tax = rounded(net * Decimal("0.08"), past.currency)
    off = plan.off and plan.closed
    return Quote(
        job=job,
        number=1,
        state=Quote.State.REFUSED if off else Quote.State.ACCEPTED,
        currency=past.currency,
        prices_on=plan.booked,
        valid_until=plan.booked + datetime.timedelta(days=30),
        metal=metal,
        labour=labour,
        other=other,
        overhead=overhead,
        margin=margin,
        net=net,
        tax=tax,
        total=net + tax,
        minutes=sum((line[2] for line in lines), NOUGHT),
        made_by=past.office,
        made_at=_at(plan.booked, 9),
        settled_on=plan.booked,
        settled_by=job.client.name,
    )


def _quoted(
    past: Past, plan: PlannedJob
) -> list[tuple[str, str, Decimal, Decimal, int]]:
    """family, stage, minutes, amount, pieces: metal where stage is empty."""
    rate, per_m2 = past.rates[plan.booked.year]
    area: dict[str, Decimal] = defaultdict(Decimal)
    many: dict[str, int] = defaultdict(int)
    for it in plan.pieces:
        area[it.family] += it.blank * it.many
        many[it.family] += it.many
    lines = []
    for family, number in many.items():
        cost = rounded(area[family] * Decimal("1.15") * per_m2, past.currency)
        lines.append((family, "", NOUGHT, cost, number))
        for stage in STAGES:
            minutes = STANDARD[family, stage] * number
            amount = rounded(minutes * rate / 60, past.currency)
            lines.append((family, stage, minutes, amount, number))
    return lines


def _account(past: Past, job: Job, plan: PlannedJob, quote: Quote) -> Account:
    """Without its sums of hours and costs, which come with the pieces."""
    refused = quote.state == Quote.State.REFUSED
    return Account(
        job=job,
        state=job.state,
        closed_on=plan.closed or plan.booked,
        quote=None if refused else quote,
        currency=past.currency,
        quoted_metal=NOUGHT if refused else quote.metal,
        quoted_labour=NOUGHT if refused else quote.labour,
        quoted_other=NOUGHT if refused else quote.other,
        quoted_net=NOUGHT if refused else quote.net,
        quoted_minutes=NOUGHT if refused else quote.minutes,
        pieces=sum(it.many for it in plan.pieces),
        remakes=sum(bool(it.spoiled) for it in plan.pieces),
        **_spent(past, plan),
    )


def _spent(past: Past, plan: PlannedJob) -> dict[str, Decimal]:
    """Sums of what `_write_job` writes, in the same roundings."""
    if not plan.closed:
        return {}
    rate, per_m2 = past.rates[plan.booked.year]
    minutes = labour = NOUGHT
    for it in plan.pieces:
        for took in (*it.minutes.values(), it.lost):
            minutes += took
            labour += rounded(took * rate / 60, past.currency)
    return {
        "minutes": minutes,
        "labour": labour,
        "metal": _metal_cost(past, plan),
        "other": _other_cost(past, plan),
    }


def _metal_cost(past: Past, plan: PlannedJob) -> Decimal:
    area = sum((it.blank * it.many for it in plan.pieces), NOUGHT)
    lost = sum((it.blank * it.many for it in plan.pieces if it.spoiled), NOUGHT)
    waste = 1 + Decimal(plan.who % 30) / 100
    per_m2 = past.rates[plan.booked.year][1]
    return rounded((area + lost) * waste * per_m2, past.currency)


def _other_cost(past: Past, plan: PlannedJob) -> Decimal:
    return rounded(Decimal(60 + plan.who % 90) * KG_IN_LB * 2, past.currency)


def _write_job(
    past: Past,
    chance: Random,
    account: Account,
    job: Job,
    plan: PlannedJob,
    quote: Quote,
    pieces: list[tuple[Piece, PlannedPiece, bool]],
) -> None:
    rows = past.rows
    _write_lines(past, plan, quote)
    last = plan.closed or plan.booked + datetime.timedelta(days=10)
    days = max((last - plan.booked).days, 3)
    rows[Event].append(
        Event(job_id=job.pk, what="booked", about=job.title, by_id=past.office.pk,
              at=_at(plan.booked, 8))
    )  # fmt: skip
    for piece, it, spoiled in pieces:
        _write_events(past, chance, job, piece, plan, days, spoiled)
        if plan.closed:
            _write_times(past, chance, job, piece, it, plan, days, spoiled)
    if not plan.closed:
        return
    rows[Event].append(
        Event(job_id=job.pk, what=job.get_state_display(), by_id=past.office.pk,
              before="open", after=job.state, at=_at(plan.closed, 17))
    )  # fmt: skip
    for part, words, amount in (
        (Cost.Part.METAL, plan.metal, account.metal),
        (Cost.Part.TRAVEL, "Diesel and parking", account.other),
    ):
        rows[Cost].append(
            Cost(job_id=job.pk, part=part, words=words, amount=amount,
                 on_day=plan.closed, by_id=past.office.pk, at=_at(plan.closed, 16))
        )  # fmt: skip
    _write_families(past, account, plan, pieces)


def _write_lines(past: Past, plan: PlannedJob, quote: Quote) -> None:
    rate, per_m2 = past.rates[plan.booked.year]
    price = past.prices[plan.booked.year]
    lines = past.rows[QuoteLine]
    for i, (family, stage, minutes, amount, many) in enumerate(_quoted(past, plan), 1):
        words = f"{family.replace('_', ' ')}: {stage or plan.metal}"
        lines.append(
            QuoteLine(
                quote_id=quote.pk,
                position=i,
                part="labour" if stage else "metal",
                family=family,
                stage=stage,
                pieces=many,
                words=words,
                quantity=minutes if stage else Decimal(many),
                unit="min" if stage else "piece",
                unit_price=rate if stage else per_m2,
                amount=amount,
                price_id=price.pk if stage else None,
                source="Invented.",
            )
        )


def _write_events(
    past: Past,
    chance: Random,
    job: Job,
    piece: Piece,
    plan: PlannedJob,
    days: int,
    spoiled: bool,
) -> None:
    """Five moves of a piece; one that was spoiled stops at cut and is scrapped."""
    moves = MOVES[:3] if spoiled else MOVES if plan.closed else MOVES[:2]
    by = past.people[chance.randrange(len(past.people))].pk
    about = str(piece)
    events = past.rows[Event]
    for i, (what, before, after) in enumerate(moves):
        day = plan.booked + datetime.timedelta(days=days * (i + 1) // 6)
        events.append(
            Event(job_id=job.pk, piece_id=piece.pk, what=what, about=about,
                  before=before, after=after, by_id=by,
                  at=_at(day, 8 + chance.randrange(8)))
        )  # fmt: skip
    if spoiled:
        day = plan.booked + datetime.timedelta(days=days // 2)
        events.append(
            Event(job_id=job.pk, piece_id=piece.pk, what="scrapped", about=about,
                  before="cut", after="scrapped",
                  reason=piece.get_scrapped_because_display(), by_id=by,
                  at=_at(day, 16))
        )  # fmt: skip


def _write_times(
    past: Past,
    chance: Random,
    job: Job,
    piece: Piece,
    it: PlannedPiece,
    plan: PlannedJob,
    days: int,
    spoiled: bool,
) -> None:
    rate, _ = past.rates[plan.booked.year]
    price = past.prices[plan.booked.year].pk
    by = past.people[chance.randrange(len(past.people))].pk
    worked = [("cutting", it.lost)] if spoiled else list(it.minutes.items())
    for i, (stage, minutes) in enumerate(worked):
        day = plan.booked + datetime.timedelta(days=days * (i + 3) // 6)
        past.rows[WorkTime].append(
            WorkTime(
                job_id=job.pk,
                piece_id=piece.pk,
                stage=stage,
                person_id=by,
                day=day,
                minutes=minutes,
                by_hand=True,
                price_id=price,
                amount=rounded(minutes * rate / 60, past.currency),
                written_by_id=by,
                written_at=_at(day, 17),
            )
        )


def _write_families(
    past: Past,
    account: Account,
    plan: PlannedJob,
    pieces: list[tuple[Piece, PlannedPiece, bool]],
) -> None:
    rate, _ = past.rates[plan.booked.year]
    parts: dict[tuple[str, str], dict[str, Any]] = {}
    for family, stage, minutes, amount, many in _quoted(past, plan):
        quoted = account.quote_id is not None
        parts[family, stage] = {
            "pieces": many,
            "quoted_minutes": minutes if quoted else NOUGHT,
            "quoted": amount if quoted else NOUGHT,
            "minutes": NOUGHT,
            "real": NOUGHT,
        }
    for piece, it, spoiled in pieces:
        worked = {"cutting": it.lost} if spoiled else it.minutes
        for stage, minutes in worked.items():
            part = parts[it.family, stage]
            part["minutes"] += minutes
            part["real"] += rounded(minutes * rate / 60, past.currency)
        if spoiled:
            past.rows[RemakeAccount].append(
                RemakeAccount(
                    account_id=account.pk,
                    piece_id=piece.pk,
                    closed_on=account.closed_on,
                    reason=it.spoiled,
                    family=it.family,
                    minutes=it.lost,
                    labour=rounded(it.lost * rate / 60, past.currency),
                )
            )
    parts["", ""] = {"real": account.metal}
    past.rows[FamilyAccount].extend(
        FamilyAccount(
            account_id=account.pk, closed_on=account.closed_on, family=family,
            stage=stage, **row,
        )
        for (family, stage), row in parts.items()
    )  # fmt: skip


def _at(day: datetime.date, hour: int) -> datetime.datetime:
    return datetime.datetime(day.year, day.month, day.day, hour, 0, tzinfo=datetime.UTC)
