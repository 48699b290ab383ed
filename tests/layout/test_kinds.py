"""Every kind of place is measured and laid out through the pages, alone or mixed."""

from __future__ import annotations

import json
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from jobs import booking, progress
from jobs.models import Event, Measurement, Site
from layout import reading, run, section_text, site_record, stored
from layout.laying import lay_out_job
from layout.measures import SHEETS
from layout.models import Layout
from layout.set_file import set_file
from tests.layout.elsewhere_measured import (
    PROFILE,
    RECORDS,
    VALLEY,
    job_of,
    kind_of,
    place,
    sheet,
)
from tests.layout.measured import RECORD, measured_job

pytestmark = pytest.mark.usefixtures("opened")


def _measure(client: Any, site: Site, record: dict[str, Any]) -> None:
    url = f"/jobs/{site.job_id}/measure/{site.pk}/"
    answer = client.post(url, sheet(record))
    assert answer.status_code == 302, answer.content.decode()


def _mixed(client: Any) -> Any:
    """A chimney, a pipe and a wall in one job, the last two in other units."""
    job = measured_job()
    for name in ("pipe-conical-zinc-mm", "side-wall-copper-in"):
        record = RECORDS[name]
        _measure(client, place(job, record, name), record)
    return job


def test_every_kind_that_can_be_laid_out_has_a_sheet_and_a_name() -> None:
    assert set(SHEETS) == set(Site.Kind.values)
    fields = {sheet.field for sheet in SHEETS.values()}
    assert fields == set(site_record.SCHEMA_OF)
    assert {kind_of(record) for record in RECORDS.values()} == fields - {"penetration"}


@pytest.mark.parametrize("name", RECORDS)
def test_a_kind_measured_on_the_sheet_gives_the_set_of_its_record(
    crew_client: Any, name: str
) -> None:
    record = RECORDS[name]
    job = job_of(record)
    _measure(crew_client, job.sites.get(), record)
    answer = crew_client.post(
        f"/jobs/{job.pk}/layout/", {"metal": record["metal"]}, follow=True
    )
    layout = Layout.objects.get()
    assert "laid out and proven" in answer.content.decode(), layout.reason
    brief = reading.brief(job)
    wanted = run.lay_out(record, brief.facts.__getitem__)
    made = stored.laid_set(layout)
    assert json.dumps(set_file(made)) == json.dumps(set_file(wanted))
    assert layout.unit == record["units"]
    for laid in layout.laid_pieces.all():
        assert crew_client.get(f"/laid/{laid.pk}/").status_code == 200
        for view in ("flat", "section", "folded"):
            drawn = crew_client.get(f"/laid/{laid.pk}/{view}.svg")
            assert drawn.status_code == 200
    assert crew_client.get(f"/jobs/{job.pk}/").status_code == 200


@pytest.mark.parametrize("kind", SHEETS)
def test_every_measure_of_a_kind_has_a_field(crew_client: Any, kind: str) -> None:
    job = measured_job()
    site = booking.add_site(job, job.created_by, kind=kind, units="mm")
    page = crew_client.get(f"/jobs/{job.pk}/measure/{site.pk}/").content.decode()
    for measure in SHEETS[kind].measures:
        assert f'id="id_{measure.slug}"' in page
    assert page.count('<svg class="picture"') == len(SHEETS[kind].measures)


def test_a_place_is_added_on_a_page_with_a_picture_of_each_kind(
    crew_client: Any,
) -> None:
    job = measured_job()
    url = f"/jobs/{job.pk}/places/new/"
    assert url in crew_client.get(f"/jobs/{job.pk}/").content.decode()
    page = crew_client.get(url).content.decode()
    assert page.count('<svg class="picture"') == len(Site.Kind.values)
    typed = {"kind": "pipe", "name": "kitchen vent", "units": "mm"}
    answer = crew_client.post(url, typed)
    site = job.sites.last()
    assert answer.url == f"/jobs/{job.pk}/measure/{site.pk}/"
    assert (site.kind, site.name, site.units) == ("pipe", "kitchen vent", "mm")
    event = Event.objects.filter(what="added a place").get()
    assert (event.about, event.after) == ("kitchen vent", "pipe")
    assert "2. Kitchen vent" in crew_client.get(f"/jobs/{job.pk}/").content.decode()


