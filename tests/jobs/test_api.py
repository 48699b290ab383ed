from __future__ import annotations

from typing import Any

import pytest

from jobs import progress
from jobs.models import Job, Measurement, Piece
from tests.world import make_client, make_job, make_piece, make_rule, make_site, measure

pytestmark = pytest.mark.django_db


class Caller:
    """Sends JSON as a signed-in person; gives (status, answer)."""

    def __init__(self, client: Any) -> None:
        self.client = client

    def __call__(self, how: str, path: str, **body: Any) -> tuple[int, Any]:
        send = getattr(self.client, how)
        if how == "get":
            answer = send(f"/api/v1/{path}", body)
        else:
            answer = send(f"/api/v1/{path}", body, content_type="application/json")
        return answer.status_code, answer.json()


@pytest.fixture
def office_calls(office_client: Any) -> Caller:
    return Caller(office_client)


@pytest.fixture
def crew_calls(crew_client: Any) -> Caller:
    return Caller(crew_client)


def test_a_job_is_booked_and_changed(office_calls: Caller) -> None:
    _, client = office_calls("post", "clients/", name="Marigold Quill")
    status, job = office_calls(
        "post",
        "jobs/",
        client=client["id"],
        title="Chimney",
        install_from="2026-12-01",
    )
    assert (status, job["number"], job["install_until"]) == (201, 1, "2026-12-01")
    status, changed = office_calls(
        "patch", f"jobs/{job['id']}/", title="Chimney, north", version=1
    )
    assert (status, changed["title"], changed["version"]) == (200, "Chimney, north", 2)
    status, told = office_calls("patch", f"jobs/{job['id']}/", title="Mine", version=1)
    assert status == 409
    assert "saved it first" in told["detail"]


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({"title": ""}, "title"),
        ({"client": 9999}, "client"),
        ({"client": 10**30}, "client"),
        ({"present_pan_width_mm": 0}, "present_pan_width_mm"),
        ({"wished_from": "2026-12-02", "wished_until": "2026-12-01"}, "wished_until"),
        ({"install_until": "2026-12-01"}, "install_from"),
        ({"visit_on": "11/12/2026"}, "visit_on"),
        ({"title": "a\x00b"}, "title"),
    ],
)
def test_a_faulty_job_is_told_by_field(
    given: dict[str, Any], field: str, office_calls: Caller
) -> None:
    whole = {"client": make_client().pk, "title": "Chimney", **given}
    status, told = office_calls("post", "jobs/", **whole)
    assert status == 400
    assert list(told) == [field]
    assert not Job.objects.exists()


def test_jobs_are_found_and_filtered(crew_calls: Caller) -> None:
    make_job(title="North")
    measure(make_site(make_job(title="South")))
    for given, titles in (
        ({"words": "north"}, ["North"]),
        ({"waiting_for_measures": "true"}, ["North"]),
        ({"state": "done"}, []),
        ({}, ["South", "North"]),
    ):
        _, page = crew_calls("get", "jobs/", **given)
        assert [job["title"] for job in page["results"]] == titles
    assert crew_calls("get", "jobs/", state="lost")[0] == 400


def test_a_job_is_closed_with_a_reason_and_opened_again(office_calls: Caller) -> None:
    job = make_job()
    path = f"jobs/{job.pk}/"
    assert office_calls("post", path + "close/", state="off")[0] == 400
    status, closed = office_calls("post", path + "close/", state="off", reason="Sold")
    assert (status, closed["state"]) == (200, "off")
    assert office_calls("post", path + "close/", state="off", reason="Sold")[0] == 409
    assert office_calls("post", path + "open/", reason="Back")[1]["state"] == "open"


def test_a_rule_of_looks_is_asked_and_settled(office_calls: Caller) -> None:
    job = make_job()
    asked = {"job": job.pk, "kind": "seam_height", "words": "Same", "who_asked": "MQ"}
    assert office_calls("post", "looks/", **asked)[0] == 400
    _, rule = office_calls("post", "looks/", **asked, number_mm="25.4")
    path = f"looks/{rule['id']}/settle/"
    word = {"standing": "agreed", "settled_by": "MQ"}
    assert office_calls("post", path, **word)[1]["standing"] == "agreed"
    assert office_calls("post", path, **word)[0] == 409


@pytest.mark.parametrize(
    ("reads", "as_typed", "field", "value"),
    [
        ("length", "12 3/8", "value_mm", "314.325000"),
        ("pitch", "45°", "value_deg", "45.00000000"),
        ("angle", "56.3", "value_deg", "56.30000000"),
        ("word", "brick", "value_text", "brick"),
    ],
)
def test_a_measure_is_taken_as_typed(
    reads: str, as_typed: str, field: str, value: str, crew_calls: Caller
) -> None:
    taken = {"site": make_site().pk, "name": "some.thing"}
    taken |= {"as_typed": as_typed, "reads": reads, "key": "tap"}
    status, row = crew_calls("post", "measurements/", **taken)
    assert (status, row[field], row["as_typed"]) == (201, value, as_typed)
    assert row["counts"] == "Counts: the only one taken."
    crew_calls("post", "measurements/", **taken)
    assert Measurement.objects.count() == 1


@pytest.mark.parametrize(
    "given",
    [
        {"as_typed": "12 3/0"},
        {"as_typed": "8:12"},
        {"name": "Some Thing"},
        {"reads": "guess"},
        {"as_typed": "400", "reads": "angle"},
        {"as_typed": "99999999999"},
    ],
)
def test_a_measure_that_can_not_be_read_is_told(
    given: dict[str, str], crew_calls: Caller
) -> None:
    taken = {"site": make_site().pk, "name": "some.thing", "as_typed": "1"}
    taken["reads"] = "length"
    assert crew_calls("post", "measurements/", **{**taken, **given})[0] == 400
    assert not Measurement.objects.exists()


