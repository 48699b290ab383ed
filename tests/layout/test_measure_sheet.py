"""The measure sheet: each measure a row, read as the tape says, nothing typed lost."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from jobs.models import Measurement
from layout import pictures
from layout.likely import unlikely
from layout.measures import BY_NAME, SHEETS, read, show_taken
from tests.layout.measured import measured_job, take
from tests.world import make_job

pytestmark = pytest.mark.usefixtures("opened")


def _url(job: Any) -> str:
    return f"/jobs/{job.pk}/measure/"


def _sheet(**typed: str) -> dict[str, str]:
    return {"taken_with": "tape", "note": "", "key": "k1", **typed}


def test_every_measure_has_a_field_and_a_picture_of_its_own(crew_client: Any) -> None:
    page = crew_client.get(_url(make_job())).content.decode()
    measures = SHEETS["chimney"].measures
    for measure in measures:
        assert f'id="id_{measure.slug}"' in page
    assert page.count('<svg class="picture"') == len(measures)


@pytest.mark.parametrize("kind", SHEETS)
def test_pictures_differ_and_light_something(kind: str) -> None:
    assert {it.name for it in SHEETS[kind].measures} == set(pictures.names(kind))
    drawn = {name: pictures.picture(kind, name) for name in pictures.names(kind)}
    assert len(set(drawn.values())) == len(drawn)
    assert all('class="lit' in it for it in drawn.values())
    assert not any("style=" in it for it in drawn.values())


def test_what_is_typed_is_taken_with_who_and_how(crew_client: Any, crew: Any) -> None:
    job = make_job()
    answer = crew_client.post(
        _url(job),
        _sheet(
            **{"penetration-front": " 32 3/4 ", "roof-pitch": "9:12", "metal": ""},
            taken_with="laser",
            note="dry day",
        ),
    )
    assert answer.status_code == 302
    front, pitch = Measurement.objects.order_by("name")
    assert (front.name, front.as_typed, front.value_mm) == (
        "penetration.front",
        "32 3/4",
        Decimal("831.85"),
    )
    assert (front.taken_by, front.taken_with, front.note) == (crew, "laser", "dry day")
    assert float(pitch.value_deg) == pytest.approx(36.8699, abs=1e-4)


def test_a_second_taking_is_a_new_row_and_the_sheet_says_which_counts(
    crew_client: Any,
) -> None:
    job = measured_job()
    crew_client.post(_url(job), _sheet(**{"penetration-front": "33"}))
    page = crew_client.get(_url(job)).content.decode()
    assert "Counts: the newest of 2." in page
    assert "Does not count: 33 was taken later." in page


def test_an_older_one_counts_with_a_reason_only(crew_client: Any) -> None:
    job = measured_job()
    old = job.sites.get().measurements.get(name="penetration.front")
    take(job.sites.get(), "penetration.front", "33", job.created_by)
    url = f"/measures/{old.pk}/choose/"
    answer = crew_client.post(url, {"reason": " "})
    assert answer.status_code == 422
    assert "say it in a few words" in answer.content.decode()
    crew_client.post(url, {"reason": "the tape slipped"})
    old.refresh_from_db()
    assert (old.chosen, old.chosen_because) == (True, "the tape slipped")
    crew_client.post(url, {"reason": "it had not"})
    old.refresh_from_db()
    assert not old.chosen
    page = crew_client.get(f"/jobs/{job.pk}/measure/penetration-front/")
    assert "Counts: the newest of 2." in page.content.decode()


def test_one_fault_keeps_everything_typed_and_saves_nothing(crew_client: Any) -> None:
    job = make_job()
    answer = crew_client.post(
        _url(job),
        _sheet(**{"penetration-front": "32 3/4", "penetration-left": "a foot or so"}),
    )
    page = answer.content.decode()
    assert answer.status_code == 422
    assert 'href="#id_penetration-left"' in page
    assert 'value="32 3/4"' in page
    assert 'value="a foot or so"' in page
    assert not Measurement.objects.exists()


def test_the_same_sheet_sent_twice_is_taken_once(crew_client: Any) -> None:
    job = make_job()
    sheet = _sheet(**{"penetration-front": "32 3/4"})
    crew_client.post(_url(job), sheet)
    crew_client.post(_url(job), sheet)
    assert Measurement.objects.count() == 1
    # Put right after the answer was lost: that is another taking.
    crew_client.post(_url(job), sheet | {"penetration-front": "32 7/8"})
    assert Measurement.objects.count() == 2


def test_a_list_left_as_it_was_is_not_taken_again(crew_client: Any) -> None:
    job = measured_job()
    before = Measurement.objects.count()
    answer = crew_client.post(
        _url(job),
        _sheet(**{"roof-seam-fold": "double", "metal": "copper 20 oz"}),
        follow=True,
    )
    assert Measurement.objects.count() == before
    assert "Nothing new was typed" in answer.content.decode()


def test_how_it_is_read_is_told_at_once(crew_client: Any) -> None:
    job = measured_job()

    def told(slug: str, typed: str) -> str:
        answer = crew_client.get(
            f"/jobs/{job.pk}/measure/read/", {"measure": slug, slug: typed}
        )
        return str(answer.content.decode())

    assert "32 3/4 in (831.9 mm)" in told("penetration-front", "2' 8 3/4\"")
    assert "not a number a tape shows" in told("penetration-front", "32 3/4 x")
    assert "unusual here" in told("penetration-front", "315")
    assert "out of square" in told("penetration-front", "30")
    assert "9:12 (36.9°)" in told("roof-pitch", "9:12")
    assert "as 8:12" in told("roof-pitch", "9")
    assert told("penetration-front", " ").strip() == ""
    assert told("no-such", "1").strip() == ""


def test_the_unlikely_is_warned_of_and_saved(crew_client: Any) -> None:
    job = make_job()
    crew_client.post(_url(job), _sheet(**{"walls-upstand_front": "1"}))
    assert Measurement.objects.count() == 1
    assert "unusual here" in crew_client.get(_url(job)).content.decode()


def test_none_is_a_measure_that_is_not_there(crew_client: Any) -> None:
    job = make_job()
    crew_client.post(_url(job), _sheet(**{"walls-course": "None"}))
    assert Measurement.objects.get().value_text == "none"


def test_the_sheet_costs_as_many_queries_however_much_was_taken(
    crew_client: Any, django_assert_max_num_queries: Any
) -> None:
    job = measured_job()
    for typed in ("33", "33 1/8", "33 1/4"):
        take(job.sites.get(), "penetration.front", typed, job.created_by)
    crew_client.get(_url(job))
    with django_assert_max_num_queries(14):
        crew_client.get(_url(job))


def test_strangers_and_wrong_methods_are_turned_away(
    stranger_client: Any, crew_client: Any
) -> None:
    job = measured_job()
    row = job.sites.get().measurements.first()
    assert stranger_client.get(_url(job)).status_code == 302
    assert crew_client.get("/jobs/999/measure/").status_code == 404
    assert crew_client.delete(_url(job)).status_code == 405
    assert crew_client.get(f"/measures/{row.pk}/choose/").status_code == 405
    assert crew_client.get(f"/jobs/{job.pk}/measure/no-such/").status_code == 302


@pytest.mark.parametrize(
    ("name", "typed", "unit", "shown"),
    [
        ("penetration.front", "12 3/8", "in", "12 3/8 in (314.3 mm)"),
        ("penetration.front", "315", "mm", "315 mm (12 3/8 in)"),
        ("penetration.front", "12.34", "in", "about 12 5/16 in (313.4 mm)"),
        ("roof.pitch", "33.7°", "in", "8:12 (33.7°)"),
        ("walls.lean_front", "1.5° in", "in", "1.5° in"),
        ("walls.lean_front", "2° out", "in", "2° out"),
        ("build.back", "saddle", "in", "saddle"),
        ("walls.course", "none", "in", "none"),
    ],
)
def test_a_measure_is_shown_as_it_was_read(
    name: str, typed: str, unit: Any, shown: str
) -> None:
    measure = BY_NAME[name]
    assert show_taken(measure, read(measure, typed, unit), unit) == shown


def test_a_diagonal_far_from_square_is_asked_for_again() -> None:
    known = {"penetration.front": 900.0, "penetration.left": 1200.0}
    measure = BY_NAME["penetration.diagonal"]
    assert unlikely(measure, 1500.0, known, "mm") == []
    assert "1500 mm" in unlikely(measure, 1700.0, known, "mm")[0]
