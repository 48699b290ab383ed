from __future__ import annotations

from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from shop import rack
from shop.models import RackItem
from tests.shop.racked import put

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("opened")]

SHEET = {
    "metal": "copper 20 oz",
    "form": "sheet",
    "width_mm": "914.4",
    "length_mm": "3048",
    "alike": 2,
    "lot": "A7",
}


def post(client: Any, address: str, **given: Any) -> Any:
    return client.post(f"/api/v1/rack/{address}", given, "application/json")


def test_metal_comes_in_and_is_listed(office_client: Any) -> None:
    made = post(office_client, "", **SHEET, paid="212.40")
    assert made.status_code == 201
    assert [it["number"] for it in made.json()] == [1, 2]
    listed = office_client.get("/api/v1/rack/?state=free&form=sheet").json()
    assert listed["count"] == 2
    assert listed["results"][0]["paid"] == "212.40"
    (event,) = office_client.get(f"/api/v1/rack/{made.json()[0]['id']}/events/").json()
    assert event["what"] == "came_in"


def test_the_crew_sees_and_writes_no_money(crew_client: Any, office: Any) -> None:
    item = put(office, paid=12)
    assert "paid" not in crew_client.get(f"/api/v1/rack/{item.pk}/").json()
    assert post(crew_client, "", **SHEET, paid="1").status_code == 403
    assert post(crew_client, f"{item.pk}/sell/", reason="old").status_code == 403
    assert post(crew_client, "", **SHEET).status_code == 201


def test_faults_are_told_by_field(office_client: Any) -> None:
    bad = post(office_client, "", **{**SHEET, "metal": "tin", "form": "heap"})
    assert bad.status_code == 400
    assert set(bad.json()) == {"metal", "form"}
    none = post(office_client, "", **{**SHEET, "width_mm": "0"})
    assert none.status_code == 409 and "Width: 0" in none.json()["detail"]


def test_verbs_change_the_item_and_refuse_in_words(
    office_client: Any, office: Any
) -> None:
    item = put(office)
    held = post(office_client, f"{item.pk}/reserve/", words="Job 4", key="a").json()
    assert held["state"] == "reserved"
    assert held["reserved_for"][0]["words"] == "Job 4"
    again = post(office_client, f"{item.pk}/reserve/", words="Job 5")
    assert again.status_code == 409 and "Job 4" in again.json()["detail"]
    holder = held["reserved_for"][0]["holder"]
    post(office_client, f"{item.pk}/let_go/", holder=holder)
    assert post(office_client, f"{item.pk}/spoil/").status_code == 400
    gone = post(office_client, f"{item.pk}/cut/", reason="a bracket").json()
    assert gone["state"] == "used"
    back = post(office_client, f"{item.pk}/put_back/", reason="wrong one").json()
    assert back["state"] == "free"
    assert post(office_client, f"{item.pk}/move/", place="loft").json()["place"]
    sold = post(office_client, f"{item.pk}/sell/", reason="old", money="4").json()
    assert sold["state"] == "sold"


def test_a_coil_is_cut_and_measured_to_length(crew_client: Any, office: Any) -> None:
    coil = put(office, form="coil", width=600, length=9000)
    cut = post(crew_client, f"{coil.pk}/cut/", reason="cleats", length_mm="1000")
    assert cut.json()["left_mm"] == "8000.000"
    much = post(crew_client, f"{coil.pk}/cut/", reason="x", length_mm="8001")
    assert much.status_code == 409 and "below zero" in much.json()["detail"]
    found = post(crew_client, f"{coil.pk}/measure/", reason="tape", length_mm="7900")
    assert found.json()["left_mm"] == "7900.000"


def test_the_same_key_acts_once(office_client: Any) -> None:
    for _ in range(2):
        post(office_client, "", **SHEET, key="one")
    assert RackItem.objects.count() == 2


def test_what_a_plan_holds_the_plan_lets_go(office_client: Any, office: Any) -> None:
    item = put(office)
    rack.reserve([rack.Wanted(item.pk)], office, holder="plan:1", words="Job 1")
    answer = post(office_client, f"{item.pk}/let_go/", holder="plan:1")
    assert answer.status_code == 409
    item.refresh_from_db()
    assert item.state == "reserved"


def test_strangers_and_wrong_methods(stranger_client: Any, office_client: Any) -> None:
    assert stranger_client.get("/api/v1/rack/").status_code == 401
    assert office_client.delete("/api/v1/rack/1/").status_code == 405
    assert office_client.get("/api/v1/rack/1/").status_code == 404


def test_the_list_asks_as_often_for_many(office_client: Any, office: Any) -> None:
    def asked() -> int:
        with CaptureQueriesContext(connection) as made:
            office_client.get("/api/v1/rack/")
        return len(made)

    put(office)
    few = asked()
    for _ in range(8):
        put(office)
    assert asked() == few
