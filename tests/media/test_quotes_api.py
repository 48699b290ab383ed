"""Quotes for programs: drawn up from real layouts, put on paper; receipts of costs."""

from __future__ import annotations

from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.utils import timezone

from jobs import booking
from jobs.models import Cost, Job, Quote
from media.models import Document, Photo
from tests.jobs.test_api import Caller
from tests.layout.measured import measured_job
from tests.media import pictures
from tests.priced import price_all
from tests.world import make_job

pytestmark = pytest.mark.django_db

TODAY = timezone.localdate().isoformat()


@pytest.fixture
def calls(office_client: Any) -> Caller:
    return Caller(office_client)


@pytest.fixture
def job(owner: Any, office: Any, opened: None) -> Job:
    price_all(owner)
    return measured_job(office)


def test_a_quote_is_drawn_up_offered_and_accepted(
    job: Job, calls: Caller, django_capture_on_commit_callbacks: Any
) -> None:
    sent = {
        "job": job.pk,
        "visits": 3,
        "setting_up_minutes": "270",
        "extras": [{"words": "Scaffold", "amount": "1250.00"}],
        "key": "k",
    }
    for _ in range(2):
        status, quote = calls("post", "quotes/", **sent)
        assert (status, quote["number"], quote["state"]) == (201, 1, "drawn_up")
    assert Quote.objects.count() == 1
    lines = {line["part"]: line for line in quote["lines"]}
    assert lines["extra"]["amount"] == "1250.00"
    stages = {line["stage"]: line["quantity"] for line in quote["lines"]}
    assert stages["setting_up"] == "270.0000"
    path = f"quotes/{quote['id']}/"
    word = {"whose_word": "Marigold Quill"}
    assert calls("post", path + "accept/", **word)[0] == 409
    with django_capture_on_commit_callbacks(execute=True):
        status, paper = calls("post", path + "paper/", paper="a4", key="p")
    assert (status, paper["paper"], paper["kind"]) == (201, "a4", "quote")
    assert Document.objects.get().is_made()
    assert calls("get", path)[1]["state"] == "offered"
    assert calls("post", path + "paper/", paper="a4", key="p")[1]["id"] == paper["id"]
    status, told = calls("post", path + "accept/", **word)
    assert (status, told["state"], told["settled_on"]) == (200, "accepted", TODAY)


def test_a_second_version_has_the_next_number(job: Job, calls: Caller) -> None:
    calls("post", "quotes/", job=job.pk)
    status, second = calls("post", "quotes/", job=job.pk, visits=4)
    assert (status, second["number"]) == (201, 2)


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({"visits": -1}, "visits"),
        ({"people": 0}, "people"),
        ({"prices_on": "1/2/2026"}, "prices_on"),
        ({"prices_on": "2019-01-01"}, "prices_on"),
        ({"extras": [{"words": "Lift"}]}, "extras"),
        ({"setting_up_minutes": "NaN"}, "setting_up_minutes"),
        ({"job": "x"}, "job"),
    ],
)
def test_a_faulty_quote_is_told_by_field(
    given: dict[str, Any], field: str, job: Job, calls: Caller
) -> None:
    status, told = calls("post", "quotes/", **{"job": job.pk, **given})
    assert (status, list(told)) == (400, [field])
    assert not Quote.objects.exists()


def test_without_measures_the_measures_are_named(job: Job, calls: Caller) -> None:
    status, told = calls("post", "quotes/", job=make_job().pk)
    assert status == 400
    assert any("penetration.front" in fault for fault in told["job"])


def test_a_layout_that_is_refused_or_a_closed_job_is_a_conflict(
    job: Job, office: Any, calls: Caller
) -> None:
    low = measured_job(office, walls_upstand_side="1")
    status, told = calls("post", "quotes/", job=low.pk)
    assert status == 409 and "is refused, so it can't be quoted" in told["detail"]
    booking.close(job, office, "off", "Sold")
    status, told = calls("post", "quotes/", job=job.pk)
    assert status == 409 and "Open it again" in told["detail"]
    assert not Quote.objects.exists()


def test_a_settled_quote_is_not_put_on_paper(job: Job, calls: Caller) -> None:
    _, quote = calls("post", "quotes/", job=job.pk)
    Quote.objects.update(state="refused")
    status, told = calls("post", f"quotes/{quote['id']}/paper/")
    assert status == 409 and "Draw up a new one" in told["detail"]
    Quote.objects.update(state="offered", layout_number=99)
    status, told = calls("post", f"quotes/{quote['id']}/paper/")
    assert status == 409 and "not reckoned from a layout" in told["detail"]


# --- receipts ----------------------------------------------------------------------


def receipt(client: Any, job: Job, cost: int) -> Any:
    photo = SimpleUploadedFile("bill.jpg", pictures.private(), "image/jpeg")
    sent = {"job": job.pk, "cost": cost, "photo": photo, "key": "r"}
    return client.post("/api/v1/photos/", sent)


def test_a_receipt_is_sent_for_a_cost(
    job: Job, calls: Caller, office_client: Any, crew_client: Any
) -> None:
    sent = {"part": "hire", "words": "Lift", "amount": "80", "on_day": TODAY}
    _, cost = calls("post", "costs/", job=job.pk, **sent)
    assert receipt(crew_client, job, cost["id"]).status_code == 403
    for _ in range(2):
        answer = receipt(office_client, job, cost["id"])
        assert (answer.status_code, answer.json()["cost"]) == (201, cost["id"])
    assert Photo.objects.get().cost == Cost.objects.get()
    # A receipt is money: the crew does not find it among the photos.
    assert crew_client.get("/api/v1/photos/").json()["count"] == 0
    other = receipt(office_client, make_job(), cost["id"])
    assert other.status_code == 400 and list(other.json()) == ["cost"]
