from __future__ import annotations

from typing import Any

import pytest

from layout.models import CutPlan
from tests.layout.planned import ROUNDS, accepted, laid_job, priced, ready, stocked

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("opened")]


@pytest.fixture
def job(office: Any) -> Any:
    priced(office)
    stocked(office, 3)
    return laid_job(office)


def post(client: Any, address: str, **given: Any) -> Any:
    return client.post(f"/api/v1/cut-plans/{address}", given, "application/json")


def test_a_plan_is_asked_for_found_accepted_and_cut(
    office_client: Any, job: Any, django_capture_on_commit_callbacks: Any
) -> None:
    asked = {"jobs": [job.pk], "metal": "copper 20 oz", "seconds": 5, "rounds": ROUNDS}
    with django_capture_on_commit_callbacks(execute=True):
        made = post(office_client, "", **asked)
    assert made.status_code == 201 and made.json()["state"] == "asked"
    pk = made.json()["id"]
    found = office_client.get(f"/api/v1/cut-plans/{pk}/").json()
    assert found["state"] == "ready" and found["figures"]["cost"] > 0
    marks = {it["mark"] for stock in found["stocks"] for it in stock["blanks"]}
    assert marks == set(job.pieces.values_list("mark", flat=True))
    assert post(office_client, f"{pk}/accept/").json()["state"] == "accepted"
    again = post(office_client, f"{pk}/accept/")
    assert again.status_code == 409 and "not ready" in again.json()["detail"]
    cut = post(office_client, f"{pk}/cut/", position=0, seen=0, cuts=2).json()
    assert cut["stocks"][0]["cuts_done"] == 2
    stale = post(office_client, f"{pk}/cut/", position=0, seen=0)
    assert stale.status_code == 409 and "Look again" in stale.json()["detail"]
    back = post(office_client, f"{pk}/take_back/", position=0, reason="glove").json()
    assert back["stocks"][0]["cuts_done"] == 1
    lost = post(office_client, f"{pk}/damage/", position=0, reason="kinked").json()
    assert lost["state"] == "done"
    with django_capture_on_commit_callbacks(execute=True):
        rest = post(office_client, f"{pk}/rest/")
    assert rest.json()["after"] == pk


def test_money_is_hidden_from_the_crew(crew_client: Any, job: Any, office: Any) -> None:
    plan = ready(job, office)
    shown = crew_client.get(f"/api/v1/cut-plans/{plan.pk}/").json()
    assert "cost" not in shown["figures"]


def test_what_cannot_be_planned_is_said(office_client: Any, office: Any) -> None:
    job = laid_job(office)
    asked = {"jobs": [job.pk], "metal": "copper 20 oz"}
    none = post(office_client, "", **asked)
    assert none.status_code == 409 and "no price" in none.json()["detail"]
    bad = post(office_client, "", jobs=[], metal="tin", seconds=1)
    assert set(bad.json()) == {"jobs", "metal", "seconds"}
    assert not CutPlan.objects.exists()


def test_lists_are_filtered_and_strangers_kept_out(
    office_client: Any, stranger_client: Any, job: Any, office: Any
) -> None:
    plan = accepted(job, office)
    listed = office_client.get(f"/api/v1/cut-plans/?job={job.pk}").json()
    assert [it["id"] for it in listed["results"]] == [plan.pk]
    assert office_client.get("/api/v1/cut-plans/?state=done").json()["count"] == 0
    assert stranger_client.get("/api/v1/cut-plans/").status_code == 401
    assert office_client.delete(f"/api/v1/cut-plans/{plan.pk}/").status_code == 405
    aside = post(office_client, f"{plan.pk}/set_aside/", reason="zinc now").json()
    assert aside["state"] == "dropped"
    assert post(office_client, f"{plan.pk}/stop/").status_code == 409