def test_a_kind_not_known_is_refused_by_name(
    crew_client: Any, stranger_client: Any
) -> None:
    job = measured_job()
    url = f"/jobs/{job.pk}/places/new/"
    answer = crew_client.post(url, {"kind": "gutter", "name": "", "units": "mm"})
    assert answer.status_code == 422
    assert "gutter is not one of the available choices" in answer.content.decode()
    assert job.sites.count() == 1
    assert stranger_client.get(url).status_code == 302
    assert crew_client.delete(url).status_code == 405
    booking.close(job, job.created_by, "off", "sold")
    answer = crew_client.post(url, {"kind": "pipe", "name": "", "units": "mm"})
    assert answer.status_code == 422
    assert "Open it again" in answer.content.decode()


def test_the_api_adds_places_and_refuses_kinds_by_name(crew_client: Any) -> None:
    job = measured_job()

    def send(**given: Any) -> Any:
        return crew_client.post(
            "/api/v1/sites/",
            json.dumps({"job": job.pk, "units": "mm", **given}),
            content_type="application/json",
        )

    made = send(kind="valley", name="north")
    assert made.status_code == 201
    assert Site.objects.get(pk=made.json()["id"]).kind == "valley"
    refused = send(kind="gutter")
    assert refused.status_code == 400
    assert "gutter" in json.dumps(refused.json())
    assert "kind" in json.dumps(send().json())
    booking.close(job, job.created_by, "off", "sold")
    assert send(kind="pipe").status_code == 409


def test_a_chimney_a_pipe_and_a_wall_are_laid_out_in_one(crew_client: Any) -> None:
    job = _mixed(crew_client)
    layout = lay_out_job(job, job.created_by)
    assert layout.is_done(), layout.reason
    marks = set(job.pieces.values_list("mark", flat=True))
    assert {mark[:2] for mark in marks} == {"1-", "2-", "3-"}
    brief = reading.brief(job)
    records = [
        RECORD,
        RECORDS["pipe-conical-zinc-mm"],
        RECORDS["side-wall-copper-in"],
    ]
    whole = {"format": site_record.FORMAT, "several": records}
    wanted = run.lay_out(whole, brief.facts.__getitem__)
    made = stored.laid_set(layout)
    assert json.dumps(set_file(made)) == json.dumps(set_file(wanted))
    page = crew_client.get(f"/jobs/{job.pk}/layout/").content.decode()
    assert "2. Pipe-conical-zinc-mm" in page
    assert "3. Side-wall-copper-in" in page
    assert "side-wall-copper-in, 3-" in page
    assert lay_out_job(job, job.created_by) == layout


def test_what_is_missing_names_its_place(crew_client: Any) -> None:
    job = _mixed(crew_client)
    site = place(job, VALLEY, "north valley")
    page = crew_client.get(f"/jobs/{job.pk}/layout/").content.decode()
    assert f"/jobs/{job.pk}/measure/{site.pk}/#id_valley-wing" in page
    choices = {
        "metal": "copper 20 oz",
        "build-back": "saddle",
        "build-counterflashing": "stepped",
        "build-sweep_radius": "3",
        "build-leg_at_wall_top": "1/2",
    }
    for other in job.sites.all()[1:]:
        choices[f"p{other.pk}-metal"] = "copper 20 oz"
    answer = crew_client.post(f"/jobs/{job.pk}/layout/", choices)
    assert answer.status_code == 422
    assert "4. north valley, Wing: is missing" in answer.content.decode()
    assert Measurement.objects.filter(site=site).get().value_text == "copper 20 oz"


def test_a_place_of_another_job_is_not_there(crew_client: Any) -> None:
    job, other = measured_job(), measured_job()
    url = f"/jobs/{job.pk}/measure/{other.sites.get().pk}/"
    assert crew_client.get(url).status_code == 404


