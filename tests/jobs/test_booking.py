from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from django.db import IntegrityError, transaction

from jobs import booking
from jobs.models import Client, Job
from tests.world import make_client, make_job

pytestmark = pytest.mark.django_db

BOOKED = {
    "client": "",
    "client_name": "Marigold Quill",
    "client_phone": "555 0199",
    "title": "Chimney over the kitchen",
    "leaks": "Stain on the ceiling",
    "present_metal": "copper",
    "present_seam_kind": "double",
    "present_seam_height_mm": "1",
    "present_pan_width_mm": "1' 5\"",
    "wished_from": "2026-11-25",
    "wished_until": "2026-12-20",
    "visit_on": "25 Nov 2026",
    "install_from": "2026-12-01",
    "install_until": "",
}


def test_booking_makes_the_client_the_job_its_site_and_an_event(
    office_client: Any, office: Any
) -> None:
    answer = office_client.post("/jobs/new/", BOOKED)
    job = Job.objects.get()
    assert answer.url == f"/jobs/{job.pk}/"
    assert (job.number, job.client.name, job.created_by) == (
        1,
        "Marigold Quill",
        office,
    )
    assert (job.present_seam_height_mm, job.present_pan_width_mm) == (
        Decimal("25.4"),
        Decimal("431.8"),
    )
    assert job.install_until == job.install_from
    assert (job.sites.get().units, job.events.get().what) == ("in", "booked")


def test_a_known_client_can_be_picked(office_client: Any) -> None:
    client = make_client()
    asked = {**BOOKED, "client": client.pk, "client_name": ""}
    office_client.post("/jobs/new/", asked)
    assert Job.objects.get().client == client
    assert Client.objects.count() == 1


def test_faults_are_told_at_the_top_and_nothing_typed_is_lost(
    office_client: Any,
) -> None:
    asked = {
        **BOOKED,
        "client_name": "",
        "title": "",
        "present_seam_height_mm": "an inch or so",
        "visit_on": "11/12/2026",
        "install_from": "2026-12-05",
        "install_until": "2026-12-01",
    }
    answer = office_client.post("/jobs/new/", asked)
    page = answer.content.decode()
    assert answer.status_code == 422
    for field in ("client_0", "title", "present_seam_height_mm", "visit_on"):
        assert f'<a href="#id_{field}">' in page
    assert "Tue 1 Dec 2026 is before Sat 5 Dec 2026" in page
    for words in ("an inch or so", "11/12/2026", "Stain on the ceiling", "555 0199"):
        assert words in page
    assert not Job.objects.exists() and not Client.objects.exists()


@pytest.mark.parametrize("words", ["0", "-3", "12 3/0", "1e5", "NaN", "1 2 3"])
def test_lengths_no_tape_shows_are_refused(words: str, office_client: Any) -> None:
    asked = {**BOOKED, "present_seam_height_mm": words}
    assert office_client.post("/jobs/new/", asked).status_code == 422


@pytest.mark.parametrize("there", ["25.4", "0.7938", "25", "33.3333", "431.85"])
def test_saving_unchanged_changes_no_length(there: str, office_client: Any) -> None:
    job = make_job(title="Chimney", present_seam_height_mm=there)
    form = office_client.get(f"/jobs/{job.pk}/change/").context["form"]
    fields = {it.html_name: it.value() for it in form if it.value() is not None}
    answer = office_client.post(f"/jobs/{job.pk}/change/", fields)
    assert answer.status_code == 302
    job.refresh_from_db()
    assert job.present_seam_height_mm == Decimal(there)
    assert job.version == 1


def test_two_clients_at_once_are_refused(office_client: Any) -> None:
    asked = {**BOOKED, "client": make_client("Barnaby Thistledown").pk}
    answer = office_client.post("/jobs/new/", asked)
    assert "Barnaby Thistledown is chosen above" in answer.content.decode()


