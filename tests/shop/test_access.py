from __future__ import annotations

from typing import Any

import pytest
from django.contrib.auth.models import AnonymousUser
from django.core.exceptions import PermissionDenied
from django.http import HttpResponse
from django.test import RequestFactory

from shop.access import ACTS, may, needs
from shop.models import Person

TABLE = {
    "book": {"office", "owner"},
    "measure": {"office", "crew", "owner"},
    "lay_out": {"office", "crew", "owner"},
    "advance": {"office", "crew", "owner"},
    "money": {"office", "owner"},
    "shop": {"owner"},
    "books": {"owner"},
}


@pytest.mark.parametrize("act", TABLE)
@pytest.mark.parametrize("role", ["office", "crew", "owner"])
def test_each_role_may_what_the_table_says(role: str, act: str) -> None:
    assert may(Person(role=role), act) is (role in TABLE[act])


def test_the_table_holds_no_other_act() -> None:
    assert set(ACTS) == set(TABLE)
    with pytest.raises(KeyError):
        may(Person(role="owner"), "fly")
    with pytest.raises(KeyError):
        needs("fly")


def test_who_left_or_never_came_may_nothing() -> None:
    for act in ACTS:
        assert not may(Person(role="owner", is_active=False), act)
        assert not may(AnonymousUser(), act)


def test_needs_lets_in_and_keeps_out() -> None:
    @needs("money")
    def page(request: Any) -> HttpResponse:
        return HttpResponse("figures")

    request = RequestFactory().get("/")
    request.user = Person(role="office")
    assert page(request).content == b"figures"
    request.user = Person(role="crew")
    with pytest.raises(PermissionDenied):
        page(request)


def test_the_owners_tables_are_the_owners(
    owner_client: Any, office_client: Any, crew_client: Any, stranger_client: Any
) -> None:
    assert owner_client.get("/shop/").status_code == 200
    for client in (office_client, crew_client, stranger_client):
        assert client.get("/shop/").status_code == 302
        assert client.get("/shop/shop/standard/").status_code == 302


@pytest.mark.usefixtures("opened")
def test_the_owner_changes_a_standard_and_can_delete_no_metal(
    owner_client: Any,
) -> None:
    from shop.models import Metal, Standard

    hem = Standard.objects.get(key="hem")
    page = f"/shop/shop/standard/{hem.pk}/change/"
    assert owner_client.get(page).status_code == 200
    answer = owner_client.post(page, {"value": "15", "source": "our own brake"})
    assert answer.status_code == 302
    hem.refresh_from_db()
    assert (hem.value, hem.source) == ("15", "our own brake")
    metal = Metal.objects.first()
    assert metal
    gone = owner_client.post(f"/shop/shop/metal/{metal.pk}/delete/", {"post": "yes"})
    assert gone.status_code == 403


@pytest.mark.usefixtures("opened")
@pytest.mark.parametrize(
    "table", ["person", "metal", "brake", "stock", "standard", "shopprofile", "errand"]
)
def test_every_table_of_the_owner_opens(owner_client: Any, table: str) -> None:
    assert owner_client.get(f"/shop/shop/{table}/").status_code == 200


def test_the_owner_adds_a_person(owner_client: Any) -> None:
    form = {
        "username": "sparrow",
        "role": "crew",
        "password1": "long-seam-of-zinc",
        "password2": "long-seam-of-zinc",
    }
    assert owner_client.get("/shop/shop/person/add/").status_code == 200
    answer = owner_client.post("/shop/shop/person/add/", form)
    assert answer.status_code == 302, answer.context["errors"]
    assert Person.objects.get(username="sparrow").role == "crew"