def test_pieces_cut_before_a_second_place_came_keep_their_making(
    crew_client: Any,
) -> None:
    job = measured_job()
    lay_out_job(job, job.created_by)
    cut = job.pieces.get(mark="PL")
    progress.advance([cut], "cut", job.created_by)
    before = job.pieces.count()
    record = RECORDS["pipe-conical-zinc-mm"]
    _measure(crew_client, place(job, record), record)
    layout = lay_out_job(job, job.created_by)
    assert layout.is_done(), layout.reason
    cut.refresh_from_db()
    assert (cut.mark, cut.state, cut.making) == ("1-PL", "cut", 1)
    assert job.pieces.count() == before + len(layout.laid_pieces.filter(mark__gte="2"))
    assert not job.pieces.filter(held=True).exists()
    laid = layout.laid_pieces.get(mark="1-PL")
    assert laid.kept and not laid.differs
    told = Event.objects.filter(piece=cut, what="marked anew").get()
    assert (told.before, told.after) == ("PL", "1-PL")
    assert not Event.objects.filter(what="laid out again").exists()


def test_a_section_is_read_with_its_lines_named(crew_client: Any) -> None:
    job = job_of(PROFILE)
    site = job.sites.get()

    def told(typed: str, slug: str = "profile-section") -> str:
        answer = crew_client.get(
            f"/jobs/{job.pk}/measure/{site.pk}/read/", {"measure": slug, slug: typed}
        )
        return str(answer.content.decode())

    good = told("hem 12 closed down\n leg  25 ;fold 60 down\n\nleg 40")
    assert "hem 12 closed down, leg 25, fold 60 down, leg 40" in good
    assert '<svg class="picture"' in good
    assert "Line 2: " in told("leg 25\nbend 60 down\nleg 40")
    assert "fold 60 down" in told("leg 25\nfold 60\nleg 40")
    assert "Line 2 was" in told("leg 25\nfold 60 sideways\nleg 40")
    assert "Line 1 was" in told("leg wide")
    assert "Line 2 follows a leg" in told("leg 25\nleg 40")
    assert "The section has no leg" in told("hem 12 closed down")


def test_a_faulty_section_loses_nothing_typed(crew_client: Any) -> None:
    job = job_of(PROFILE)
    url = f"/jobs/{job.pk}/measure/"
    typed = sheet(PROFILE) | {"profile-section": "leg 25\nfold 60\nleg 40"}
    answer = crew_client.post(url, typed)
    assert answer.status_code == 422
    assert "leg 25\nfold 60\nleg 40</textarea>" in answer.content.decode()
    assert not Measurement.objects.exists()


def test_a_section_keeps_its_lengths_when_the_unit_changes(crew_client: Any) -> None:
    job = job_of(PROFILE)
    _measure(crew_client, job.sites.get(), PROFILE)
    before = reading.brief(job).as_read["profile"]["section"]
    job.sites.update(units="in")
    after = reading.brief(job)
    assert after.as_read["profile"]["section"] == before
    assert after.record["profile"]["section"][1] == {"leg": "25 mm"}


@pytest.mark.parametrize(
    ("typed", "parts"),
    [
        ("leg 12 3/8", [{"leg": "12 3/8"}]),
        ("LEG 4;Fold 90 Up", [{"leg": "4"}, {"fold": "90", "direction": "up"}]),
        (
            "hem 1/2 open up",
            [{"hem": "1/2", "kind": "open", "direction": "up"}],
        ),
    ],
)
def test_lines_become_parts(typed: str, parts: list[dict[str, str]]) -> None:
    assert section_text.parts(typed) == parts


def test_pages_cost_as_many_queries_for_ten_places_as_for_two(
    crew_client: Any,
) -> None:
    job = measured_job()
    record = RECORDS["pipe-conical-zinc-mm"]

    def counts() -> list[int]:
        found = []
        for url in ("measure/", "layout/", ""):
            crew_client.get(f"/jobs/{job.pk}/{url}")
            with CaptureQueriesContext(connection) as made:
                crew_client.get(f"/jobs/{job.pk}/{url}")
            found.append(len(made))
        return found

    _measure(crew_client, place(job, record), record)
    lay_out_job(job, job.created_by)
    two = counts()
    for _ in range(8):
        _measure(crew_client, place(job, record), record)
    lay_out_job(job, job.created_by)
    assert counts() == two
