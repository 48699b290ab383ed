"""An invented past: right by the same sums as a real one, and quick to ask."""

from __future__ import annotations

from collections import defaultdict
from datetime import date, timedelta
from decimal import Decimal
from io import StringIO
from random import Random
from statistics import median
from typing import Any

import pytest
from django.core.management import CommandError, call_command
from django.utils import timezone

from jobs import closing
from jobs.books import crew, hours, periods
from jobs.models import Account, Event, FamilyAccount, Job, Piece, WorkTime
from jobs.past_plan import months
from tests.world import make_job

pytestmark = pytest.mark.django_db

PARTS = ("metal", "labour", "other", "minutes", "pieces", "remakes", "quote_id")
QUOTED = ("quoted_metal", "quoted_labour", "quoted_other", "quoted_net")
ROW = ("pieces", "quoted_minutes", "minutes", "quoted", "real")


def make(**given: Any) -> str:
    said = StringIO()
    call_command("make_history", years=1, pieces_a_year=300, stdout=said, **given)
    return said.getvalue()


def test_every_account_is_what_closing_reckons() -> None:
    make()
    accounts = list(Account.objects.select_related("job"))
    assert len(accounts) > 10
    assert {account.state for account in accounts} >= {"done"}
    for account in accounts:
        made = closing.reckoned(account.job)
        for name in (*PARTS, *QUOTED, "quoted_minutes", "unpriced_minutes"):
            assert getattr(made.account, name) == getattr(account, name), name
        kept = {(row.family, row.stage): row for row in account.families.all()}
        for key, row in made.families.items():
            for name in ROW:
                assert getattr(kept[key], name) == getattr(row, name), (key, name)
        remade = {row.piece_id: row for row in account.remade.all()}
        assert remade.keys() == {row.piece.pk for row in made.remakes}
        for row in made.remakes:
            assert remade[row.piece.pk].price() == row.price()


def test_the_spread_is_that_of_all_jobs_sorted_one_by_one() -> None:
    make()
    chance = Random(7)
    for row in FamilyAccount.objects.filter(minutes__gt=0):
        row.minutes += Decimal(chance.randrange(100)) / 100
        row.save()
    Account.objects.filter(pk=Account.objects.earliest("pk").pk).update(state="off")
    each: dict[tuple[str, str], list[Decimal]] = defaultdict(list)
    for row in FamilyAccount.objects.filter(account__state="done", minutes__gt=0):
        if row.family and row.stage:
            each[row.family, row.stage].append(row.minutes / row.pieces)
    found = hours.by_family(periods.period("all", timezone.localdate()), {})
    assert len(found) == len(each) > 10
    for it in found:
        took = sorted(each[it.family, it.stage])
        many = len(took)
        assert it.jobs == many > 10
        near = {"abs": 0.0051}  # shown to a hundredth
        assert float(it.median) == pytest.approx(float(median(took)), **near)
        # Nearest rank: the least value with at least that share at or below it.
        for share, figure in ((0.25, it.low), (0.75, it.high)):
            value = next(v for i, v in enumerate(took, 1) if i >= share * many)
            assert float(figure) == pytest.approx(float(value), **near)


@pytest.mark.parametrize("years", ["1", "all"])
def test_people_are_summed_as_by_hand(years: str) -> None:
    make()
    times = WorkTime.objects.order_by("pk")
    # Some twice on a piece, some struck out, some long ago, some on no one piece.
    for row in times[:200:7]:
        row.pk, row.minutes = None, row.minutes + Decimal("1.17")
        row.save()
    slip = times.filter(pk__in=[row.pk for row in times[::11]])
    slip.update(struck_out=True, struck_because="A slip")
    old = times.filter(pk__in=[row.pk for row in times[::13]])
    old.update(day=timezone.localdate() - timedelta(days=900))
    times.filter(pk__in=[row.pk for row in times[::17]]).update(piece=None)
    period = periods.period(years, timezone.localdate())
    spent: dict[tuple[str, ...], Decimal] = defaultdict(Decimal)
    made: dict[tuple[str, ...], set[tuple[int, int]]] = defaultdict(set)
    for row in times.select_related("piece", "person"):
        if row.struck_out or row.piece is None:
            continue
        if period.since and row.day < period.since:
            continue
        for who in (str(row.person), ""):
            key = who, row.piece.family, row.stage
            spent[key] += row.minutes
            made[key].add((row.piece_id, row.person_id))
    found = crew.by_person(period)
    assert len(found) == len({who for who, *_ in spent if who}) > 3
    for it in found:
        own = [key for key in spent if key[0] == it.person]
        assert it.minutes == sum(spent[key] for key in own)
        assert it.marks == sum(len(made[key]) for key in own)
        usual = sum(
            spent["", *key[1:]] / len(made["", *key[1:]]) * len(made[key])
            for key in own
        )
        assert float(it.against) == pytest.approx(float(it.minutes / usual))


def test_the_events_of_a_piece_end_where_it_stands() -> None:
    make()
    pieces = Piece.objects.filter(scrapped=False)
    for piece in pieces.prefetch_related("events")[:60]:
        last = max(piece.events.all(), key=lambda event: event.pk)
        assert last.after == piece.state
    assert Event.objects.count() > 4 * Piece.objects.count()
    assert WorkTime.objects.count() > 2 * Piece.objects.count()
    assert not FamilyAccount.objects.filter(minutes__lt=0).exists()


def test_the_same_seed_makes_the_same_past() -> None:
    until = date(2026, 11, 25)
    first = [list(month) for month in months(Random(3), 2, 400, until)]
    assert first == [list(month) for month in months(Random(3), 2, 400, until)]
    assert first != [list(month) for month in months(Random(4), 2, 400, until)]


def test_years_hold_the_pieces_asked_for_and_nothing_still_to_come() -> None:
    until = date(2026, 2, 28)
    planned = [job for month in months(Random(1), 20, 15000, until) for job in month]
    assert sum(len(job.pieces) for job in planned) == pytest.approx(300_000, rel=0.01)
    assert min(job.booked for job in planned).year == 2006
    assert max(job.booked for job in planned) < until
    assert all(job.closed is None or job.closed < until for job in planned)
    still_open = [job for job in planned if job.closed is None]
    assert min(job.booked for job in still_open) > until - timedelta(days=60)


def test_a_shop_with_jobs_gets_no_invented_past(office: Any) -> None:
    make_job(office)
    with pytest.raises(CommandError, match="jobs of its own"):
        make()
    assert Job.objects.count() == 1


@pytest.mark.parametrize("given", [{"years": 0}, {"years": 99}, {"pieces_a_year": 1}])
def test_a_past_that_makes_no_sense_is_refused(given: dict[str, int]) -> None:
    with pytest.raises(CommandError, match="Give"):
        call_command("make_history", **{"years": 1, "pieces_a_year": 300, **given})
