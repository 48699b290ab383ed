from __future__ import annotations

import csv
import datetime
from decimal import Decimal
from typing import Any

import pypdfium2 as pdfium
import pytest
from django.db import DEFAULT_DB_ALIAS
from django.utils import timezone

from jobs.models import Piece
from layout import plans, plans_cutting, plans_order
from layout.laying import lay_out_job
from layout.models import CutPlan, PlannedBlank, PlanStock
from layout.plans_reading import Refused
from shop import rack, rack_reading
from shop.models import Price, RackItem
from shop.money import rounded, show_money
from shop.prices import PriceBook
from tests.layout.measured import take
from tests.layout.planned import (
    accepted,
    carried,
    laid_job,
    priced,
    ready,
    stocked,
)
from tests.shop.racked import INCH, metal, put

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("opened")]


@pytest.fixture
def plan(office: Any) -> CutPlan:
    priced(office)
    stocked(office, 3)
    return accepted(laid_job(office), office)


def first(plan: CutPlan) -> PlanStock:
    return plan.stocks.select_related("item", "plan").order_by("position")[0]


def cut_all(plan: CutPlan, by: Any) -> None:
    for stock in plan.stocks.order_by("position"):
        plans_cutting.make_cuts(stock, by, 0, None)


def test_the_first_cut_takes_the_stock_off_the_rack(plan: CutPlan, crew: Any) -> None:
    stock = plans_cutting.make_cuts(first(plan), crew, seen=0)
    assert stock.cuts_done == 1
    stock.item.refresh_from_db()
    assert stock.item.state == "used"
    event = stock.item.events.first()
    assert (event.what, event.by) == ("cut", crew)
    assert plan.events.first().what == "made cut 1"


def test_a_piece_advances_with_its_last_copy(plan: CutPlan, crew: Any) -> None:
    for stock in plan.stocks.order_by("position"):
        for seen in range(len(stock.cuts)):
            stock = plans_cutting.make_cuts(stock, crew, seen)
            for piece in Piece.objects.filter(job__in=plan.jobs.all()):
                done = PlannedBlank.objects.filter(piece=piece, cut=True).count()
                wanted = "cut" if done == piece.quantity else "laid_out"
                assert piece.state == wanted, piece
    plan.refresh_from_db()
    assert plan.state == "done"
    assert set(Piece.objects.values_list("state", flat=True)) == {"cut"}


def test_offcuts_go_on_the_rack_with_their_share_of_what_was_paid(
    plan: CutPlan, crew: Any
) -> None:
    cut_all(plan, crew)
    kept = [it for stock in plan.stocks.all() for it in stock.offcuts.all()]
    assert kept
    for it in kept:
        item = it.item
        assert (item.form, item.state) == ("offcut", "free")
        assert item.cut_from == it.stock.item
        share = item.width_mm * item.length_mm / (36 * INCH * 120 * INCH)
        assert item.paid == (Decimal("212.40") * share).quantize(Decimal("0.01"))


def test_the_rack_is_still_read_from_its_events(plan: CutPlan, crew: Any) -> None:
    cut_all(plan, crew)
    for item in RackItem.objects.all():
        events = item.events.order_by("pk")
        assert rack_reading.read(events) == rack_reading.standing_of(item)


def test_who_comes_second_is_told(plan: CutPlan, crew: Any) -> None:
    stock = first(plan)
    plans_cutting.make_cuts(stock, crew, seen=0)
    with pytest.raises(Refused, match="1 cuts of R. are made now"):
        plans_cutting.make_cuts(stock, crew, seen=0)


def test_a_second_tap_cuts_nothing_more(plan: CutPlan, crew: Any) -> None:
    for _ in range(2):
        stock = plans_cutting.make_cuts(first(plan), crew, 0, key="tap")
    assert stock.cuts_done == 1


def test_only_an_accepted_plan_is_cut(office: Any) -> None:
    priced(office)
    stocked(office)
    plan = ready(laid_job(office), office)
    with pytest.raises(Refused, match="Only an accepted plan"):
        plans_cutting.make_cuts(first(plan), office, 0)


def test_a_piece_laid_out_again_is_not_cut_from_the_old_plan(
    plan: CutPlan, office: Any
) -> None:
    job = plan.jobs.get()
    take(job.sites.get(), "walls.upstand_side", "6 1/2", office)
    lay_out_job(job, office)
    with pytest.raises(Refused, match="laid out again after this plan"):
        plans_cutting.make_cuts(first(plan), office, 0, None)
    assert first(plan).item.state == "reserved"


