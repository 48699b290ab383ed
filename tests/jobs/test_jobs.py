from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest
from django.utils import timezone

from jobs.models import Job
from tests.world import make_client, make_job, make_piece, make_rule, make_site, measure

pytestmark = pytest.mark.django_db


def titles(answer: Any) -> list[str]:
    return [job.title for job, _ in answer.context["rows"]]


def test_the_list_shows_open_jobs_newest_first(crew_client: Any) -> None:
    for title in ("First", "Second"):
        make_job(title=title)
    Job.objects.filter(pk=make_job(title="Done").pk).update(state="done")
    assert titles(crew_client.get("/jobs/")) == ["Second", "First"]
    assert titles(crew_client.get("/jobs/?show=closed")) == ["Done"]
    assert len(titles(crew_client.get("/jobs/?show=all"))) == 3


@pytest.mark.parametrize("words", ["1", "north", "QUILL north", "juniper", "NORTH 1"])
def test_search_finds_by_number_title_client_or_address(
    words: str, office_client: Any
) -> None:
    make_job(title="North slope", site_address="7 Juniper Bend")
    make_job(title="Another", client=make_client("Somebody Else"))
    found = titles(office_client.get("/jobs/", {"words": words}))
    assert found == ["North slope"]


def test_waiting_for_measures_are_those_unmeasured_or_with_a_piece_only_asked(
    office_client: Any,
) -> None:
    make_job(title="Nothing measured")
    done = make_site(make_job(title="All measured"))
    again = make_site(make_job(title="To be measured again"))
    for site in (done, again):
        measure(site)
    make_piece(again.job, "asked")
    make_piece(done.job, "laid_out")
    found = titles(office_client.get("/jobs/?show=waiting"))
    assert found == ["To be measured again", "Nothing measured"]


def test_this_week_and_by_client(office_client: Any) -> None:
    today = timezone.localdate()
    client = make_client("Philippa Wrenfield")
    make_job(title="Visit now", visit_on=today)
    later = today + timedelta(days=14)
    make_job(title="Later", visit_on=later, client=client)
    earlier = today - timedelta(days=20)
    make_job(title="Long install", install_from=earlier, install_until=later)
    assert titles(office_client.get("/jobs/?show=week")) == [
        "Long install",
        "Visit now",
    ]
    assert titles(office_client.get("/jobs/", {"client": client.pk})) == ["Later"]


@pytest.mark.parametrize(
    "query",
    [
        "client=9999999999999999999",
        "show=lost",
        "page=x",
        "words=%00",
        "words=" + "9" * 30,
    ],
)
def test_odd_addresses_break_nothing(query: str, office_client: Any) -> None:
    make_job()
    assert office_client.get(f"/jobs/?{query}").status_code == 200


def test_the_list_counts_pieces_by_stage(office_client: Any) -> None:
    job = make_job()
    for state in ("cut", "cut", "installed"):
        make_piece(job, state)
    ((_, stages),) = office_client.get("/jobs/").context["rows"]
    assert stages == [("cut", 2), ("installed", 1)]


def test_the_page_reads_in_the_order_of_the_job(owner_client: Any) -> None:
    page = owner_client.get(f"/jobs/{make_job().pk}/").content.decode()
    names = ["looks", "site", "pieces", "metal", "papers", "money", "log"]
    places = [page.index(f'id="{name}"') for name in names]
    assert places == sorted(places)
    assert all(f'href="#{name}"' in page for name in names)


def test_money_is_only_for_office_and_owner(
    crew_client: Any, office_client: Any, owner_client: Any
) -> None:
    address = f"/jobs/{make_job().pk}/"
    assert b"money" not in crew_client.get(address).content.lower()
    for client in (office_client, owner_client):
        assert b'id="money"' in client.get(address).content


def test_days_can_not_be_mistaken(office_client: Any) -> None:
    job = make_job(visit_on=date(2026, 11, 25))
    page = office_client.get(f"/jobs/{job.pk}/").content.decode()
    assert "Wed 25 Nov 2026" in page


def test_lengths_are_shown_as_a_tape_says_them(office_client: Any) -> None:
    job = make_job(present_pan_width_mm="314.325")
    page = office_client.get(f"/jobs/{job.pk}/").content.decode()
    assert "pans 12 3/8 in wide" in page


def test_a_page_needs_the_right_method_person_and_job(
    office_client: Any, stranger_client: Any
) -> None:
    address = f"/jobs/{make_job().pk}/"
    assert office_client.post(address).status_code == 405
    assert stranger_client.get(address).status_code == 302
    answer = office_client.get("/jobs/999999/")
    assert answer.status_code == 404
    assert "There is no such page" in answer.content.decode()
    assert office_client.get("/jobs/99999999999999999999999/").status_code == 404


def test_what_people_type_is_shown_not_run(office_client: Any) -> None:
    job = make_job(title="<script>alert(1)</script>", leaks="<b>drip</b>")
    make_rule(job, words="<img src=x>")
    page = office_client.get(f"/jobs/{job.pk}/").content.decode()
    assert "<script>alert" not in page and "<b>drip" not in page
    assert "<img" not in page


def _world(jobs: int, pieces: int) -> Job:
    for _ in range(jobs):
        job = make_job(visit_on=timezone.localdate())
        for state in ("laid_out", "cut", "bent")[:pieces]:
            make_piece(job, state)
        make_rule(job)
        measure(job.sites.get())
    return job


@pytest.mark.parametrize("address", ["/jobs/", "/jobs/week/", "/clients/", "/today/"])
def test_a_list_asks_the_database_as_often_for_many_jobs_as_for_few(
    address: str, office_client: Any, django_assert_num_queries: Any
) -> None:
    _world(10, 1)
    office_client.get(address)
    few = _queries(office_client, address)
    _world(30, 3)
    with django_assert_num_queries(few):
        office_client.get(address)


def test_a_job_asks_the_database_as_often_for_many_pieces_as_for_few(
    office_client: Any, django_assert_num_queries: Any
) -> None:
    job = _world(1, 1)
    office_client.get(job.get_absolute_url())
    few = _queries(office_client, job.get_absolute_url())
    for _ in range(40):
        make_piece(job, "laid_out")
        make_rule(job)
        measure(job.sites.get())
    _world(20, 3)
    with django_assert_num_queries(few):
        office_client.get(job.get_absolute_url())


def _queries(client: Any, address: str) -> int:
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    with CaptureQueriesContext(connection) as asked:
        client.get(address)
    return len(asked)
