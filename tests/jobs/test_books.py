"""The owner's books: right when empty, on one job, and on more than one can read."""

from __future__ import annotations

import csv
import datetime
import io
import statistics
from decimal import Decimal
from typing import Any
from xml.etree import ElementTree as ET

import pytest
from django.core.management import call_command
from django.utils import timezone

from jobs import booking, clock, closing, costing, progress, quoting, spending
from jobs.books import (
    charts,
    crew,
    history,
    hours,
    learning,
    metal,
    pages,
    periods,
    quoted,
    remakes,
)
from jobs.books.tables import Table, count, minutes, money, share, word
from jobs.costing import Asked
from jobs.models import Account, FamilyAccount, Job
from shop import prices, rack
from shop.models import Metal, RackEvent, ShopProfile, StandardHours
from shop.prices import PriceBook
from tests.priced import price_all, work
from tests.world import make_job, make_piece

pytestmark = pytest.mark.django_db

TODAY = timezone.localdate()
YESTERDAY = TODAY - datetime.timedelta(days=1)
YEARS = periods.period("all", TODAY)
PAGES = ("", "quoted/", "hours/", "metal/", "remakes/", "crew/", "standards/")


@pytest.fixture
def book(owner: Any, opened: None) -> PriceBook:
    price_all(owner)
    return PriceBook.on(YESTERDAY)


def closed_job(by: Any, book: PriceBook, **given: int) -> Job:
    """A job of one apron, handed over. given: minutes at each stage"""
    job = make_job(by)
    waste = costing.waste_only(["copper 20 oz"], Decimal(15))
    made = costing.reckon([work("A")], waste, Asked(), book)
    quote = quoting.keep(
        job, by, made, asked=Asked(), prices_on=YESTERDAY, layout_number=1
    )
    quoting.offer(quote, by)
    quoting.settle(quote, by, "accepted", "Marigold Quill", YESTERDAY)
    piece = make_piece(job, mark="A", family="apron")
    for stage, took in given.items():
        clock.write(
            by, person=by, job=job, piece=piece, stage=stage, day=YESTERDAY,
            minutes=Decimal(took), because="Timed for a test.",
        )  # fmt: skip
    booking.close(job, by, "done", "")
    return job


def times(by: Any, book: PriceBook, *took: int) -> None:
    """Jobs whose apron took so long to cut, as their accounts keep it."""
    for each in took:
        job = closed_job(by, book)
        FamilyAccount.objects.filter(
            account__job=job, family="apron", stage="cutting"
        ).update(minutes=each)


# --- questions ---------------------------------------------------------------------


def test_nothing_is_asked_of_an_empty_shop() -> None:
    assert quoted.spans(YEARS) == []
    assert hours.by_family(YEARS, {}) == []
    assert remakes.by_reason(YEARS) == []
    assert metal.by_metal(YEARS) == []
    assert crew.by_person(YEARS) == []
    assert list(history.found(history.Filter())) == []


def test_one_job_is_its_own_median(book: PriceBook, office: Any) -> None:
    closed_job(office, book, cutting=42)
    (row,) = hours.by_family(YEARS, {("apron", "cutting"): Decimal(30)})
    assert (row.low, row.median, row.high, row.jobs) == (42, 42, 42, 1)
    assert row.ratio == Decimal("1.4")
    (span,) = quoted.spans(YEARS)
    account = Account.objects.get()
    assert (span.jobs, span.quoted, span.real) == (1, account.quoted(), account.real())


