from __future__ import annotations

from typing import Any

import pytest

from jobs import booking
from jobs.models import Client
from tests.world import make_client, make_job

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("words", ["quill", "0199", "alder", "quill@"])
def test_clients_are_found_by_any_of_their_words(words: str, crew_client: Any) -> None:
    make_client(phone="555 0199", email="quill@quill.example", address="2 Alder Row")
    make_client("Somebody Else")
    page = crew_client.get("/clients/", {"words": words}).content.decode()
    assert "Marigold Quill" in page
    assert "Somebody Else" not in page


def test_a_client_is_shown_with_their_jobs(crew_client: Any) -> None:
    job = make_job(title="North slope")
    page = crew_client.get(f"/clients/{job.client_id}/").content.decode()
    assert "North slope" in page


def test_a_client_is_added_and_changed_by_the_office(office_client: Any) -> None:
    office_client.post("/clients/new/", {"name": "Marigold Quill"})
    client = Client.objects.get()
    asked = {"name": "Marigold Quill", "phone": "555 0199", "version": client.version}
    office_client.post(f"/clients/{client.pk}/change/", asked)
    client.refresh_from_db()
    assert (client.phone, client.version) == ("555 0199", 2)


def test_a_change_is_in_the_log_of_open_jobs(office: Any) -> None:
    job = make_job()
    booking.change_client(job.client, office, {"phone": "555 0100"}, 1)
    event = job.events.first()
    assert event is not None
    assert (event.before, event.after) == ("phone: none", "phone: 555 0100")


def test_faults_are_told_and_nothing_is_lost(office_client: Any) -> None:
    asked = {"name": "", "email": "not an address", "note": "Likes tea"}
    answer = office_client.post("/clients/new/", asked)
    page = answer.content.decode()
    assert answer.status_code == 422
    assert '<a href="#id_name">Name: Write the client’s name.</a>' in page
    assert '<a href="#id_email">' in page
    assert "Likes tea" in page


def test_the_second_to_save_is_told(office_client: Any, owner: Any) -> None:
    client = make_client()
    booking.change_client(client, owner, {"phone": "555 0100"}, 1)
    asked = {"name": "Mari Quill", "version": 1}
    answer = office_client.post(f"/clients/{client.pk}/change/", asked)
    assert answer.status_code == 409
    assert "Mari Quill" in answer.content.decode()
    client.refresh_from_db()
    assert client.phone == "555 0100"


def test_doors_and_methods(
    crew_client: Any, office_client: Any, stranger_client: Any
) -> None:
    client = make_client()
    assert crew_client.get("/clients/new/").status_code == 403
    assert crew_client.post(f"/clients/{client.pk}/change/").status_code == 403
    assert office_client.post("/clients/").status_code == 405
    assert office_client.post(f"/clients/{client.pk}/").status_code == 405
    assert office_client.get("/clients/99999/").status_code == 404
    assert stranger_client.get("/clients/").status_code == 302
