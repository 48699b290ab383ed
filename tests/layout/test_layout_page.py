"""The layout page: choose, lay out, see what is found; the drawings behind it."""

from __future__ import annotations

import json
from typing import Any
from xml.etree import ElementTree

import pytest

from jobs import booking, progress
from layout.laying import lay_out_job
from tests.layout.measured import SHEET, measured_job, take
from tests.world import make_job

pytestmark = pytest.mark.usefixtures("opened")

CHOICES = {
    name.replace(".", "-"): typed
    for name, typed in SHEET.items()
    if name.startswith("build.") or name == "metal"
}


def _url(job: Any) -> str:
    return f"/jobs/{job.pk}/layout/"


def test_choices_are_kept_as_measures_and_the_job_is_laid_out(
    office_client: Any,
) -> None:
    job = measured_job()
    rows = job.sites.get().measurements.count()
    answer = office_client.post(
        _url(job), CHOICES | {"build-back": "flat"}, follow=True
    )
    assert answer.status_code == 200
    assert job.sites.get().measurements.count() == rows + 1
    page = answer.content.decode()
    assert "Layout 1: laid out and proven" in page
    assert "good practice" in page
    assert "Source: " in page
    assert job.pieces.filter(mark="B", state="laid_out").exists()


def test_a_length_typed_in_another_way_is_no_new_choice(office_client: Any) -> None:
    job = measured_job()
    rows = job.sites.get().measurements.count()
    office_client.post(_url(job), CHOICES | {"build-sweep_radius": '3"'})
    assert job.sites.get().measurements.count() == rows


def test_what_is_missing_is_named_and_linked_and_choices_are_kept(
    office_client: Any,
) -> None:
    job = measured_job(roof_pitch=None, build_back=None)
    page = office_client.get(_url(job)).content.decode()
    assert f"/jobs/{job.pk}/measure/{job.sites.get().pk}/#id_roof-pitch" in page
    answer = office_client.post(_url(job), CHOICES)
    assert answer.status_code == 422
    assert "Your choices are saved" in answer.content.decode()
    assert job.sites.get().measurements.filter(name="build.back").exists()
    assert not job.layouts.exists()


def test_a_choice_left_open_is_asked_for(office_client: Any) -> None:
    job = measured_job(build_back=None)
    answer = office_client.post(_url(job), CHOICES | {"build-back": ""})
    assert answer.status_code == 422
    assert "Built behind it is not chosen yet." in answer.content.decode()


def test_a_new_job_is_offered_what_is_usual(office_client: Any) -> None:
    job = make_job(present_metal="old copper")
    take(job.sites.get(), "penetration.back", "36", job.created_by)
    page = office_client.get(_url(job)).content.decode()
    assert "Suggested, not chosen yet." in page
    assert '<option value="saddle" selected>' in page
    assert '<option value="copper' in page.split("selected")[0] or "copper" in page


def test_a_refused_layout_shows_its_reasons_and_no_pieces_at_the_bench(
    office_client: Any,
) -> None:
    job = measured_job(walls_reglet="5", build_counterflashing="level and raked")
    page = office_client.post(
        _url(job),
        CHOICES | {"build-counterflashing": "level and raked"},
        follow=True,
    ).content.decode()
    assert "Nothing went to the bench." in page
    assert "groove" in page
    assert "not at the bench" in page


def test_a_cut_piece_that_differs_is_pointed_out(office_client: Any) -> None:
    job = measured_job()
    lay_out_job(job, job.created_by)
    progress.advance([job.pieces.get(mark="PL")], "cut", job.created_by)
    take(job.sites.get(), "roof.left_pan", "12", job.created_by)
    page = office_client.post(_url(job), CHOICES, follow=True).content.decode()
    assert "PL is cut already and differs from these measures." in page
    earlier = job.layouts.get(number=1)
    old = office_client.get(f"/layouts/{earlier.pk}/").content.decode()
    assert "Do not cut from this one." in old


def test_a_closed_job_is_not_laid_out(office_client: Any) -> None:
    job = measured_job()
    booking.close(job, job.created_by, "off", "sold")
    assert "not laid out any more" in office_client.get(_url(job)).content.decode()
    answer = office_client.post(_url(job), CHOICES)
    assert answer.status_code == 422
    assert "Open it again" in answer.content.decode()


@pytest.mark.parametrize("view", ["flat", "section", "folded"])
def test_every_view_of_every_piece_is_drawn(crew_client: Any, view: str) -> None:
    job = measured_job()
    for laid in lay_out_job(job, job.created_by).laid_pieces.all():
        answer = crew_client.get(f"/laid/{laid.pk}/{view}.svg")
        assert answer["Content-Type"] == "image/svg+xml"
        root = ElementTree.fromstring(answer.content)
        assert len(list(root)) >= 3, (laid.mark, view)
        assert b"style=" not in answer.content


