"""The demo shop's prices and rack: there once, and enough for a quote."""

from __future__ import annotations

from typing import Any

import pytest
from django.utils import timezone

from shop import demo_goods
from shop.models import Price, RackItem
from shop.prices import PriceBook

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("opened")]


def test_everything_a_quote_asks_for_has_a_price(owner: Any) -> None:
    demo_goods.fill(owner)
    book = PriceBook.on(timezone.localdate())
    kinds = [*demo_goods.PERCENTS, Price.Kind.TRAVEL]
    assert book.missing(demo_goods.A_KILOGRAM, demo_goods.AN_HOUR, kinds) == []
    assert {price.source for price in Price.objects.all()} == {demo_goods.SOURCE}


def test_filling_it_twice_changes_nothing(owner: Any) -> None:
    demo_goods.fill(owner)
    before = Price.objects.count(), RackItem.objects.count()
    demo_goods.fill(owner)
    assert (Price.objects.count(), RackItem.objects.count()) == before
    forms = set(RackItem.objects.values_list("form", flat=True))
    assert forms == {"sheet", "coil", "offcut"}
    assert RackItem.objects.filter(state="free").count() == before[1]
