"""A client is found by words: no page offers all of them."""

from __future__ import annotations

from typing import Any

import pytest

from jobs.forms import picking
from jobs.models import Client, Job
from tests.world import make_client, make_job

pytestmark = pytest.mark.django_db

TYPED = {"title": "Chimney", "leaks": "Stain", "visit_on": "25 Nov 2026"}


def offered(answer: Any) -> list[str]:
    return [
        label for _, label in answer.context["form"].fields["client"].widget.choices
    ]


def names(*many: str) -> list[Client]:
    return [make_client(name) for name in many]


@pytest.mark.parametrize("address", ["/jobs/", "/jobs/new/", "/jobs/{}/change/"])
def test_no_page_grows_with_the_clients(address: str, office_client: Any) -> None:
    job = make_job()
    for number in range(60):
        make_client(f"Household {number:03}")
    page = office_client.get(address.format(job.pk)).content.decode()
    assert page.count("Household") <= picking.MOST


def test_a_booking_offers_the_newest_and_whoever_was_asked_for(
    office_client: Any,
) -> None:
    first, *_, last = names(*(f"Household {number}" for number in range(9)))
    page = office_client.get("/jobs/new/", {"client": first.pk})
    assert offered(page)[:3] == [picking.NEW, first.name, last.name]
    assert len(offered(page)) == 2 + picking.MOST
    assert f'value="{first.pk}" id="id_client_1" checked' in page.content.decode()


def test_looking_for_a_client_saves_nothing_and_loses_nothing(
    office_client: Any,
) -> None:
    make_client("Barnaby Thistledown", phone="555 0142", address="2 Alder Row\nTarn")
    make_client("Philippa Wrenfield")
    asked = {**TYPED, "find": "thistle", "look": "1"}
    answer = office_client.post("/jobs/new/", asked)
    page = answer.content.decode()
    assert answer.status_code == 200
    assert offered(answer) == [
        picking.NEW,
        "Barnaby Thistledown · 555 0142 · 2 Alder Row, Tarn",
    ]
    assert "1 found." in page and "Put this right" not in page
    for words in ("Chimney", "Stain", "25 Nov 2026", "thistle"):
        assert words in page
    assert not Job.objects.exists()


def test_words_with_nobody_picked_are_looked_for_not_refused(
    office_client: Any,
) -> None:
    client = make_client("Barnaby Thistledown")
    answer = office_client.post("/jobs/new/", {**TYPED, "find": "barnaby"})
    assert answer.status_code == 200 and not Job.objects.exists()
    picked = {**TYPED, "find": "barnaby", "client": client.pk}
    assert office_client.post("/jobs/new/", picked).status_code == 302
    assert Job.objects.get().client == client


def test_one_not_found_is_written_down_as_new(office_client: Any) -> None:
    asked = {**TYPED, "find": "Quill", "look": "1", "client_name": "Marigold Quill"}
    page = office_client.post("/jobs/new/", asked).content.decode()
    assert "None found." in page and "Marigold Quill" in page
    del asked["look"]
    assert office_client.post("/jobs/new/", asked).status_code == 302
    assert Job.objects.get().client.name == "Marigold Quill"


def test_nobody_books_for_one_while_another_is_searched_for(
    office_client: Any,
) -> None:
    barnaby, philippa = names("Barnaby Thistledown", "Philippa Wrenfield")
    asked = {**TYPED, "find": "philippa", "client": barnaby.pk}
    answer = office_client.post("/jobs/new/", asked)
    assert answer.status_code == 422 and not Job.objects.exists()
    page = answer.content.decode()
    assert "Barnaby Thistledown is chosen, but “philippa” was searched for." in page
    assert offered(answer)[1:] == [barnaby.name, philippa.name]


def test_too_many_found_are_told_not_shown(office_client: Any) -> None:
    names(*(f"Household {number}" for number in range(9)))
    answer = office_client.post("/jobs/new/", {"find": "household", "look": "1"})
    assert len(offered(answer)) == 1 + picking.MOST
    assert f"More than {picking.MOST} found." in answer.content.decode()


def test_a_job_is_given_to_another_client(office_client: Any) -> None:
    job, other = make_job(), make_client("Philippa Wrenfield")
    address = f"/jobs/{job.pk}/change/"
    assert offered(office_client.get(address)) == [job.client.name]
    typed = {**TYPED, "client": job.client_id, "version": job.version}
    looked = office_client.post(address, {**typed, "find": "philippa", "look": "1"})
    assert offered(looked) == [job.client.name, other.name]
    assert f'name="version" value="{job.version}"' in looked.content.decode()
    sent = {**typed, "find": "philippa", "client": other.pk}
    assert office_client.post(address, sent).status_code == 302
    job.refresh_from_db()
    assert job.client == other


@pytest.mark.parametrize("picked", ["x", "9" * 30, "-1"])
def test_a_client_that_is_not_there_is_told(picked: str, office_client: Any) -> None:
    asked = {**TYPED, "client": picked}
    answer = office_client.post("/jobs/new/", asked)
    assert answer.status_code == 422
    assert "This client is not there. Choose another." in answer.content.decode()
    assert office_client.get("/jobs/new/", {"client": picked}).status_code == 200


@pytest.mark.parametrize("words", ["\0", "a" * 500, "%", "  "])
def test_odd_words_break_nothing(words: str, office_client: Any) -> None:
    make_client()
    asked = {**TYPED, "find": words, "look": "1"}
    assert office_client.post("/jobs/new/", asked).status_code == 200
    asked = {**TYPED, "client": words}
    assert office_client.post("/jobs/new/", asked).status_code == 422


def test_only_those_who_book_look_for_clients(crew_client: Any) -> None:
    asked = {"find": "quill", "look": "1"}
    assert crew_client.post("/jobs/new/", asked).status_code == 403


def test_the_list_says_whose_jobs_it_shows_and_how_to_see_all(
    crew_client: Any,
) -> None:
    client = make_client("Philippa Wrenfield")
    make_job(title="Hers", client=client)
    make_job(title="Another")
    page = crew_client.get(f"/clients/{client.pk}/").content.decode()
    assert f'href="/jobs/?client={client.pk}"' in page
    asked = {"client": client.pk, "show": "all", "page": "1"}
    page = crew_client.get("/jobs/", asked).content.decode()
    assert "Hers" in page and "Another" not in page
    assert f'type="hidden" name="client" value="{client.pk}"' in page
    assert 'href="/jobs/?show=all">Jobs of every client' in page
    assert "every client" not in crew_client.get("/jobs/").content.decode()


def test_a_list_of_nobodys_jobs_is_told(crew_client: Any) -> None:
    page = crew_client.get("/jobs/", {"client": "999"}).content.decode()
    assert "There is no such client." in page
    assert 'name="client"' not in page
