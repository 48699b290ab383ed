"""A place may be left out of the layout and taken in again; no mark changes."""

from __future__ import annotations

import json
from typing import Any

import pytest

from jobs import booking, progress
from jobs.models import Event, Job, Site
from layout.faults import BadRecord
from layout.laying import lay_out_job
from layout.models import LaidPiece
from tests.layout.elsewhere_measured import RECORDS, place, sheet
from tests.layout.measured import measured_job

pytestmark = pytest.mark.usefixtures("opened")


@pytest.fixture
def two_places(crew_client: Any) -> tuple[Job, Site]:
    """A chimney and a pipe, both measured."""
    job = measured_job()
    return job, measured_pipe(crew_client, job)


def measured_pipe(client: Any, job: Job) -> Site:
    record = RECORDS["pipe-conical-zinc-mm"]
    site = place(job, record, "vent")
    answer = client.post(f"/jobs/{job.pk}/measure/{site.pk}/", sheet(record))
    assert answer.status_code == 302
    return site


def marks(job: Job) -> set[str]:
    layout = lay_out_job(job, job.created_by)
    assert layout.is_done(), layout.reason
    return set(layout.laid_pieces.values_list("mark", flat=True))


def test_a_place_added_by_mistake_does_not_hold_up_the_job() -> None:
    job = measured_job()
    alone = marks(job)
    mistaken = place(job, RECORDS["valley-copper-in"])
    with pytest.raises(BadRecord):
        lay_out_job(job, job.created_by)
    booking.leave_out(mistaken, job.created_by, "counted twice")
    # Nothing was ever marked by its place, so nothing is marked anew.
    assert marks(job) == alone
    told = Event.objects.filter(job=job, what="left out a place").get()
    assert (told.about, told.reason) == ("valley", "counted twice")


def test_a_place_left_out_keeps_its_number_and_what_is_cut(
    crew_client: Any, two_places: tuple[Job, Site]
) -> None:
    job, vent = two_places
    third = measured_pipe(crew_client, job)
    all_three = marks(job)
    cut = job.pieces.get(mark="2-F")
    progress.advance([cut], "cut", job.created_by)
    booking.leave_out(vent, job.created_by, "the plumber brings his own")
    assert marks(job) == {mark for mark in all_three if not mark.startswith("2-")}
    cut.refresh_from_db()
    assert (cut.mark, cut.state, cut.held) == ("2-F", "cut", False)
    assert job.pieces.get(mark="2-S").held
    assert LaidPiece.objects.of(job.pieces.get(mark="3-S")) is not None
    booking.leave_out(third, job.created_by, "his as well")
    assert {mark[:2] for mark in marks(job)} == {"1-"}
    booking.take_in(vent, job.created_by)
    assert {mark[:2] for mark in marks(job)} == {"1-", "2-"}
    again = job.pieces.get(mark="2-S")
    assert (again.state, again.held) == ("laid_out", False)


def test_the_first_place_may_be_left_out(two_places: tuple[Job, Site]) -> None:
    job, _ = two_places
    booking.leave_out(job.sites.first(), job.created_by, "torn down")
    assert marks(job) == {"2-S", "2-F"}
    assert job.layouts.first().unit == "mm"


def test_one_place_must_be_left_and_a_closed_job_stays(
    two_places: tuple[Job, Site],
) -> None:
    job, vent = two_places
    with pytest.raises(ValueError, match="Reason: say in a few words"):
        booking.leave_out(vent, job.created_by, "  ")
    booking.leave_out(vent, job.created_by, "no")
    with pytest.raises(ValueError, match="is the only place"):
        booking.leave_out(job.sites.first(), job.created_by, "nor this")
    with pytest.raises(ValueError, match="is left out already"):
        booking.leave_out(vent, job.created_by, "twice")
    booking.close(job, job.created_by, "off", "sold")
    with pytest.raises(ValueError, match="Open it again"):
        booking.take_in(vent, job.created_by)


def test_it_is_left_out_and_taken_in_on_the_pages(
    crew_client: Any, two_places: tuple[Job, Site]
) -> None:
    job, vent = two_places
    page = crew_client.get(f"/sites/{vent.pk}/").content.decode()
    assert "Leave this place out" in page
    refused = crew_client.post(f"/sites/{vent.pk}/leave-out/", {"reason": ""})
    assert refused.status_code == 422
    done = crew_client.post(
        f"/sites/{vent.pk}/leave-out/", {"reason": "<i>gone</i>"}, follow=True
    )
    page = done.content.decode()
    assert "Left out:</strong> &lt;i&gt;gone" in page and "Vent is left out" in page
    layout_page = crew_client.get(f"/jobs/{job.pk}/layout/").content.decode()
    assert f"p{vent.pk}-metal" not in layout_page
    done = crew_client.post(f"/sites/{vent.pk}/take-in/", follow=True)
    assert "Vent is taken in again" in done.content.decode()
    assert "Left out:" not in done.content.decode()
    assert crew_client.get(f"/sites/{vent.pk}/take-in/").status_code == 405


def test_the_api_leaves_out_and_takes_in(
    crew_client: Any, stranger_client: Any, two_places: tuple[Job, Site]
) -> None:
    job, vent = two_places

    def send(client: Any, act: str, **given: str) -> Any:
        url = f"/api/v1/sites/{vent.pk}/{act}/"
        return client.post(url, json.dumps(given), content_type="application/json")

    assert send(stranger_client, "leave_out", reason="x").status_code in (401, 403)
    assert send(crew_client, "leave_out").status_code == 400
    done = send(crew_client, "leave_out", reason="not now")
    assert (done.status_code, done.json()["left_out_because"]) == (200, "not now")
    assert send(crew_client, "leave_out", reason="twice").status_code == 409
    assert send(crew_client, "take_in").json()["left_out_because"] == ""