def test_the_crew_books_nothing_and_a_stranger_signs_in_first(
    crew_client: Any, stranger_client: Any
) -> None:
    for way in (crew_client.get, crew_client.post):
        answer = way("/jobs/new/", BOOKED)
        assert answer.status_code == 403
        assert "Your sign-in is not allowed" in answer.content.decode()
    assert stranger_client.get("/jobs/new/").url.startswith("/sign-in/")
    assert not Job.objects.exists()


def test_numbers_run_on(office: Any) -> None:
    assert [make_job(office).number for _ in range(3)] == [1, 2, 3]


def test_a_number_taken_meanwhile_is_passed_over(
    office: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    make_job(office)
    numbers = iter([1, 1, 2])
    monkeypatch.setattr(booking, "_next_number", lambda: next(numbers))
    assert make_job(office).number == 2


def test_change_tells_the_log_what_was_before(office_client: Any, office: Any) -> None:
    job = make_job(office, title="Chimney", leaks="Stain")
    asked = {
        **BOOKED,
        "client": job.client_id,
        "title": "Chimney, north",
        "version": job.version,
    }
    assert office_client.post(f"/jobs/{job.pk}/change/", asked).status_code == 302
    job.refresh_from_db()
    event = job.events.first()
    assert event is not None
    assert job.title == "Chimney, north"
    assert "title: Chimney\n" in event.before
    assert "title: Chimney, north\n" in event.after


def test_saving_nothing_new_adds_no_event(office: Any) -> None:
    job = make_job(office, title="Chimney")
    booking.change(job, office, {"title": "Chimney"}, job.version)
    assert job.events.count() == 1


def test_the_second_to_save_is_told_and_keeps_what_was_typed(
    office_client: Any, owner: Any
) -> None:
    job = make_job(title="Chimney")
    booking.change(job, owner, {"title": "Chimney, south"}, job.version)
    asked = {**BOOKED, "client": job.client_id, "title": "Mine", "version": 1}
    answer = office_client.post(f"/jobs/{job.pk}/change/", asked)
    page = answer.content.decode()
    assert answer.status_code == 409
    assert "Hazel saved it first (title) while you were typing" in page
    assert 'value="Mine"' in page
    job.refresh_from_db()
    assert job.title == "Chimney, south"
    # Saving again, with the job as it is now, goes through.
    asked["version"] = job.version
    assert office_client.post(f"/jobs/{job.pk}/change/", asked).status_code == 302


def test_calling_off_needs_a_reason_and_can_be_taken_back(
    office_client: Any,
) -> None:
    job = make_job()
    answer = office_client.post(f"/jobs/{job.pk}/close/", {"state": "off"})
    assert answer.status_code == 422
    assert "why it is called off" in answer.content.decode()
    office_client.post(f"/jobs/{job.pk}/close/", {"state": "off", "reason": "Sold"})
    job.refresh_from_db()
    assert job.state == "off"
    office_client.post(f"/jobs/{job.pk}/open/", {"reason": "Bought back"})
    job.refresh_from_db()
    assert job.is_open()
    whats = list(job.events.order_by("pk").values_list("what", flat=True))
    assert whats == ["booked", "called off", "opened again"]


def test_closing_is_not_for_the_crew_and_only_posted(
    crew_client: Any, office_client: Any
) -> None:
    job = make_job()
    for verb in ("close", "open"):
        address = f"/jobs/{job.pk}/{verb}/"
        assert crew_client.post(address, {"state": "done"}).status_code == 403
        assert office_client.get(address).status_code == 405


@pytest.mark.parametrize(
    "broken",
    [
        {"title": ""},
        {"state": "lost"},
        {"present_seam_height_mm": 0},
        {"wished_from": "2026-12-02", "wished_until": "2026-12-01"},
        {"install_from": "2026-12-02", "install_until": "2026-12-01"},
    ],
)
def test_the_database_keeps_its_promises(broken: dict[str, Any]) -> None:
    job = make_job()
    with pytest.raises(IntegrityError), transaction.atomic():
        Job.objects.filter(pk=job.pk).update(**broken)
