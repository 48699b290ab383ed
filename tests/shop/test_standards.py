from __future__ import annotations

from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from shop.models import Brake, Metal, ShopProfile, Standard, Stock

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("opened")]


@pytest.mark.parametrize("value", ["abc", "-1", "NaN", "Infinity", ""])
def test_a_standard_is_a_number_of_zero_or_more(value: str) -> None:
    standard = Standard.objects.get(key="hem")
    standard.value = value
    with pytest.raises(ValidationError) as refusal:
        standard.full_clean()
    assert "value" in refusal.value.message_dict


def test_a_choice_is_one_of_its_words() -> None:
    standard = Standard.objects.get(key="saddle_rule")
    standard.value = "mood"
    with pytest.raises(ValidationError, match="code, handbook, shop"):
        standard.full_clean()


def test_the_database_keeps_stock_in_its_form() -> None:
    metal = Metal.objects.get(name="copper 20 oz")
    with pytest.raises(IntegrityError), transaction.atomic():
        Stock.objects.create(metal=metal, form="sheet", width_mm=Decimal(600))
    with pytest.raises(IntegrityError), transaction.atomic():
        Stock.objects.create(metal=metal, form="coil", width_mm=600, length_mm=10)


def test_the_database_keeps_brakes_possible() -> None:
    with pytest.raises(IntegrityError), transaction.atomic():
        Brake.objects.update(largest_angle_deg=181)


def test_there_is_one_shop() -> None:
    with pytest.raises(IntegrityError), transaction.atomic():
        ShopProfile.objects.create(pk=2, name="Another")


def test_a_time_zone_is_one_there_is() -> None:
    profile = ShopProfile.current()
    profile.time_zone = "Atlantis/Deep"
    with pytest.raises(ValidationError, match="not a time zone"):
        profile.full_clean()
