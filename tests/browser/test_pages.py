from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from django.utils import timezone

from jobs import demo, progress
from jobs.models import Job, Piece
from tests.world import make_client, make_job, make_piece, make_rule, measure

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

# Axe's rules beyond AA that Today must keep as well.
AAA = ["color-contrast-enhanced", "target-size"]


@pytest.fixture
def busy_shop(office: Any, crew: Any) -> Job:
    """The demo job with pieces at every stage, and a few jobs around it."""
    job = demo.load()
    stages = [
        ("A", "apron", "", "bent"),
        ("SL", "side_pan", "left", "cut"),
        ("SR", "side_pan", "right", "laid_out"),
        ("H1", "saddle_half", "left", "installed"),
        ("H2", "saddle_half", "right", "laid_out"),
        ("C1", "counterflashing", "", "measured"),
        ("C2", "counterflashing", "", "asked"),
    ]
    made = {
        mark: make_piece(job, state, mark=mark, family=family, hand=hand)
        for mark, family, hand, state in stages
    }
    make_piece(job, "cut", mark="K", family="cleat", hand="", quantity=24)
    progress.hold(made["H2"], crew, "Wait for the coil, Thursday")
    progress.scrap(made["SL"], crew, "cut_wrong", "Laid out from the wrong corner")
    today = timezone.localdate()
    other = make_job(
        office,
        client=make_client("Barnaby Thistledown", address="2 Alder Row"),
        title="Skylight curb, leak at the uphill corner",
        site_address="2 Alder Row",
        install_from=today,
        install_until=today + timedelta(days=1),
    )
    measure(other.sites.get())
    make_piece(other, "bent", mark="B", family="back_pan", hand="")
    make_rule(other)
    make_job(
        office,
        client=make_client("Philippa Wrenfield"),
        title="Chimney, west gable",
        visit_on=today - timedelta(days=2),
    )
    return job


def pages(job: Job) -> dict[str, str]:
    held = Piece.objects.get(mark="H2")
    cut = Piece.objects.get(mark="K")
    gone = Piece.objects.get(mark="SL", scrapped=True)
    return {
        "today": "/today/",
        "jobs": "/jobs/",
        "week": "/jobs/week/",
        "job": f"/jobs/{job.pk}/",
        "change": f"/jobs/{job.pk}/change/",
        "book": "/jobs/new/",
        "log": f"/jobs/{job.pk}/log/",
        "piece": f"/pieces/{cut.pk}/",
        "held": f"/pieces/{held.pk}/",
        "scrapped": f"/pieces/{gone.pk}/",
        "clients": "/clients/",
        "client": f"/clients/{job.client_id}/",
        "word": f"/looks/{job.looks_rules.last().pk}/settle/",
        "site": f"/sites/{job.sites.get().pk}/",
        "password": "/password/",
        "nothing": "/no-such-page/",
    }


def faults(page: Any, extra: list[str]) -> list[str]:
    from axe_playwright_python.sync_playwright import Axe

    tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
    options: dict[str, Any] = {"runOnly": {"type": "tag", "values": tags}}
    if extra:
        options["rules"] = {rule: {"enabled": True} for rule in extra}
    found = Axe().run(page, options=options).response["violations"]
    return [
        f"{it['id']}: {node['html'][:160]} {node['failureSummary'][:200]}"
        for it in found
        for node in it["nodes"]
    ]


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("screen", ["phone", "desk"])
def test_every_page_is_whole_and_has_no_barrier(
    screen: str,
    scheme: str,
    busy_shop: Job,
    owner: Any,
    open_page: Any,
    pictures: Path,
) -> None:
    page = open_page(owner, screen, scheme)
    refused: list[str] = []
    page.on(
        "console",
        lambda line: refused.append(line.text) if line.type == "error" else None,
    )
    page.on("pageerror", lambda error: refused.append(str(error)))
    found: list[str] = []
    broken: list[str] = []
    for name, address in pages(busy_shop).items():
        refused.clear()
        page.goto(address)
        # Only what the page itself does: axe and screenshots write styles of their own.
        broken += [f"{name}: {it}" for it in refused if "404" not in it]
        page.screenshot(path=pictures / f"{name}-{screen}-{scheme}.png", full_page=True)
        found += [
            f"{name}: {it}" for it in faults(page, AAA if name == "today" else [])
        ]
        wide = page.evaluate("document.documentElement.scrollWidth - innerWidth")
        if wide > 0:
            found.append(f"{name}: {wide} px wider than the screen")
    assert found == []
    assert broken == []


def test_signing_in_has_no_barrier(open_page: Any, db: Any, pictures: Path) -> None:
    for screen in ("phone", "desk"):
        page = open_page(None, screen)
        page.goto("/sign-in/")
        page.screenshot(path=pictures / f"sign-in-{screen}.png")
        page.get_by_role("button", name="Sign in").click()
        page.wait_for_load_state()
        page.screenshot(path=pictures / f"sign-in-faults-{screen}.png")
        assert faults(page, []) == []
        page.get_by_role("link", name="Username").click()
        focused = "document.activeElement.name"
        assert page.evaluate(focused) == "username"


def test_today_is_made_for_gloves(busy_shop: Job, crew: Any, open_page: Any) -> None:
    page = open_page(crew, "phone")
    page.goto("/today/")
    small = page.evaluate(
        """[...document.querySelectorAll('a, button, input:not([type=hidden])')]
        .filter(it => it.offsetParent && !it.classList.contains('skip'))
        .map(it => [it.textContent.trim(), it.getBoundingClientRect()])
        .filter(([, box]) => box.height < 48 || box.width < 48)
        .map(([words, box]) => `${words} ${box.width}x${box.height}`)"""
    )
    assert small == []


@pytest.mark.parametrize("script", [True, False])
def test_one_tap_moves_a_piece_on(
    script: bool, busy_shop: Job, crew: Any, open_page: Any
) -> None:
    piece = Piece.objects.get(mark="K")
    page = open_page(crew, "phone", script=script)
    page.goto("/today/")
    row = page.locator(f"#piece-{piece.pk}")
    row.get_by_role("button", name="Bent").click()
    page.get_by_text("K is bent.").wait_for()
    assert row.get_by_role("button", name="Installed").is_visible()
    piece.refresh_from_db()
    assert piece.state == "bent"


def test_a_tap_too_late_is_told_in_its_row(
    busy_shop: Job, crew: Any, office: Any, open_page: Any
) -> None:
    piece = Piece.objects.get(mark="K")
    page = open_page(crew, "phone")
    page.goto("/today/")
    progress.advance([piece], "bent", office)
    page.locator(f"#go-{piece.pk}").click()
    told = page.locator(f"#piece-{piece.pk}").get_by_role("alert")
    told.wait_for()
    assert "Wren changed it first" in told.inner_text()
