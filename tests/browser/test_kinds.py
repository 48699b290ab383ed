from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from jobs.models import Job
from layout import section_text, taking
from layout.laying import lay_out_job
from layout.measures import read
from layout.models import LaidPiece
from tests.browser.test_layout import _axe, _listen
from tests.layout.elsewhere_measured import PROFILE, RECORDS, place, sheet
from tests.layout.measured import measured_job

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def mixed_job(opened: None, office: Any) -> Job:
    """A chimney, a pipe and a profile."""
    job = measured_job(office)
    for name, record in (
        ("kitchen vent", RECORDS["pipe-leaning-copper-in"]),
        ("drip edge", PROFILE),
    ):
        site = place(job, record, name)
        wanted = taking.sheet_of(site)
        typed = {
            wanted.by_slug[slug].name: (
                words,
                read(wanted.by_slug[slug], words, taking.unit_of(site)),
            )
            for slug, words in sheet(record).items()
            if slug in wanted.by_slug
        }
        taking.take_sheet(site, typed, office)
    assert lay_out_job(job, office).is_done()
    return job


@pytest.mark.parametrize("screen", ["phone", "desk"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_pages_of_other_kinds_are_whole_and_open_to_all(
    open_page: Any,
    office: Any,
    mixed_job: Job,
    pictures: Path,
    screen: str,
    scheme: str,
) -> None:
    page = open_page(office, screen, scheme)
    said = _listen(page)
    broken: list[str] = []
    _, pipe, profile = mixed_job.sites.all()
    job = f"/jobs/{mixed_job.pk}/"
    collar = LaidPiece.objects.filter(layout__job=mixed_job, mark__startswith="2-")
    for name, address in {
        "place": f"{job}places/new/",
        "pipe": f"{job}measure/{pipe.pk}/",
        "profile": f"{job}measure/{profile.pk}/",
        "section": f"{job}measure/{profile.pk}/profile-section/",
        "mixed": f"{job}layout/",
        "collar": f"/laid/{collar[0].pk}/",
        "mixed-job": job,
    }.items():
        said.clear()
        page.goto(address)
        page.wait_for_load_state("networkidle")
        broken += [f"{name}: {it}" for it in said]
        page.evaluate("document.querySelectorAll('img').forEach(it => it.loading = '')")
        page.wait_for_load_state("networkidle")
        page.screenshot(
            path=pictures / f"kinds-{name}-{screen}-{scheme}.png", full_page=True
        )
        wide = page.evaluate(
            "(it => it.scrollWidth - it.clientWidth)(document.documentElement)"
        )
        assert wide <= 0, f"{name} scrolls sideways by {wide} px"
        assert _axe(page) == [], name
    assert broken == []


def test_a_section_is_drawn_while_it_is_typed_and_kept_on_the_device(
    open_page: Any, office: Any, mixed_job: Job
) -> None:
    site = mixed_job.sites.last()
    address = f"/jobs/{mixed_job.pk}/measure/{site.pk}/"
    page = open_page(office, "phone")
    page.goto(address)
    field = page.locator("#id_profile-section")
    field.fill(section_text.EXAMPLE)
    told = page.locator("#read-profile-section")
    told.locator("svg").wait_for()
    field.fill("leg 25\nbend 60")
    told.get_by_text("Line 2").wait_for()
    page.goto("about:blank")
    page.goto(address)
    assert field.input_value() == "leg 25\nbend 60"


def test_a_place_is_added_and_measured_without_script(
    open_page: Any, office: Any, mixed_job: Job
) -> None:
    page = open_page(office, "desk", script=False)
    page.goto(f"/jobs/{mixed_job.pk}/places/new/")
    page.get_by_label("End cap").check()
    page.get_by_label("Name of the place").fill("gable")
    page.get_by_role("button", name="Add the place").click()
    page.locator("#id_end_cap-section").fill("leg 100\nfold 60 up\nleg 80")
    page.get_by_role("button", name="Save the measures").click()
    page.get_by_text("Saved: Section.").wait_for()
    assert page.locator(".take__section svg").count() == 1