def test_files_of_a_piece_are_the_cores_own(crew_client: Any) -> None:
    job = measured_job()
    layout = lay_out_job(job, job.created_by)
    laid = layout.laid_pieces.get(mark="PL")
    fold = json.loads(crew_client.get(f"/laid/{laid.pk}/piece.fold").content)
    assert fold["seambook:mark"] == "PL"
    assert b"SECTION" in crew_client.get(f"/laid/{laid.pk}/piece.dxf").content
    piece = job.pieces.get(mark="PL")
    again = crew_client.get(f"/pieces/{piece.pk}/piece.fold").content
    assert json.loads(again) == fold
    drawing = crew_client.get(f"/pieces/{piece.pk}/drawing.svg")
    assert drawing.content == crew_client.get(f"/laid/{laid.pk}/flat.svg").content
    assert crew_client.get(f"/layouts/{layout.pk}/key-plan.svg").status_code == 200


def test_what_is_not_there_is_not_drawn(crew_client: Any) -> None:
    from jobs.asking import ask_for

    job = measured_job()
    laid = lay_out_job(job, job.created_by).laid_pieces.first()
    extra = ask_for(job, job.created_by, mark="X1", family="pan")
    assert crew_client.get(f"/laid/{laid.pk}/sideways.svg").status_code == 404
    assert crew_client.get(f"/pieces/{extra.pk}/drawing.svg").status_code == 404
    assert crew_client.get(f"/pieces/{extra.pk}/").status_code == 200
    assert crew_client.get("/laid/999/").status_code == 404


def test_the_rooms_of_the_job_show_the_layout(crew_client: Any) -> None:
    job = measured_job()
    assert "Lay out" in crew_client.get(f"/jobs/{job.pk}/").content.decode()
    layout = lay_out_job(job, job.created_by)
    page = crew_client.get(f"/jobs/{job.pk}/").content.decode()
    assert "Layout 1: laid out" in page
    piece = job.pieces.get(mark="BL")
    page = crew_client.get(f"/pieces/{piece.pk}/").content.decode()
    laid = layout.laid_pieces.get(mark="BL")
    assert f"/laid/{laid.pk}/piece.fold" in page


def test_strangers_see_no_drawing(stranger_client: Any) -> None:
    job = measured_job()
    layout = lay_out_job(job, job.created_by)
    laid = layout.laid_pieces.first()
    for url in (
        _url(job),
        f"/layouts/{layout.pk}/",
        f"/layouts/{layout.pk}/key-plan.svg",
        f"/laid/{laid.pk}/",
        f"/laid/{laid.pk}/flat.svg",
        f"/laid/{laid.pk}/piece.fold",
        f"/pieces/{job.pieces.first().pk}/drawing.svg",
    ):
        answer = stranger_client.get(url)
        assert answer.status_code == 302
        assert answer["Location"].startswith("/login/") or "next=" in answer["Location"]


def test_the_owner_looks_layouts_up_and_changes_none(
    owner_client: Any, crew_client: Any
) -> None:
    job = measured_job()
    layout = lay_out_job(job, job.created_by)
    assert owner_client.get("/shop/layout/layout/").status_code == 200
    page = f"/shop/layout/layout/{layout.pk}/change/"
    assert owner_client.get(page).status_code == 200
    assert owner_client.post(page, {"number": 7}).status_code == 403
    assert owner_client.get("/shop/layout/laidpiece/").status_code == 200
    assert crew_client.get("/shop/layout/layout/").status_code in (302, 403)


def test_somebody_faster_is_told_and_nothing_is_half_done(
    office_client: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*given: Any, **more: Any) -> None:
        raise progress.Refused("A was changed first. Look again.")

    job = measured_job()
    monkeypatch.setattr(progress, "advance", refuse)
    answer = office_client.post(_url(job), CHOICES)
    assert answer.status_code == 422
    assert "A was changed first." in answer.content.decode()
    assert office_client.post(f"/api/v1/jobs/{job.pk}/layout/").status_code == 409
    assert not job.layouts.exists()


def test_the_page_of_a_job_costs_as_many_queries_with_ten_layouts(
    office_client: Any, django_assert_max_num_queries: Any
) -> None:
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    job = measured_job()
    lay_out_job(job, job.created_by)
    office_client.get(_url(job))
    with CaptureQueriesContext(connection) as first:
        office_client.get(_url(job))
    for typed in ("11", "11 1/2", "12"):
        take(job.sites.get(), "roof.left_pan", typed, job.created_by)
        lay_out_job(job, job.created_by)
    with django_assert_max_num_queries(len(first)):
        office_client.get(_url(job))
