from __future__ import annotations

from typing import Any

import pytest
from django.template.loader import render_to_string

from tests.world import make_job

pytestmark = pytest.mark.django_db


def test_a_page_that_is_not_there_says_so_in_our_words(office_client: Any) -> None:
    answer = office_client.get("/nowhere/")
    assert answer.status_code == 404
    assert "There is no such page" in answer.content.decode()


def test_a_page_that_is_not_for_you_says_whom_to_ask(crew_client: Any) -> None:
    answer = crew_client.get(f"/jobs/{make_job().pk}/change/")
    assert answer.status_code == 403
    assert "ask the owner of the shop" in answer.content.decode()


def test_a_break_on_our_side_is_told_without_the_database(
    office_client: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: Any) -> None:
        raise RuntimeError("a fault of ours")

    monkeypatch.setattr("jobs.views.days.jobs_for", broken)
    office_client.raise_request_exception = False
    answer = office_client.get("/today/")
    assert answer.status_code == 500
    assert "Something broke on our side" in answer.content.decode()
    assert "a fault of ours" not in answer.content.decode()


@pytest.mark.parametrize("name", ["404.html", "403.html", "500.html", "403_csrf.html"])
def test_the_pages_of_errors_need_nothing(name: str) -> None:
    assert "<h1>" in render_to_string(name)


def test_no_page_carries_style_or_script_of_its_own(owner_client: Any) -> None:
    job = make_job()
    for address in ("/today/", "/jobs/", f"/jobs/{job.pk}/", "/jobs/new/"):
        answer = owner_client.get(address)
        page = answer.content.decode()
        assert "style=" not in page and "<style" not in page
        assert page.count("<script") == page.count("<script src=")
        assert "default-src 'self'" in answer.headers["Content-Security-Policy"]


def test_a_new_password_is_set_by_its_owner(crew_client: Any, crew: Any) -> None:
    assert crew_client.get("/password/").status_code == 200
    sent = {
        "old_password": "a long word",
        "new_password1": "copper-and-zinc-7",
        "new_password2": "copper-and-zinc-7",
    }
    assert crew_client.post("/password/", sent).status_code == 302
    crew.refresh_from_db()
    assert crew.check_password("copper-and-zinc-7")
