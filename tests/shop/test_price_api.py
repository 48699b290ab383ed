"""The price book for programs."""

from __future__ import annotations

import datetime
from decimal import Decimal
from typing import Any

import pytest

from shop import prices
from shop.models import Price, StandardHours
from tests.priced import price_all

pytestmark = pytest.mark.django_db

PATH = "/api/v1/prices/"


def things(answer: Any) -> dict[str, dict[str, Any]]:
    assert answer.status_code == 200
    return {row["thing"]: row for row in answer.json()["prices"]}


def test_prices_are_told_as_they_count_on_a_day(
    owner: Any, office_client: Any, opened: None
) -> None:
    price_all(owner)
    prices.write(
        owner, kind="labour", role="crew", unit="hour", amount=Decimal("66.5"),
        from_day=datetime.date(2025, 7, 1), source="a new wage",
    )  # fmt: skip
    before = things(office_client.get(PATH, {"on": "2025-06-30"}))["labour-crew"]
    after = things(office_client.get(PATH, {"on": "2025-07-01"}))["labour-crew"]
    assert (before["amount"], before["from_day"]) == ("60.0000", "2024-01-01")
    assert (after["amount"], after["source"]) == ("66.5000", "a new wage")
    metal = things(office_client.get(PATH))["metal-copper-20-oz"]
    assert (metal["metal"], metal["unit"]) == ("copper 20 oz", "kg")


def test_what_has_no_price_is_there_without_one(
    office_client: Any, opened: None
) -> None:
    answer = office_client.get(PATH, {"on": "2026-11-25"})
    told = answer.json()
    assert (told["on"], told["currency"]) == ("2026-11-25", "USD")
    assert all(row["amount"] is None for row in told["prices"])
    assert len(told["standard_hours"]) == StandardHours.objects.count()
    assert all(row["source"] for row in told["standard_hours"])


def test_a_day_that_is_none_is_told_by_field(office_client: Any) -> None:
    answer = office_client.get(PATH, {"on": "25/11/2026"})
    assert answer.status_code == 400 and list(answer.json()) == ["on"]


def test_it_is_read_only_and_not_for_everybody(
    crew_client: Any, owner_client: Any, stranger_client: Any, opened: None
) -> None:
    assert crew_client.get(PATH).status_code == 403
    assert stranger_client.get(PATH).status_code == 401
    assert owner_client.get(PATH).status_code == 200
    assert owner_client.post(PATH, {"amount": "1"}).status_code == 405
    assert not Price.objects.exists()
