"""The page that says where the numbers come from."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from layout.numbers import groups, length, matching
from shop.models import Metal, MetalPair, SeamKind, ShopProfile, Standard

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("opened")]


def page(client: Any, asked: str = "") -> str:
    response = client.get("/numbers/", {"q": asked})
    assert response.status_code == 200
    return str(response.content.decode())


def test_everybody_who_is_signed_in_reads_it(
    crew_client: Any, office_client: Any, owner_client: Any, stranger_client: Any
) -> None:
    for client in (crew_client, office_client, owner_client):
        assert "EN 988" in page(client)
    refused = stranger_client.get("/numbers/")
    assert refused.status_code == 302 and "sign-in" in refused["Location"]
    assert crew_client.post("/numbers/").status_code == 405


def test_a_number_stands_with_its_source_and_its_tests(crew_client: Any) -> None:
    shown = page(crew_client)
    assert "1/2 in (12.7 mm)" in shown
    assert "Copper Flashings, Copper and Brass Research Association, 2nd ed." in shown
    assert "tests/shop/test_published.py::test_a_standard_is_as_printed[hem]" in shown
    assert "No published figure to hold it against." in shown


def test_the_box_finds_by_all_words_anywhere(crew_client: Any) -> None:
    shown = page(crew_client, "zinc  ROLLING")
    assert "0.022 mm a metre for 1 °C along the rolling, 0.017 mm across it" in shown
    assert "Hem: Width" not in shown
    assert 'value="zinc  ROLLING"' in shown and "Show all" in shown


def test_nothing_found_says_what_to_do(crew_client: Any) -> None:
    shown = page(crew_client, "<b>moonlight</b>")
    assert "Ask with fewer" in shown
    assert "<b>moonlight" not in shown
    assert "0 of" in shown


def test_what_the_shop_holds_to_instead_is_said(crew_client: Any) -> None:
    assert "This shop:" not in page(crew_client)
    Standard.objects.filter(key="hem").update(value="15", source="our own trial")
    Metal.objects.filter(name="zinc 0.7 mm").update(fold_from_c=Decimal(7))
    MetalPair.objects.filter(first="lead", meeting="contact").update(active=False)
    SeamKind.objects.filter(made="machine").update(active=False)
    changed = {
        number.name: number.here
        for group in groups("mm")
        for number in group.numbers
        if number.here
    }
    assert changed["standard hem"] == "15 mm. our own trial"
    assert "folded at 7 °C or warmer" in changed["metal zinc 0.7 mm"]
    assert changed["pair contact lead steel"] == "Set aside in this shop."
    assert len(changed) == 4
    assert page(crew_client).count("This shop:") == 4


def test_lengths_are_in_the_shops_unit(crew_client: Any) -> None:
    assert length(101.6, "in") == "4 in (101.6 mm)"
    assert length(101.6, "mm") == "101.6 mm"
    assert length(25, "in") == "25 mm (about 1 in)"
    assert length(0.05, "in") == "0.05 mm"
    ShopProfile.objects.update(units="mm")
    assert "1/2 in (12.7 mm)" not in page(crew_client)


def test_groups_without_a_match_are_gone() -> None:
    found = matching(groups("in"), "run-off copper")
    assert [group.slug for group in found] == ["pairs"]
    assert len(found[0].numbers) == 3


def test_the_footer_and_the_owners_tables_lead_to_it(
    crew_client: Any, owner_client: Any
) -> None:
    assert 'href="/numbers/"' in crew_client.get("/today/").content.decode()
    assert 'href="/numbers/"' in owner_client.get("/shop/").content.decode()
