from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from shop.models import Brake
from tests.browser.test_pages import faults

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("screen", ["phone", "desk"])
def test_the_numbers_have_no_barrier(
    screen: str, scheme: str, opened: None, crew: Any, open_page: Any, pictures: Path
) -> None:
    page = open_page(crew, screen, scheme)
    refused: list[str] = []
    page.on("console", lambda m: refused.append(m.text) if m.type == "error" else None)
    for name, address in (("all", "/numbers/"), ("zinc", "/numbers/?q=zinc+seam")):
        page.goto(address)
        assert refused == []
        page.screenshot(path=pictures / f"numbers-{name}-{screen}-{scheme}.png")
        assert faults(page, []) == []
        refused.clear()  # axe writes styles of its own
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_the_box_works_without_script(opened: None, crew: Any, open_page: Any) -> None:
    page = open_page(crew, "phone", script=False)
    page.goto("/numbers/")
    page.get_by_label("Show numbers with these words").fill("reglet")
    page.get_by_role("button", name="Show", exact=True).click()
    page.get_by_role("link", name="Show all").wait_for()
    assert page.locator(".number").count() == 2
    page.get_by_text("Held by 1 test").first.click()
    assert page.get_by_text("[reglet_depth]").is_visible()


def test_the_owner_sees_a_brakes_section(
    opened: None, owner: Any, open_page: Any, pictures: Path
) -> None:
    brake = Brake.objects.first()
    assert brake is not None
    brake.jaw = [[[0, 0], [-45, 25], [-110, 25], [-110, 0]]]
    brake.bed = [[[0, 0], [-110, 0], [-110, -80], [0, -80]]]
    brake.save()
    page = open_page(owner, "desk")
    refused: list[str] = []
    page.on("console", lambda m: refused.append(m.text) if m.type == "error" else None)
    page.goto(f"/shop/shop/brake/{brake.pk}/change/")
    drawn = page.locator("svg.brake-section")
    drawn.scroll_into_view_if_needed()
    assert drawn.bounding_box()["width"] > 200
    assert [it for it in refused if "section" in it] == []
    page.screenshot(path=pictures / "brake-section.png")
