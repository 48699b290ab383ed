from __future__ import annotations

import datetime
from decimal import Decimal
from typing import Any

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from shop import prices
from shop.hours_table import HOURS, SOURCE
from shop.models import Metal, Price, RowsStay, ShopProfile, StandardHours, Stock
from shop.money import read_amount, rounded, show_money, show_rate
from shop.prices import NoPrice, PriceBook

pytestmark = pytest.mark.django_db

DAY = datetime.date(2026, 11, 25)


def price_of_hour(by: Any, amount: str, day: datetime.date = DAY) -> Price:
    return prices.write(
        by,
        kind="labour",
        role="crew",
        unit="hour",
        amount=Decimal(amount),
        from_day=day,
    )


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        ("1250", "1250"),
        ("1 250.50", "1250.50"),
        ("1,250.50", "1250.50"),
        ("1250,5", "1250.5"),
        ("0,125", "0.125"),
        (".5", "0.5"),
        ("1,234,567", "1234567"),
    ],
)
def test_an_amount_is_read_as_it_is_typed(typed: str, read: str) -> None:
    assert read_amount(typed) == Decimal(read)


@pytest.mark.parametrize("typed", ["1,250", "12a", "", "1.2.3", "NaN", "1e9", "9" * 12])
def test_an_amount_that_is_not_clear_is_refused(typed: str) -> None:
    with pytest.raises(ValueError):
        read_amount(typed)


def test_money_is_rounded_once_to_the_currencys_smallest_unit() -> None:
    assert rounded(Decimal("2.345"), "USD") == Decimal("2.35")
    assert rounded(Decimal("-2.345"), "USD") == Decimal("-2.35")
    assert rounded(Decimal("2.5"), "JPY") == Decimal("3")
    assert rounded(Decimal("2.3455"), "KWD") == Decimal("2.346")


def test_money_never_stands_without_its_currency() -> None:
    assert show_money(Decimal("1234567.5"), "USD") == "1\u00a0234\u00a0567.50\u00a0USD"
    assert show_money(Decimal("-3"), "EUR") == "−3.00\u00a0EUR"
    assert show_rate(Decimal("14.2375"), "USD") == "14.2375\u00a0USD"
    assert show_rate(Decimal("58.0000"), "USD") == "58.00\u00a0USD"


def test_the_newest_price_by_the_day_counts(owner: Any) -> None:
    price_of_hour(owner, "50", datetime.date(2025, 1, 1))
    price_of_hour(owner, "55", datetime.date(2026, 1, 1))
    price_of_hour(owner, "60", datetime.date(2027, 1, 1))
    amounts = {
        day: PriceBook.on(datetime.date.fromisoformat(day)).of_hour("crew").amount
        for day in ("2025-12-31", "2026-01-01", "2026-12-31", "2027-01-01")
    }
    assert list(amounts.values()) == [50, 55, 55, 60]


def test_before_the_first_price_there_is_none(owner: Any) -> None:
    price_of_hour(owner, "50")
    with pytest.raises(NoPrice, match="An hour of crew has no price on Tue 24 Nov"):
        PriceBook.on(datetime.date(2026, 11, 24)).of_hour("crew")


def test_of_two_prices_from_one_day_the_later_written_counts(owner: Any) -> None:
    price_of_hour(owner, "50")
    price_of_hour(owner, "51")
    assert PriceBook.on(DAY).of_hour("crew").amount == 51
    assert Price.objects.count() == 2


def test_a_price_is_never_changed_or_removed(owner: Any) -> None:
    price = price_of_hour(owner, "50")
    price.amount = Decimal(1)
    with pytest.raises(RowsStay):
        price.save()
    with pytest.raises(RowsStay):
        price.delete()
    with pytest.raises(RowsStay):
        Price.objects.all().delete()
    with pytest.raises(RowsStay):
        Price.objects.update(amount=1)


def test_a_price_without_a_day_or_below_nought_is_refused(owner: Any) -> None:
    with pytest.raises(ValueError, match="Counts from"):
        price_of_hour(owner, "50", None)  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="below nought"):
        price_of_hour(owner, "-1")
    assert not Price.objects.exists()