@pytest.mark.parametrize(
    "took",
    [
        (10, 20),
        (10, 20, 30),
        (40, 10, 30, 20),
        (7, 3, 5, 11, 2),
        (9, 9, 9, 1, 2, 3, 4),
        tuple(range(1, 14)),
    ],
)
def test_median_and_quartiles_are_the_textbooks(
    took: tuple[int, ...], book: PriceBook, office: Any
) -> None:
    times(office, book, *took)
    (row,) = hours.by_family(YEARS, {})
    # Python's own median; quartiles by nearest rank, the definition in any textbook.
    assert row.median == Decimal(str(statistics.median(took)))
    ordered = sorted(took)
    assert row.low == ordered[-(-len(took) // 4) - 1]
    assert row.high == ordered[-(-3 * len(took) // 4) - 1]
    assert (row.jobs, row.pieces) == (len(took), len(took))


def test_minutes_are_of_one_piece_not_whole_numbers_cut_short(
    book: PriceBook, office: Any
) -> None:
    times(office, book, 31)
    FamilyAccount.objects.filter(stage="cutting").update(pieces=4)
    (row,) = hours.by_family(YEARS, {})
    assert row.median == Decimal("7.75")


def test_jobs_called_off_and_outside_the_time_are_left_out(
    book: PriceBook, office: Any
) -> None:
    closed_job(office, book, cutting=42)
    gone = closed_job(office, book, cutting=99)
    Account.objects.filter(job=gone).update(state="off")
    old = closed_job(office, book, cutting=77)
    long_ago = TODAY - datetime.timedelta(days=800)
    Account.objects.filter(job=old).update(closed_on=long_ago)
    FamilyAccount.objects.filter(account__job=old).update(closed_on=long_ago)
    (row,) = hours.by_family(periods.period("1", TODAY), {})
    assert (row.jobs, row.median) == (1, 42)
    assert quoted.spans(periods.period("1", TODAY))[0].jobs == 1
    assert hours.by_family(YEARS, {})[0].jobs == 2


def test_a_long_time_is_told_by_the_year(book: PriceBook, office: Any) -> None:
    closed_job(office, book)
    assert quoted.spans(YEARS)[0].label == f"{TODAY:%Y}"
    assert quoted.spans(periods.period("1", TODAY))[0].label == f"{TODAY:%b %Y}"


def test_remakes_are_summed_by_reason(book: PriceBook, office: Any) -> None:
    job = make_job(office)
    piece = make_piece(job, mark="A", family="apron")
    clock.write(
        office, person=office, job=job, piece=piece, stage="cutting", day=YESTERDAY,
        minutes=Decimal(30),
    )  # fmt: skip
    spending.write(
        job, office, part="metal", words="Copper", amount=Decimal(40),
        on_day=YESTERDAY, piece=piece,
    )  # fmt: skip
    progress.scrap(piece, office, "bent_wrong", "")
    assert remakes.by_reason(YEARS) == []
    booking.close(job, office, "done", "")
    (row,) = remakes.by_reason(YEARS)
    assert (row.words, row.pieces, row.minutes) == ("bent wrong", 1, 30)
    assert row.price == 25 + 40  # an hour of the office is 50


def test_by_person_is_against_the_whole_crew(
    book: PriceBook, office: Any, crew_and_owner: Any
) -> None:
    one, two = crew_and_owner
    for person, took in ((one, 20), (two, 40)):
        piece = make_piece(make_job(office), family="apron")
        clock.write(
            person, person=person, job=piece.job, piece=piece, stage="cutting",
            day=YESTERDAY, minutes=Decimal(took),
        )  # fmt: skip
    rows = {row.person: row for row in crew.by_person(YEARS)}
    assert rows[str(one)].against == Decimal(20) / 30
    assert rows[str(two)].against == Decimal(40) / 30


@pytest.fixture
def crew_and_owner(crew: Any, owner: Any) -> tuple[Any, Any]:
    return crew, owner


def test_metal_is_read_from_the_rack(owner: Any, opened: None) -> None:
    copper = Metal.objects.get(name="copper 20 oz")
    size = {"metal": copper, "width": Decimal(1000), "length": Decimal(2000)}
    sheet, other = (
        rack.take_in(rack.New(form="sheet", paid=Decimal(paid), **size), owner)[0]
        for paid in (300, 310)
    )
    rack.cut(sheet, owner)
    small = {**size, "length": Decimal(500)}
    rack.take_in(rack.New(form="offcut", **small), owner, cut_from=sheet)
    rack.sell(other, owner, "Bent in the van", money=Decimal(45))
    (found,) = metal.by_metal(YEARS)
    assert (found.name, found.bought, found.paid) == ("copper 20 oz", 4, 610)
    assert (found.used, found.kept) == (Decimal("1.5"), Decimal("0.5"))
    assert (found.scrapped, found.sold_for) == (2, 45)


@pytest.mark.parametrize("zone", ["UTC", "Pacific/Auckland", "America/Los_Angeles"])
def test_metal_is_told_by_the_shops_own_days(
    zone: str, owner: Any, opened: None
) -> None:
    copper = Metal.objects.get(name="copper 20 oz")
    size = {"metal": copper, "width": Decimal(1000), "length": Decimal(2000)}
    rack.take_in(rack.New(form="sheet", **size), owner)
    with timezone.override(zone):
        # Days on which no zone's clock changes.
        first, last = datetime.date(2026, 5, 4), datetime.date(2026, 5, 6)
        period = periods.Period("1", "some days", first, last)
        here = timezone.get_current_timezone()
        midnight = datetime.datetime(first.year, first.month, first.day, tzinfo=here)
        last_moment = midnight + datetime.timedelta(hours=71, minutes=59)
        for at, bought in (
            (midnight - datetime.timedelta(seconds=1), 0),
            (midnight, 2),
            (last_moment, 2),
            (last_moment + datetime.timedelta(minutes=1), 0),
        ):
            RackEvent.objects.update(at=at)
            assert sum(row.bought for row in metal.by_metal(period)) == bought


# --- standards learn ---------------------------------------------------------------


def test_too_few_jobs_offer_nothing(book: PriceBook, office: Any) -> None:
    times(office, book, 50, 50, 50, 50)
    assert learning.offers(YEARS) == []
    times(office, book, 50)
    (offer,) = learning.offers(YEARS)
    assert (offer.slug, offer.minutes, offer.standard.minutes) == (
        "apron.cutting", 50, 30,
    )  # fmt: skip


def test_a_standard_near_the_median_is_left_alone(book: PriceBook, office: Any) -> None:
    times(office, book, 31, 31, 31, 31, 31)
    assert learning.offers(YEARS) == []


def test_an_offer_is_taken_only_by_the_owners_word(
    book: PriceBook, office: Any, owner_client: Any, office_client: Any
) -> None:
    times(office, book, 44, 50, 52, 49, 61)
    before = StandardHours.objects.count()
    page = owner_client.get("/books/standards/?years=all").content.decode()
    assert "Take 50 min" in page and "Median of 5 jobs, 5 pieces" in page
    assert "lie between 49.00 and 52.00 min" in page
    assert StandardHours.objects.count() == before
    sent = {"slug": "apron.cutting"}
    assert office_client.post("/books/standards/", sent).status_code == 403
    assert owner_client.post("/books/standards/?years=all", sent).status_code == 302
    row = PriceBook.on(TODAY).standard("apron", "cutting")
    assert row.minutes == 50 and row.set_by is not None
    assert "Median of 5 jobs" in row.source
    # Kept beside the one before it, and no longer offered.
    assert PriceBook.on(YESTERDAY).standard("apron", "cutting").minutes == 30
    again = owner_client.post("/books/standards/?years=all", sent, follow=True)
    assert "no longer offered" in again.content.decode()


# --- history -----------------------------------------------------------------------


def test_the_history_is_searched_and_filtered(book: PriceBook, office: Any) -> None:
    dear = closed_job(office, book, cutting=1200)
    cheap = closed_job(office, book, cutting=1)
    still = make_job(office, title="Skylight, west")
    make_piece(still, family="wall")

    def numbers(**given: Any) -> list[int]:
        return [job.number for job in history.found(history.Filter(**given))]

    assert numbers() == [still.number, cheap.number, dear.number]
    assert numbers(words="skylight") == [still.number]
    assert numbers(state="open") == [still.number]
    assert numbers(over=Decimal("0.25")) == [dear.number]
    assert numbers(family="wall") == [still.number]
    assert numbers(until=TODAY) == [cheap.number, dear.number]
    assert numbers(since=TODAY + datetime.timedelta(days=1)) == []
    assert numbers(remade=True) == []


def test_a_faulty_filter_is_told(owner_client: Any) -> None:
    page = owner_client.get("/books/?since=2026-05-01&until=2026-01-01")
    assert "before the first day" in page.content.decode()
    page = owner_client.get("/books/?since=1/2/2026&state=x").content.decode()
    assert "not a day we can read for sure" in page


# --- pages -------------------------------------------------------------------------


@pytest.mark.parametrize("page", PAGES)
def test_the_books_are_the_owners(
    page: str, owner_client: Any, office_client: Any, crew_client: Any,
    stranger_client: Any,
) -> None:  # fmt: skip
    address = f"/books/{page}"
    assert owner_client.get(address).status_code == 200
    assert office_client.get(address).status_code == 403
    assert crew_client.get(address).status_code == 403
    assert stranger_client.get(address).status_code == 302
    assert owner_client.put(address).status_code == 405


@pytest.mark.parametrize("page", PAGES)
def test_an_empty_shop_is_told_so(page: str, owner_client: Any) -> None:
    said = owner_client.get(f"/books/{page}").content.decode()
    assert "None found." in said or "Nothing" in said
    assert "<svg" not in said


def test_only_the_owner_sees_the_word_books(
    owner_client: Any, office_client: Any
) -> None:
    assert 'href="/books/"' in owner_client.get("/jobs/").content.decode()
    assert 'href="/books/"' not in office_client.get("/jobs/").content.decode()


def test_people_are_shown_only_where_it_is_switched_on(
    book: PriceBook, office: Any, owner_client: Any
) -> None:
    closed_job(office, book, cutting=42)
    assert "switched off" in owner_client.get("/books/crew/").content.decode()
    assert b"Wren" not in owner_client.get("/books/crew/?as=csv&of=people").content
    ShopProfile.objects.update(books_by_person=True)
    assert "Wren" in owner_client.get("/books/crew/").content.decode()
    assert b"Wren" in owner_client.get("/books/crew/?as=csv&of=people").content


def test_the_picture_comes_first_and_says_the_same(
    book: PriceBook, office: Any, owner_client: Any
) -> None:
    closed_job(office, book, cutting=42, bending=30)
    for page in ("quoted/", "hours/", "crew/"):
        said = owner_client.get(f"/books/{page}").content.decode()
        assert said.index("<svg") < said.index("<table")
        assert "style=" not in said.split("<svg")[1].split("</svg>")[0]


@pytest.mark.parametrize("page", PAGES[1:6])
def test_each_table_is_a_csv(
    page: str, book: PriceBook, office: Any, owner_client: Any
) -> None:
    closed_job(office, book, cutting=42)
    answer = owner_client.get(f"/books/{page}?years=all&as=csv")
    assert answer["Content-Type"].startswith("text/csv")
    rows = list(csv.reader(io.StringIO(answer.content.decode("utf-8-sig"))))
    assert all(len(row) == len(rows[0]) for row in rows)
    if page == "hours/":
        assert rows[1][:2] == ["apron", "cutting"]
        assert rows[1][rows[0].index("median_min")] == "42.00"


def test_the_history_csv_has_every_page_and_no_formula(
    office: Any, owner_client: Any
) -> None:
    for number in range(60):
        make_job(office, title=f"=SUM({number})")
    answer = owner_client.get("/books/?as=csv")
    text = b"".join(answer.streaming_content).decode("utf-8-sig")
    rows = list(csv.reader(io.StringIO(text)))
    assert len(rows) == 61
    assert all(row[1].startswith("'=SUM") for row in rows[1:])


@pytest.mark.parametrize("page", [*PAGES, "crew/?years=all", "?words=chimney"])
def test_each_page_costs_the_same_queries_on_many_jobs(
    page: str, owner: Any, owner_client: Any, django_assert_max_num_queries: Any
) -> None:
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    ShopProfile.objects.update_or_create(pk=1, defaults={"books_by_person": True})

    def cost() -> int:
        with CaptureQueriesContext(connection) as spent:
            assert owner_client.get(f"/books/{page}").status_code == 200
        return len(spent)

    call_command("make_history", years=1, pieces_a_year=150, verbosity=0)
    few = cost()
    Job.objects.update(title="Chimney")
    jobs = list(Job.objects.filter(account__isnull=False))
    for job in jobs:
        booking.open_again(job, owner, "Again")
        booking.close(job, owner, "done", "")
    with django_assert_max_num_queries(16):
        many = cost()
    assert many == few


# --- charts and tables -------------------------------------------------------------


def test_a_chart_is_sound_svg_with_every_word_escaped() -> None:
    rows = [charts.Pair("<b>&", 3, -2), charts.Pair("Feb", 0, 7)]
    svg = ET.fromstring(charts.pairs("A & <b>", rows, ("quoted", "real"), "USD"))
    assert svg.attrib["role"] == "img" and "A & <b>" in svg.attrib["aria-label"]
    assert "<b>&" in [text.text for text in svg.iter("text")]


def test_bars_stand_on_nought_and_are_as_long_as_their_amounts() -> None:
    rows = [charts.Pair("a", 100, 50), charts.Pair("b", 0, -50)]
    svg = ET.fromstring(charts.pairs("T", rows, ("q", "r"), "USD"))
    first, second, nothing, below, *_ = (
        float(rect.attrib["height"]) for rect in svg.iter("rect")
    )
    assert first == pytest.approx(2 * second, abs=0.11)
    assert nothing == 0 and below == pytest.approx(second, abs=0.11)


def test_a_spread_shows_low_middle_high_and_its_mark_in_order() -> None:
    row = charts.Spread("apron, cutting", 20, 30, 45, 60)
    svg = ET.fromstring(charts.spreads("T", [row], "standard", "minutes"))
    band = next(r for r in svg.iter("rect") if r.attrib["class"] == "chart__band")
    middle = next(n for n in svg.iter("line") if n.attrib["class"] == "chart__middle")
    mark = next(svg.iter("polygon"))
    left = float(band.attrib["x"])
    right = left + float(band.attrib["width"])
    at_mark = float(mark.attrib["points"].split()[0].split(",")[0])
    assert left < float(middle.attrib["x1"]) < right < at_mark
    assert (right - left) / (at_mark - left) == pytest.approx(25 / 40, abs=0.01)


@pytest.mark.parametrize("amounts", [(0.0,), (1e-6,), (1e9, 3.0), ()])
def test_charts_of_odd_amounts_are_still_drawn(amounts: tuple[float, ...]) -> None:
    pairs = [charts.Pair(str(i), it, it) for i, it in enumerate(amounts)]
    for svg in (
        charts.pairs("T", pairs, ("a", "b"), "USD"),
        charts.bars("T", [charts.Bar("x", it, "w") for it in amounts], "USD"),
        charts.spreads(
            "T", [charts.Spread("x", it, it, it, None) for it in amounts], "m", "min"
        ),
    ):
        for node in ET.fromstring(svg).iter():
            assert "nan" not in str(node.attrib) and "inf" not in str(node.attrib)


def test_cells_show_their_unit_and_keep_the_plain_figure() -> None:
    assert money(Decimal("1234.5"), "USD").shown == "1\u00a0234.50\u00a0USD"
    assert minutes(Decimal("95")).shown == "1 h 35 min"
    assert share(Decimal("-0.1234")).shown == "−12.3\u00a0%"
    table = Table([("A", "a"), ("B", "b")])
    table.add(word("@x"), count(1234))
    assert table.as_csv() == "a,b\r\n'@x,1234\r\n"
    with pytest.raises(ValueError, match="1 cells under 2 heads"):
        table.add(word("x"))


def test_all_hours_lie_in_the_chart_or_the_table(
    book: PriceBook, office: Any, owner: Any
) -> None:
    closed_job(office, book, cutting=42)
    rows = hours.by_family(YEARS, {})
    _, table = pages.of_hours(rows)
    assert len(table.rows) == len(rows) == 1
    prices.write_hours(
        owner, family="apron", stage="cutting", minutes=Decimal(0),
        from_day=TODAY, source="nought",
    )  # fmt: skip
    (row,) = hours.by_family(YEARS, {("apron", "cutting"): Decimal(0)})
    assert row.ratio is None and crew.fastest_first([row]) == []
    assert closing.basis(Job.objects.get()) is not None
