from __future__ import annotations

from typing import Any

import pytest

from jobs.models import Site
from tests.world import make_site

pytestmark = pytest.mark.django_db

NOTED = {
    "kind": "chimney",
    "units": "mm",
    "roof_notes": "Faces north",
    "hazards": "Wasps",
}


def test_the_crew_notes_hazards_and_the_log_says_so(crew_client: Any) -> None:
    site = make_site()
    answer = crew_client.post(f"/sites/{site.pk}/", NOTED)
    assert answer.url == f"/jobs/{site.job_id}/#site"
    site.refresh_from_db()
    assert (site.hazards, site.units) == ("Wasps", "mm")
    event = site.job.events.first()
    assert event is not None and "hazards: Wasps" in event.after
    assert "Wasps" in crew_client.get(f"/jobs/{site.job_id}/").content.decode()


def test_a_faulty_site_is_told(crew_client: Any) -> None:
    site = make_site()
    answer = crew_client.post(f"/sites/{site.pk}/", {**NOTED, "units": "ells"})
    assert answer.status_code == 422
    assert "Faces north" in answer.content.decode()
    assert Site.objects.get().hazards == ""


def test_doors(crew_client: Any, stranger_client: Any) -> None:
    assert crew_client.get("/sites/99999/").status_code == 404
    assert crew_client.put("/sites/1/").status_code == 405
    assert stranger_client.get(f"/sites/{make_site().pk}/").status_code == 302