def test_an_older_measure_is_chosen(crew_calls: Caller) -> None:
    site = make_site()
    first = measure(site, as_typed="36")
    measure(site, as_typed="37")
    path = f"measurements/{first.pk}/choose/"
    _, row = crew_calls("post", path, reason="drier day")
    assert "drier day" in row["counts"]
    assert crew_calls("post", path, reason="")[0] == 400


def test_hazards_are_noted(crew_calls: Caller) -> None:
    site = make_site()
    status, now = crew_calls("patch", f"sites/{site.pk}/", hazards="Wasps")
    assert (status, now["hazards"]) == (200, "Wasps")
    assert crew_calls("get", "sites/", job=site.job_id)[1]["count"] == 1


def test_a_piece_goes_its_way_by_the_verbs(crew_calls: Caller) -> None:
    job = make_job()
    asked = {"job": job.pk, "mark": "SL", "family": "side_pan", "hand": "left"}
    status, piece = crew_calls("post", "pieces/", **asked)
    assert (status, piece["state"]) == (201, "asked")
    assert crew_calls("post", "pieces/", **asked)[0] == 409
    path = f"pieces/{piece['id']}/"
    told = crew_calls("post", path + "advance/", to="measured", version=1)[1]
    assert (told["state"], told["version"]) == ("measured", 2)
    assert crew_calls("post", path + "advance/", to="bent")[0] == 409
    assert crew_calls("post", path + "undo/", reason="Slip")[1]["state"] == "asked"
    assert crew_calls("post", path + "hold/", reason="No metal")[1]["held"]
    assert not crew_calls("post", path + "release/")[1]["held"]
    new = crew_calls("post", path + "scrap/", reason="metal_flawed", note="Rust")[1]
    assert (new["remake_of"], new["making"]) == (piece["id"], 2)


def test_the_second_of_two_is_told(crew_calls: Caller, office: Any) -> None:
    piece = make_piece(mark="SL")
    progress.advance([piece], "cut", office)
    path = f"pieces/{piece.pk}/advance/"
    status, told = crew_calls("post", path, to="bent", version=1)
    assert status == 409
    assert told["detail"].startswith("SL: Wren changed it first, it is now cut.")


def test_a_key_acts_once(crew_calls: Caller) -> None:
    piece = make_piece()
    for _ in range(2):
        status, _ = crew_calls(
            "post", f"pieces/{piece.pk}/advance/", to="cut", version=1, key="tap"
        )
        assert status == 200
    assert piece.events.filter(after="cut").count() == 1


def test_several_pieces_move_all_or_none(crew_calls: Caller) -> None:
    job = make_job()
    pieces = [make_piece(job), make_piece(job, "asked")]
    sent = {
        "job": job.pk,
        "to": "cut",
        "pieces": [{"id": piece.pk, "version": 1} for piece in pieces],
    }
    assert crew_calls("post", "pieces/advance/", **sent)[0] == 409
    assert not Piece.objects.filter(state="cut").exists()
    sent["pieces"] = sent["pieces"][:1]
    status, moved = crew_calls("post", "pieces/advance/", **sent)
    assert (status, [piece["state"] for piece in moved]) == (200, ["cut"])
    sent["pieces"] = [{"id": 99999}]
    assert crew_calls("post", "pieces/advance/", **sent)[0] == 400


def test_events_are_read_and_nothing_else(crew_calls: Caller, office: Any) -> None:
    job = make_job(office)
    _, page = crew_calls("get", "events/", job=job.pk)
    (event,) = page["results"]
    assert (event["what"], event["who"]) == ("booked", "Wren")
    assert crew_calls("post", "events/", what="lied")[0] == 405


def test_the_crew_books_nothing(crew_calls: Caller) -> None:
    rule = make_rule()
    for how, path in (
        ("post", "clients/"),
        ("post", "jobs/"),
        ("patch", f"jobs/{rule.job_id}/"),
        ("post", f"jobs/{rule.job_id}/close/"),
        ("post", "looks/"),
        ("post", f"looks/{rule.pk}/settle/"),
    ):
        assert crew_calls(how, path, name="x", title="x")[0] == 403, path


@pytest.mark.parametrize(
    "path", ["clients", "jobs", "looks", "sites", "measurements", "pieces", "events"]
)
def test_a_stranger_sees_nothing(path: str, stranger_client: Any) -> None:
    assert stranger_client.get(f"/api/v1/{path}/").status_code == 401


@pytest.mark.parametrize("path", ["clients", "jobs", "looks", "sites", "pieces"])
def test_what_is_not_there_is_not_found(path: str, office_client: Any) -> None:
    for pk in ("9999", "9" * 18, "9" * 30, "x"):
        assert office_client.get(f"/api/v1/{path}/{pk}/").status_code == 404


@pytest.mark.parametrize(
    "path", ["jobs", "pieces", "measurements", "events", "looks", "clients", "sites"]
)
def test_lists_ask_the_database_as_often_for_many_as_for_few(
    path: str, office_client: Any, django_assert_num_queries: Any
) -> None:
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    def grow(number: int) -> None:
        for _ in range(number):
            job = make_job()
            make_piece(job), make_rule(job), measure(job.sites.get())

    grow(3)
    with CaptureQueriesContext(connection) as few:
        office_client.get(f"/api/v1/{path}/")
    grow(12)
    with django_assert_num_queries(len(few)):
        office_client.get(f"/api/v1/{path}/")
