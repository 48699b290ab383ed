from __future__ import annotations

from typing import Any

import pytest

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


def test_the_log_tells_who_did_what(office_client: Any, office: Any) -> None:
    job = make_job(office)
    page = office_client.get(f"/jobs/{job.pk}/log/").content.decode()
    assert "<strong>Wren</strong> booked: Chimney over the kitchen" in page
    assert office_client.post(f"/jobs/{job.pk}/log/").status_code == 405