def test_the_database_refuses_a_price_of_two_things(owner: Any, opened: None) -> None:
    with pytest.raises(IntegrityError), transaction.atomic():
        Price.objects.create(
            kind="labour", role="crew", unit="hour", amount=1, from_day=DAY,
            metal=Metal.objects.first(),
        )  # fmt: skip


def test_metal_by_weight_costs_area_times_thickness_times_density(
    owner: Any, opened: None
) -> None:
    metal = Metal.objects.get(name="copper 20 oz")
    price = prices.write(
        owner, kind="metal", metal=metal, unit="lb", amount=Decimal(10), from_day=DAY
    )
    # 20 oz copper weighs 20 oz a square foot, which is its definition (ASTM B370);
    # 8 square feet are 10 lb. The metal's row is rounded, so to 0.2 %.
    area = 8 * Decimal("0.09290304")
    cost = prices.metal_cost(price, metal, area)
    assert cost.amount == cost.quantity * 10
    assert float(cost.quantity) == pytest.approx(10, rel=0.002)


def test_metal_by_the_sheet_costs_its_share(owner: Any, opened: None) -> None:
    sheet = Stock.objects.get(
        metal__name="copper 20 oz", width_mm="914.4", length_mm="2438.4"
    )
    price = prices.write(
        owner,
        kind="metal",
        unit="sheet",
        stock=sheet,
        amount=Decimal(320),
        from_day=DAY,
    )
    half = prices.stock_area(sheet) / 2
    assert prices.metal_cost(price, sheet.metal, half).amount == 160


def test_a_sheet_price_needs_a_sheet_of_that_metal(owner: Any, opened: None) -> None:
    zinc = Metal.objects.filter(kind="zinc").first()
    copper = Stock.objects.filter(metal__kind="copper", form="sheet").first()
    for stock in (None, copper):
        with pytest.raises(ValueError, match="Sheet:"):
            prices.write(
                owner, kind="metal", metal=zinc, unit="sheet", stock=stock,
                amount=Decimal(1), from_day=DAY,
            )  # fmt: skip


def test_all_that_is_missing_is_named_at_once(owner: Any) -> None:
    book = PriceBook.on(DAY)
    assert book.missing(["zinc"], ["crew"], ["travel", "tax"]) == [
        "zinc", "an hour of crew", "a visit", "tax",
    ]  # fmt: skip


def test_a_currency_with_history_stays(owner: Any, opened: None) -> None:
    profile = ShopProfile.current()
    profile.currency = "EUR"
    profile.full_clean()
    profile.save()
    price_of_hour(owner, "50")
    profile = ShopProfile.current()
    profile.currency = "USD"
    with pytest.raises(ValidationError, match="written in EUR since"):
        profile.full_clean()


def test_the_price_book_is_read_in_three_queries(
    owner: Any, opened: None, django_assert_num_queries: Any
) -> None:
    for metal in Metal.objects.all():
        prices.write(
            owner, kind="metal", metal=metal, unit="kg", amount=Decimal(9), from_day=DAY
        )
    with django_assert_num_queries(3):
        PriceBook.on(DAY)


def test_a_new_shop_has_hours_without_a_source_and_says_so(opened: None) -> None:
    assert StandardHours.objects.count() == len(HOURS)
    assert set(StandardHours.objects.values_list("source", flat=True)) == {SOURCE}
    book = PriceBook.on(DAY)
    assert book.standard("apron", "cutting").family == "apron"
    assert book.standard("unheard_of", "cutting").family == ""


# --- pages ------------------------------------------------------------------------


def test_the_book_shows_prices_and_what_has_none(
    owner: Any, owner_client: Any, opened: None
) -> None:
    price_of_hour(owner, "52.50", datetime.date(2026, 1, 1))
    page = owner_client.get("/shop/prices/").content.decode()
    assert "52.50\u00a0USD" in page and "no price" in page and "copper 20 oz" in page


