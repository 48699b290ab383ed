"""Offered quotes lapse by themselves the day after the last one they hold, once."""

from __future__ import annotations

import datetime
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from django.utils import timezone

from jobs import costing, quoting
from jobs.costing import Asked
from jobs.models import Job, Quote
from jobs.tasks import lapse_quotes
from shop import errands, tasks
from shop.models import ShopProfile
from shop.prices import PriceBook
from tests.premises import premises, wait_for
from tests.priced import price_all, work
from tests.world import make_job

LAST = datetime.date(2026, 12, 24)
ONE_DAY = datetime.timedelta(days=1)


@pytest.fixture
def quote(owner: Any, office: Any, opened: None) -> Quote:
    """An offered quote that holds until LAST."""
    price_all(owner)
    return offered(make_job(office), office)


def drawn_up(job: Job, by: Any) -> Quote:
    waste = costing.waste_only(["copper 20 oz"], Decimal(15))
    today = timezone.localdate()
    made = costing.reckon([work()], waste, Asked(), PriceBook.on(today))
    return quoting.keep(job, by, made, asked=Asked(), prices_on=today, layout_number=1)


def offered(job: Job, by: Any) -> Quote:
    quote = quoting.offer(drawn_up(job, by), by)
    Quote.objects.filter(pk=quote.pk).update(valid_until=LAST)
    quote.refresh_from_db()
    return quote


@pytest.fixture
def at(monkeypatch: pytest.MonkeyPatch) -> Any:
    """Puts the clock of the world at a moment of UTC."""

    def put(day: datetime.date, hour: int = 12) -> None:
        moment = datetime.datetime.combine(day, datetime.time(hour), datetime.UTC)
        monkeypatch.setattr(timezone, "now", lambda: moment)

    return put


def lapses(quote: Quote) -> int:
    return quote.job.events.filter(what="quote lapsed").count()


def state(quote: Quote) -> str:
    quote.refresh_from_db()
    return quote.state


@pytest.mark.django_db
def test_it_lapses_the_day_after_and_not_on_its_day(quote: Quote, at: Any) -> None:
    at(LAST)
    assert lapse_quotes() == 0 and state(quote) == "offered"
    at(LAST + ONE_DAY)
    assert lapse_quotes() == 1 and state(quote) == "lapsed"


@pytest.mark.django_db
def test_twice_is_once(quote: Quote, at: Any) -> None:
    at(LAST + ONE_DAY)
    assert (lapse_quotes(), lapse_quotes()) == (1, 0)
    assert lapses(quote) == 1


@pytest.mark.django_db
def test_the_event_says_why_and_names_nobody(
    quote: Quote, at: Any, office_client: Any
) -> None:
    at(LAST + ONE_DAY)
    lapse_quotes()
    event = quote.job.events.get(what="quote lapsed")
    assert event.by is None and event.reason == "It held until Thu 24 Dec 2026"
    page = office_client.get(f"/jobs/{quote.job_id}/log/").content.decode()
    assert "<strong>Seambook</strong> quote lapsed: Quote 1" in page
    told = office_client.get("/api/v1/events/", {"job": quote.job_id}).json()
    assert told["results"][0]["who"] == "Seambook"


@pytest.mark.django_db
def test_the_day_ends_by_the_clock_of_the_shop(quote: Quote, at: Any) -> None:
    ShopProfile.objects.update(time_zone="America/Los_Angeles")
    at(LAST + ONE_DAY, hour=6)  # still ten in the evening of the last day there
    assert lapse_quotes() == 0
    at(LAST + ONE_DAY, hour=9)
    assert lapse_quotes() == 1


@pytest.mark.django_db
@pytest.mark.parametrize("word", ["accepted", "refused"])
def test_what_the_client_answered_never_lapses(
    word: str, quote: Quote, office: Any, at: Any
) -> None:
    quoting.settle(quote, office, word, "Marigold Quill", timezone.localdate())
    at(LAST + 400 * ONE_DAY)
    assert lapse_quotes() == 0 and state(quote) == word


@pytest.mark.django_db
@pytest.mark.parametrize("word", ["accepted", "refused"])
def test_a_word_given_in_time_is_written_down_late(
    word: str, quote: Quote, office: Any, at: Any
) -> None:
    at(LAST + ONE_DAY)
    lapse_quotes()
    quoting.settle(quote, office, word, "Marigold Quill", LAST)
    assert state(quote) == word and quote.settled_on == LAST


@pytest.mark.django_db
def test_what_was_never_offered_stays_and_is_not_offered_late(
    quote: Quote, office: Any, at: Any
) -> None:
    later = drawn_up(quote.job, office)
    Quote.objects.filter(pk=later.pk).update(valid_until=LAST)
    at(LAST + ONE_DAY)
    lapse_quotes()
    assert (state(quote), state(later)) == ("lapsed", "drawn_up")
    with pytest.raises(ValueError, match="held until Thu 24 Dec 2026. Draw up a new"):
        quoting.offer(later, office)


@pytest.mark.django_db
def test_a_sweep_with_nothing_to_do_is_two_questions(
    quote: Quote, at: Any, django_assert_num_queries: Any
) -> None:
    at(LAST)
    with django_assert_num_queries(2):
        lapse_quotes()


@pytest.mark.django_db
def test_the_sweep_of_every_worker_sees_to_it(quote: Quote, at: Any) -> None:
    at(LAST + ONE_DAY)
    tasks.sweep()
    assert state(quote) == "lapsed" and lapses(quote) == 1


@pytest.mark.django_db
def test_a_chore_that_fails_stops_no_other(
    quote: Quote, at: Any, monkeypatch: pytest.MonkeyPatch, caplog: Any
) -> None:
    def torn() -> None:
        raise OSError("torn")

    monkeypatch.setattr(errands, "CHORES", [torn, *errands.CHORES])
    at(LAST + ONE_DAY)
    tasks.sweep()
    assert state(quote) == "lapsed"
    assert "The sweep failed at torn" in caplog.text


MADE = """
import datetime
from django.utils import timezone
from jobs import booking
from jobs.models import Client, Quote
from shop.models import Person
by = Person.objects.create_user("wren", password="a long word", role="office")
client = Client.objects.create(name="Marigold Quill")
day = timezone.localdate() - datetime.timedelta(days=1)
for n in range(20):
    job = booking.book(by, client=client, title="Chimney")
    Quote.objects.create(
        job=job, number=1, state="offered", currency="USD", prices_on=day,
        valid_until=day, metal=1, labour=0, other=0, overhead=0, margin=0, net=1,
        tax=0, total=1, minutes=0, made_by=by,
    )
"""
LAPSED = (
    "from jobs.models import Event\n"
    "print(Event.objects.filter(what='quote lapsed', by=None).count())"
)


@pytest.mark.servers
def test_two_real_workers_lapse_each_quote_once(tmp_path: Path) -> None:
    with premises(tmp_path) as place:
        place.python(MADE)
        for name in ("one@here", "two@here"):
            place.worker("-n", name)
        wait_for(lambda: place.python(LAPSED) not in ("", "0"))
        wait_for(
            lambda: (
                place.python(
                    "from jobs.models import Quote\n"
                    "print(Quote.objects.filter(state='offered').count())"
                )
                == "0"
            )
        )
        assert place.python(LAPSED) == "20"
