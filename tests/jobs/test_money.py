"""A job's reckoning: exact decimals, each figure with where it comes from."""

from __future__ import annotations

import datetime
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

import pytest
from django.db import IntegrityError, transaction
from django.utils import timezone
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from jobs import costing, quoting
from jobs.costing import Asked, Extra, MetalNeed, Reckoning, reckon, waste_only
from jobs.models import Job, Quote, QuoteLine
from shop import prices
from shop.models import Metal
from shop.prices import NoPrice, PriceBook
from tests.priced import SINCE, price_all, work
from tests.world import make_job

pytestmark = pytest.mark.django_db

DAY = datetime.date(2026, 11, 25)
CENT = Decimal("0.01")


@pytest.fixture
def priced(owner: Any, opened: None) -> PriceBook:
    price_all(owner)
    return PriceBook.on(DAY)


def reckoned(book: PriceBook, **given: Any) -> Reckoning:
    asked = given.pop("asked", Asked())
    works = given.pop("works", [work()])
    return reckon(works, waste_only(["copper 20 oz"], Decimal(15)), asked, book)


def quote_of(job: Job, by: Any, book: PriceBook, **given: Any) -> Quote:
    asked = given.pop("asked", Asked())
    return quoting.keep(
        job, by, reckoned(book, asked=asked), asked=asked, prices_on=DAY,
        layout_number=1, **given,
    )  # fmt: skip


def test_a_small_job_by_hand(priced: PriceBook) -> None:
    made = reckoned(
        priced, asked=Asked(visits=2, people=2, extras=(Extra("Lift", Decimal(100)),))
    )
    # Copper 20 oz by its own row: 0.5 m2 x 1.15 x thickness x density, at 15 a kg.
    copper = Metal.objects.get(name="copper 20 oz")
    weight = Decimal("0.575") * copper.thickness_mm / 1000 * copper.density_kg_m3
    metal = (weight.quantize(Decimal("0.0001")) * 15).quantize(CENT, ROUND_HALF_UP)
    # Apron 30 + 30 + 40 min, measuring 60, setting up 1 x 90 x 2, travel 2 x 45 x 2.
    minutes = Decimal(100 + 60 + 180 + 180)
    costs = metal + minutes + 80 + (metal * 5 / 100).quantize(CENT, ROUND_HALF_UP) + 100
    overhead = (costs * 20 / 100).quantize(CENT, ROUND_HALF_UP)
    margin = ((costs + overhead) * 10 / 100).quantize(CENT, ROUND_HALF_UP)
    assert made.sum("metal") == metal
    assert made.minutes == minutes and made.sum("labour") == minutes
    assert made.costs == costs
    assert made.net == costs + overhead + margin
    assert made.sum("tax") == (made.net * 8 / 100).quantize(CENT, ROUND_HALF_UP)


