from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest
from django.utils import timezone

from jobs.views.days import JOBS_SHOWN
from tests.world import make_job, make_piece, make_site, measure

pytestmark = pytest.mark.django_db


def cards(answer: Any) -> list[str]:
    return [card["job"].title for card in answer.context["cards"]]


def test_today_shows_visits_of_the_day_and_those_missed(crew_client: Any) -> None:
    today = timezone.localdate()
    make_job(title="Now", visit_on=today)
    make_job(title="Missed", visit_on=today - timedelta(days=3))
    done = make_job(title="Done", visit_on=today - timedelta(days=3))
    measure(make_site(done))
    make_job(title="Tomorrow", visit_on=today + timedelta(days=1))
    answer = crew_client.get("/today/")
    assert [job.title for job in answer.context["visits"]] == ["Missed", "Now"]
    assert "Was due" in answer.content.decode()


def test_today_shows_pieces_under_way_soonest_install_first(crew_client: Any) -> None:
    today = timezone.localdate()
    for title, days in (("Later", 5), ("Now", 0)):
        day = today + timedelta(days=days)
        make_piece(make_job(title=title, install_from=day, install_until=day), "cut")
    make_piece(make_job(title="No day"), "bent")
    make_piece(make_job(title="Not begun"), "asked")
    make_piece(make_job(title="All done"), "installed")
    answer = crew_client.get("/today/")
    assert cards(answer) == ["Now", "Later", "No day"]
    assert "On the roof today." in answer.content.decode()


def test_each_piece_has_one_big_button(crew_client: Any) -> None:
    job = make_job()
    for state in ("laid_out", "cut", "bent"):
        make_piece(job, state)
    page = crew_client.get("/today/").content.decode()
    assert [page.count(f'name="to" value="{to}"') for to in ("cut", "bent")] == [1, 1]
    assert page.count("btn--main btn--big") == 3


def test_today_shows_only_the_next_jobs_and_says_how_many_more(
    crew_client: Any,
) -> None:
    for _ in range(JOBS_SHOWN + 2):
        make_piece(make_job(), "cut")
    answer = crew_client.get("/today/")
    assert len(cards(answer)) == JOBS_SHOWN
    assert "2 more jobs with pieces under way" in answer.content.decode()


def test_the_week_shows_visits_and_install_days(office_client: Any) -> None:
    make_job(title="Look at it", visit_on=date(2026, 11, 24))
    make_job(
        title="Build it",
        install_from=date(2026, 11, 20),
        install_until=date(2026, 11, 25),
    )
    answer = office_client.get("/jobs/week/?of=2026-11-26")
    days = answer.context["days"]
    assert [day["day"].day for day in days] == [23, 24, 25, 26, 27, 28, 29]
    assert [len(day["visits"]) for day in days] == [0, 1, 0, 0, 0, 0, 0]
    assert [len(day["installs"]) for day in days] == [1, 1, 1, 0, 0, 0, 0]
    assert "Week of Mon 23 Nov 2026" in answer.content.decode()


@pytest.mark.parametrize("day", ["", "x", "9999-12-31", "0001-01-01", "2026-13-40"])
def test_days_that_make_no_sense_show_today(day: str, office_client: Any) -> None:
    assert office_client.get("/today/", {"day": day}).context["is_today"]
    assert office_client.get("/jobs/week/", {"of": day}).status_code == 200


def test_doors(office_client: Any, stranger_client: Any) -> None:
    for address in ("/today/", "/jobs/week/"):
        assert office_client.post(address).status_code == 405
        assert stranger_client.get(address).status_code == 302