def test_the_owner_writes_a_price_and_the_old_one_is_kept(
    owner: Any, owner_client: Any, opened: None
) -> None:
    price_of_hour(owner, "50", datetime.date(2026, 1, 1))
    sent = {"amount": "61,50", "unit": "hour", "from_day": "2026-11-25"}
    answer = owner_client.post("/shop/prices/labour-crew/", sent)
    assert answer.status_code == 302
    assert PriceBook.on(DAY).of_hour("crew").amount == Decimal("61.50")
    page = owner_client.get("/shop/prices/labour-crew/").content.decode()
    assert "50.00\u00a0USD" in page and "61.50\u00a0USD" in page


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"from_day": ""}, "A price counts from a day."),
        ({"from_day": "11/12/2026"}, "is not a day we can read for sure"),
        ({"amount": "1,250"}, "can be read in two ways"),
        ({"amount": "-4"}, "too little"),
        ({"amount": "1.23456"}, "too many decimals"),
        ({"unit": "mile"}, "Select a valid choice"),
    ],
)
def test_a_faulty_price_is_told_and_nothing_is_lost(
    change: dict[str, str], words: str, owner_client: Any, opened: None
) -> None:
    sent = {
        "amount": "50",
        "unit": "hour",
        "from_day": "2026-11-25",
        "source": "a bill",
    }
    answer = owner_client.post("/shop/prices/labour-crew/", {**sent, **change})
    assert answer.status_code == 422
    page = answer.content.decode()
    assert words in page and 'value="a bill"' in page
    assert not Price.objects.exists()


def test_a_metal_is_priced_by_the_sheet_on_its_page(
    owner_client: Any, opened: None
) -> None:
    sheet = Stock.objects.filter(metal__slug="copper-20-oz", form="sheet").first()
    sent = {"amount": "320", "unit": "sheet", "from_day": "2026-11-25"}
    address = "/shop/prices/metal-copper-20-oz/"
    refused = owner_client.post(address, sent)
    assert "Choose the sheet" in refused.content.decode()
    taken = owner_client.post(address, {**sent, "stock": sheet.pk})
    assert taken.status_code == 302
    assert "320.00\u00a0USD" in owner_client.get(address).content.decode()


def test_the_office_reads_and_does_not_write(office_client: Any, opened: None) -> None:
    page = office_client.get("/shop/prices/labour-crew/")
    assert page.status_code == 200 and "Write a new price" not in page.content.decode()
    sent = {"amount": "50", "unit": "hour", "from_day": "2026-11-25"}
    office_client.post("/shop/prices/labour-crew/", sent)
    assert not Price.objects.exists()


@pytest.mark.parametrize(
    "address",
    [
        "prices/",
        "prices/tax/",
        "hours/",
        "hours/apron/cutting/",
        "hours/any/measuring/",
    ],
)
def test_prices_are_not_for_everybody(
    address: str, crew_client: Any, owner_client: Any, stranger_client: Any, opened: Any
) -> None:
    assert crew_client.get(f"/shop/{address}").status_code == 403
    assert stranger_client.get(f"/shop/{address}").status_code == 302
    assert owner_client.get(f"/shop/{address}").status_code == 200


@pytest.mark.parametrize(
    "address",
    ["prices/metal-gold/", "prices/tea/", "hours/apron/x/", "hours/apron/measuring/"],
)
def test_what_has_no_price_is_not_there(address: str, owner_client: Any) -> None:
    assert owner_client.get(f"/shop/{address}").status_code == 404


def test_new_hours_count_from_their_day_and_want_a_source(
    owner_client: Any, opened: None
) -> None:
    sent = {"minutes": "22.5", "from_day": "2026-11-25", "source": ""}
    address = "/shop/hours/apron/cutting/"
    assert "Say where" in owner_client.post(address, sent).content.decode()
    sent["source"] = "timed on three jobs"
    assert owner_client.post(address, sent).status_code == 302
    assert PriceBook.on(DAY).standard("apron", "cutting").minutes == Decimal("22.5")
    before = PriceBook.on(datetime.date(2026, 11, 24)).standard("apron", "cutting")
    assert before.source == SOURCE


def test_the_owners_tables_lead_to_the_prices(owner_client: Any) -> None:
    assert "/shop/prices/" in owner_client.get("/shop/").content.decode()
