from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

import pytest
from django.utils import timezone

from jobs.models import Event
from jobs.models.events import EventsStay
from tests.world import make_job

pytestmark = pytest.mark.django_db


def test_an_event_can_be_added_but_never_changed_or_removed() -> None:
    make_job()
    event = Event.objects.get()
    event.reason = "not so"
    for act in (
        event.save,
        event.delete,
        Event.objects.all().delete,
        lambda: Event.objects.update(reason="not so"),
    ):
        with pytest.raises(EventsStay):
            act()
    assert Event.objects.get().reason == ""


def test_the_owner_sees_events_in_the_shop_but_can_change_none(
    owner_client: Any,
) -> None:
    make_job(title="North slope")
    event = Event.objects.get()
    address = f"/shop/jobs/event/{event.pk}/change/"
    assert b"North slope" in owner_client.get(address).content
    assert owner_client.post(address, {"reason": "not so"}).status_code == 403
    assert owner_client.get("/shop/jobs/event/add/").status_code == 403
    delete = f"/shop/jobs/event/{event.pk}/delete/"
    assert owner_client.post(delete, {"post": "yes"}).status_code == 403


def test_the_owner_looks_at_events_year_by_year(owner_client: Any) -> None:
    assert owner_client.get("/shop/jobs/event/").status_code == 200
    job = make_job(title="North slope")
    now = timezone.localdate().year
    long_ago = datetime(now - 2, 6, 1, 12, tzinfo=UTC)
    Event.objects.create(job=job, what="cut", about="Long gone", at=long_ago)

    def shown(**asked: str) -> str:
        return owner_client.get("/shop/jobs/event/", asked).content.decode()

    every = shown()
    assert all(f"?year={year}" in every for year in (now, now - 1, now - 2))
    assert f"?year={now - 3}" not in every
    assert "Long gone" in every and "booked" in every
    assert "Long gone" in shown(year=str(now - 2))
    assert "Long gone" not in shown(year=str(now - 1))
    assert "Long gone" in shown(year="x") and "Long gone" in shown(year="\0")


def test_the_log_tells_who_did_what(office_client: Any, office: Any) -> None:
    job = make_job(office)
    page = office_client.get(f"/jobs/{job.pk}/log/").content.decode()
    assert "<strong>Wren</strong> booked: Chimney over the kitchen" in page
    assert office_client.post(f"/jobs/{job.pk}/log/").status_code == 405