@settings(
    max_examples=40,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(
    areas=st.lists(
        st.decimals(min_value="0.0001", max_value="20", places=4),
        min_size=1,
        max_size=6,
    ),
    number=st.integers(1, 40),
    visits=st.integers(0, 9),
)
def test_lines_add_up_whatever_is_reckoned(
    priced: PriceBook, areas: list[Decimal], number: int, visits: int
) -> None:
    works = [work(f"P{i}", blank_m2=a, pieces=number) for i, a in enumerate(areas)]
    made = reckoned(priced, works=works, asked=Asked(visits=visits))
    assert made.net + made.sum("tax") == sum(line.amount for line in made.lines)
    assert all(line.amount == line.amount.quantize(CENT) for line in made.lines)
    assert all(isinstance(line.amount, Decimal) for line in made.lines)


def test_every_figure_is_followed_to_its_source(priced: PriceBook) -> None:
    for line in reckoned(priced).lines:
        assert line.source
        assert line.price is not None and line.price.from_day == SINCE
        if line.part == "labour":
            assert line.standard is not None and line.standard.source in line.source
            shown = line.quantity * line.unit_price / 60
        elif line.unit == "percent":
            shown = line.quantity * line.unit_price / 100
        else:
            shown = line.quantity * line.unit_price
        assert line.amount == shown.quantize(CENT, ROUND_HALF_UP)


def test_a_family_without_hours_takes_those_of_any_other(priced: PriceBook) -> None:
    made = reckoned(priced, works=[work(family="finial")])
    line = next(line for line in made.lines if line.stage == "cutting")
    assert line.quantity == 30 and "as any other piece" in line.source


def test_all_that_has_no_price_is_said_at_once(opened: None) -> None:
    with pytest.raises(NoPrice) as said:
        reckoned(PriceBook.on(DAY))
    assert said.value.missing == [
        "copper 20 oz", "an hour of crew", "a visit", "consumables", "overhead",
        "margin", "tax",
    ]  # fmt: skip


def test_no_pieces_are_no_quote(priced: PriceBook) -> None:
    with pytest.raises(ValueError, match="Lay the job out first"):
        reckon([], {}, Asked(), priced)


def test_a_cut_plan_can_say_how_much_metal_it_takes(priced: PriceBook) -> None:
    need = {"copper 20 oz": MetalNeed(Decimal("1.04"), "From cut plan 3.")}
    made = costing.reckon([work()], need, Asked(), priced)
    line = made.lines[0]
    assert "From cut plan 3." in line.source
    assert line.amount < reckoned(priced).lines[0].amount


def test_a_later_price_changes_no_quote_that_is_there(
    priced: PriceBook, office: Any, owner: Any
) -> None:
    quote = quote_of(make_job(office), office, priced)
    before = quote.total
    prices.write(
        owner, kind="labour", role="crew", unit="hour", amount=Decimal(99), from_day=DAY
    )
    assert Quote.objects.get(pk=quote.pk).total == before
    again = quote_of(quote.job, office, PriceBook.on(DAY))
    assert again.total > before and again.number == 2


def test_the_same_key_keeps_one_quote(priced: PriceBook, office: Any) -> None:
    job = make_job(office)
    first = quote_of(job, office, priced, key="k")
    assert quote_of(job, office, priced, key="k") == first
    assert job.quotes.count() == 1


def test_the_database_refuses_a_quote_that_does_not_add_up(
    priced: PriceBook, office: Any
) -> None:
    quote = quote_of(make_job(office), office, priced)
    with pytest.raises(IntegrityError), transaction.atomic():
        Quote.objects.filter(pk=quote.pk).update(total=quote.total + 1)


# --- offered, accepted, refused, lapsed --------------------------------------------


def settled(quote: Quote, by: Any, state: str, **given: Any) -> Quote:
    given = {"whose_word": "Marigold Quill", "on": timezone.localdate(), **given}
    return quoting.settle(quote, by, state, **given)


def test_a_quote_runs_to_its_end_by_events(priced: PriceBook, office: Any) -> None:
    quote = quote_of(make_job(office), office, priced)
    quoting.offer(quote, office)
    quote = settled(quote, office, "accepted")
    assert quote.settled_by == "Marigold Quill"
    said = quote.job.events.order_by("pk").values_list("what", flat=True)
    assert list(said)[1:] == ["drew up a quote", "quote offered", "quote accepted"]


def test_no_sum_stands_in_the_log(priced: PriceBook, office: Any) -> None:
    quote = quote_of(make_job(office), office, priced)
    quoting.offer(quote, office)
    total = str(quote.total.quantize(CENT))
    for event in quote.job.events.all():
        assert total not in f"{event.about}{event.before}{event.after}{event.reason}"


def test_a_newer_quote_replaces_the_open_one(priced: PriceBook, office: Any) -> None:
    job = make_job(office)
    first = quoting.offer(quote_of(job, office, priced), office)
    second = quoting.offer(quote_of(job, office, priced), office)
    first.refresh_from_db()
    assert (first.state, second.state) == ("replaced", "offered")


def test_only_what_is_offered_is_accepted(priced: PriceBook, office: Any) -> None:
    quote = quote_of(make_job(office), office, priced)
    with pytest.raises(ValueError, match="is drawn up. It can't become accepted"):
        settled(quote, office, "accepted")


def test_the_word_is_somebodys_and_of_a_day_past(
    priced: PriceBook, office: Any
) -> None:
    quote = quoting.offer(quote_of(make_job(office), office, priced), office)
    with pytest.raises(ValueError, match="Whose word"):
        settled(quote, office, "accepted", whose_word=" ")
    tomorrow = timezone.localdate() + datetime.timedelta(days=1)
    with pytest.raises(ValueError, match="still to come"):
        settled(quote, office, "accepted", on=tomorrow)


def test_one_quote_of_a_job_is_accepted(priced: PriceBook, office: Any) -> None:
    job = make_job(office)
    settled(quoting.offer(quote_of(job, office, priced), office), office, "accepted")
    second = quoting.offer(quote_of(job, office, priced), office)
    with pytest.raises(ValueError, match="accepted already"):
        settled(second, office, "accepted")


def test_a_quote_lapses_the_day_after_it_held(priced: PriceBook, office: Any) -> None:
    quote = quoting.offer(quote_of(make_job(office), office, priced), office)
    assert quoting.lapse(office, quote.valid_until) == 0
    assert quoting.lapse(office, quote.valid_until + datetime.timedelta(days=1)) == 1
    quote.refresh_from_db()
    assert quote.state == "lapsed"
    assert settled(quote, office, "accepted").state == "accepted"


# --- pages -------------------------------------------------------------------------


def test_the_quote_page_shows_price_day_piece_and_standard(
    priced: PriceBook, office: Any, office_client: Any
) -> None:
    quote = quote_of(make_job(office), office, priced)
    page = office_client.get(f"/quotes/{quote.pk}/").content.decode()
    for words in ("A, Apron: copper 20 oz", "price from Mon 1 Jan 2024", "15 % waste",
                  "common practice, no source", "60.00\u00a0USD an hour"):  # fmt: skip
        assert words in page


def test_the_clients_word_is_written_on_the_page(
    priced: PriceBook, office: Any, office_client: Any
) -> None:
    quote = quoting.offer(quote_of(make_job(office), office, priced), office)
    sent = {"state": "accepted", "whose_word": "", "on": "2026-11-01"}
    address = f"/quotes/{quote.pk}/settle/"
    refused = office_client.post(address, sent)
    assert refused.status_code == 422 and "Name the person" in refused.content.decode()
    sent |= {"whose_word": "Marigold Quill", "on": timezone.localdate().isoformat()}
    assert office_client.post(address, sent).status_code == 302
    quote.refresh_from_db()
    assert quote.state == "accepted"


def test_money_is_not_for_the_crew(
    priced: PriceBook, office: Any, crew_client: Any, stranger_client: Any
) -> None:
    quote = quote_of(make_job(office), office, priced)
    assert crew_client.get(f"/quotes/{quote.pk}/").status_code == 403
    assert stranger_client.get(f"/quotes/{quote.pk}/").status_code == 302
    page = crew_client.get(f"/jobs/{quote.job_id}/").content.decode()
    assert "Quote 1" not in page.split('id="log"')[0]


def test_the_quote_page_costs_the_same_queries_however_long(
    priced: PriceBook,
    office: Any,
    office_client: Any,
    django_assert_max_num_queries: Any,
) -> None:
    job = make_job(office)
    works = [work(f"P{i}") for i in range(30)]
    made = reckoned(priced, works=works)
    quote = quoting.keep(
        job, office, made, asked=Asked(), prices_on=DAY, layout_number=1
    )
    assert QuoteLine.objects.filter(quote=quote).count() > 100
    with django_assert_max_num_queries(9):
        office_client.get(f"/quotes/{quote.pk}/")