def test_a_cut_is_taken_back_with_all_that_followed(plan: CutPlan, crew: Any) -> None:
    stock = first(plan)
    last = len(stock.cuts)
    plans_cutting.make_cuts(stock, crew, 0, None)
    for done in range(last, 0, -1):
        stock = plans_cutting.take_back(stock, crew, "tapped with a glove")
        assert stock.cuts_done == done - 1
    assert not PlannedBlank.objects.filter(cut=True).exists()
    assert not Piece.objects.filter(state="cut").exists()
    item = RackItem.objects.get(pk=stock.item_id)
    assert item.state == "reserved"
    assert item.claims.get(open=True).holder == plan.holder
    assert not RackItem.objects.filter(form="offcut", state="free").exists()
    plans_cutting.make_cuts(stock, crew, 0, None)


def test_taking_back_needs_a_reason(plan: CutPlan, crew: Any) -> None:
    plans_cutting.make_cuts(first(plan), crew, 0)
    with pytest.raises(Refused, match="Reason"):
        plans_cutting.take_back(first(plan), crew, "  ")


def test_damage_keeps_what_is_cut_and_plans_the_rest(plan: CutPlan, crew: Any) -> None:
    stock = first(plan)
    half = len(stock.cuts) // 2
    plans_cutting.make_cuts(stock, crew, 0, half)
    was_cut = set(PlannedBlank.objects.filter(cut=True).values_list("piece", "copy"))
    plans_cutting.damage(stock, crew, "kinked over the table")
    plan.refresh_from_db()
    assert plan.state == "done"
    assert first(plan).damaged == "kinked over the table"
    again = carried(plans_cutting.plan_rest(plan, crew))
    assert again.after == plan
    wanted = {
        (piece.pk, copy)
        for piece in Piece.objects.all()
        for copy in range(1, piece.quantity + 1)
    }
    planned = set(
        PlannedBlank.objects.filter(stock__plan=again).values_list("piece", "copy")
    )
    assert was_cut and planned == wanted - was_cut
    cut_all(plans.accept(again, crew), crew)
    assert set(Piece.objects.values_list("state", flat=True)) == {"cut"}
    spoiled = RackItem.objects.get(pk=stock.item_id)
    assert spoiled.state == "used"


def test_a_sheet_damaged_before_its_first_cut_is_spoiled(
    plan: CutPlan, crew: Any
) -> None:
    stock = first(plan)
    plans_cutting.damage(stock, crew, "fell off the van")
    assert RackItem.objects.get(pk=stock.item_id).state == "spoiled"
    assert not RackItem.objects.filter(state="reserved").exists()


def test_what_is_to_order_is_listed_and_taken_once_it_is_there(
    office: Any, crew: Any
) -> None:
    priced(office)
    job = laid_job(office)
    job.install_from = job.install_until = "2026-12-01"
    job.save()
    plan = accepted(job, office)
    stock = first(plan)
    with pytest.raises(Refused, match="still to order"):
        plans_cutting.make_cuts(stock, crew, 0)
    short = plans_order.to_order()
    assert sum(it.number for it in short) == plan.stocks.count()
    assert str(short[0].needed) == "2026-12-01"
    with pytest.raises(Refused, match="No free sheet of copper 20 oz"):
        plans_cutting.supply(stock, crew)
    width, length = stock.size()
    item = put(office, width=width, length=length)
    taken = plans_cutting.supply(stock, crew)
    assert taken.item == item
    assert RackItem.objects.get(pk=item.pk).state == "reserved"
    assert sum(it.number for it in plans_order.to_order()) == plan.stocks.count() - 1
    plans_cutting.make_cuts(taken, crew, 0)


def test_the_list_to_order_as_csv_is_safe_and_whole(office: Any) -> None:
    priced(office)
    job = laid_job(office)
    type(job.client).objects.update(name="=1+1")
    accepted(job, office)
    short = plans_order.to_order()
    rows = list(csv.DictReader(plans_order.as_csv(short, "in").splitlines()))
    assert len(rows) == len(short)
    assert rows[0]["metal"] == "copper 20 oz"
    assert rows[0]["clients"] == "'=1+1"
    assert float(rows[0]["width_mm"]) == float(short[0].width)


