"""A client is found while typing, and without script by a button."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from jobs.models import Job
from tests.browser.test_pages import faults
from tests.world import make_client

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.mark.parametrize("script", [True, False])
def test_a_client_is_found_by_words_and_nothing_typed_is_lost(
    script: bool, office: Any, open_page: Any, pictures: Path
) -> None:
    for number in range(9):
        make_client(f"Household {number}", address=f"{number} Alder Row\nTarn Hollow")
    wanted = make_client("Barnaby Thistledown", phone="555 0142")
    for number in range(9):
        make_client(f"Neighbour {number}")
    page = open_page(office, "phone", script=script)
    page.goto("/jobs/new/")
    page.locator("#id_title").fill("Chimney, west gable")
    search = page.get_by_label("Find a client we know")
    if script:
        search.press_sequentially("thistle")
    else:
        search.fill("thistle")
        page.get_by_role("button", name="Find", exact=True).click()
    page.get_by_text("1 found.").wait_for()
    page.screenshot(path=pictures / f"picking-{script}.png", full_page=True)
    assert page.get_by_role("button", name="Find", exact=True).count() == (not script)
    assert page.get_by_role("radio").count() == 2
    if script:
        assert page.evaluate("document.activeElement.name") == "find"
        assert faults(page, []) == []
    page.get_by_label("Barnaby Thistledown").check()
    page.get_by_role("button", name="Book it").click()
    page.get_by_text("is booked").wait_for()
    job = Job.objects.get()
    assert (job.client, job.title) == (wanted, "Chimney, west gable")


def test_enter_in_the_search_finds_and_books_nothing(
    office: Any, open_page: Any
) -> None:
    make_client("Barnaby Thistledown")
    page = open_page(office)
    page.goto("/jobs/new/")
    search = page.get_by_label("Find a client we know")
    search.fill("barnaby")
    search.press("Enter")
    page.get_by_text("1 found.").wait_for()
    assert not Job.objects.exists()
    assert page.get_by_role("alert").count() == 0