def test_coil_is_cut_to_length_for_two_plans(office: Any, crew: Any) -> None:
    from shop.models import Stock

    Stock.objects.all().delete()
    priced(office)
    coil = put(
        office, form="coil", width=40 * INCH, length=Decimal(30000), paid=Decimal(900)
    )
    plan = accepted(laid_job(office), office)
    coil.refresh_from_db()
    reserved = sum(stock.size()[1] for stock in plan.stocks.all())
    assert coil.reserved_mm == reserved
    assert coil.state == "reserved" and coil in RackItem.objects.free()
    cut_all(plan, crew)
    coil.refresh_from_db()
    assert coil.left_mm == 30000 - reserved
    assert coil.reserved_mm == 0 and coil.state == "free"


def test_an_offcut_with_an_outline_is_squared_first(office: Any, crew: Any) -> None:
    from shop.models import Stock

    Stock.objects.all().delete()
    priced(office)
    # A sheet with one corner gone, and nothing else to cut from.
    side = float(90 * INCH)
    corners = (
        (0, 0),
        (side, 0),
        (side, 2 * side - 300),
        (side - 300, 2 * side),
        (0, 2 * side),
    )
    item = put(office, form="offcut", outline=corners)
    found = ready(laid_job(office), office)
    assert found.state == "ready", found.reason
    plan = plans.accept(found, office)
    stock = first(plan)
    assert stock.item == item
    squaring = stock.shown_cuts()[:4]
    assert not any(cut.blanks or cut.offcuts for cut in squaring)
    cut_all(plan, crew)
    assert set(Piece.objects.values_list("state", flat=True)) == {"cut"}


def test_rack_and_plan_agree_when_reserved_by_another(office: Any) -> None:
    priced(office)
    stocked(office, 1)
    other = put(office)
    rack.reserve([rack.Wanted(other.pk)], office, holder="x", words="Job 99")
    plan = accepted(laid_job(office), office)
    items = [stock.item_id for stock in plan.stocks.all()]
    assert other.pk not in items
    assert metal() == plan.metal


def test_what_is_to_order_costs_what_the_price_book_says(office: Any) -> None:
    priced(office)  # 11.50 a kg
    accepted(laid_job(office), office)
    short = plans_order.to_order()
    book = PriceBook.on(timezone.localdate())
    for it in short:
        assert it.cost(book) == rounded(
            it.weight_kg() * Decimal("11.50"), book.currency
        )
    assert plans_order.sum_of(short, book) == sum(it.cost(book) for it in short)
    (row, *_) = csv.DictReader(plans_order.as_csv(short, "in", book).splitlines())
    assert Decimal(row["cost"]) == short[0].cost(book)
    assert row["currency"] == book.currency
    yesterday = PriceBook.on(timezone.localdate() - datetime.timedelta(days=1))
    assert [it.cost(yesterday) for it in short] == [None] * len(short)
    (row, *_) = csv.DictReader(plans_order.as_csv(short, "in", yesterday).splitlines())
    assert row["cost"] == ""


def test_only_who_may_see_money_sees_what_it_costs(
    office: Any, office_client: Any, crew_client: Any
) -> None:
    priced(office)
    accepted(laid_job(office), office)
    short = plans_order.to_order()
    book = PriceBook.on(timezone.localdate())
    told = show_money(plans_order.sum_of(short, book), book.currency)
    # As before the price was written: by its queryset a price can't be taken away.
    Price.objects.all()._raw_delete(DEFAULT_DB_ALIAS)
    assert "no price" in office_client.get("/rack/order/").content.decode()
    priced(office)
    assert told in office_client.get("/rack/order/").content.decode()
    crews = crew_client.get("/rack/order/").content.decode()
    assert "Cost" not in crews and book.currency not in crews
    assert "cost" in office_client.get("/rack/order.csv").content.decode()
    assert "cost" not in crew_client.get("/rack/order.csv").content.decode()
    paper = {}
    for name, client in (("office", office_client), ("crew", crew_client)):
        ink = client.get("/rack/order.pdf").content
        page = pdfium.PdfDocument(ink)[0].get_textpage().get_text_range()
        paper[name] = page.replace("\xa0", " ")
    assert told.replace("\xa0", " ") in paper["office"]
    assert book.currency not in paper["crew"]
