"""Money and books in a real browser: phone and desk, light and dark, no barrier."""

from __future__ import annotations

import datetime
import re
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from django.core.management import call_command
from django.utils import timezone

from jobs import clock, progress, quoting, spending
from jobs.costing import Asked, Extra
from jobs.models import Job, WorkTime
from layout.laying import lay_out_job
from media import quotes
from shop.models import ShopProfile
from tests.browser.test_pages import AAA, faults
from tests.layout.measured import measured_job
from tests.priced import price_all

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def busy_money(office: Any, crew: Any, owner: Any) -> Job:
    """A year of invented past, and one real job quoted, worked at and paid for."""
    call_command("make_history", years=1, pieces_a_year=900, verbosity=0)
    price_all(owner)
    ShopProfile.objects.update(books_by_person=True)
    job = measured_job(office)
    asked = Asked(extras=(Extra("Scaffold on the garden side", Decimal(450)),))
    quote = quotes.draw_up(job, office, asked)
    quoting.offer(quote, office)
    pieces = list(lay_out_job(job, office).job.pieces.all()[:2])
    yesterday = timezone.localdate() - datetime.timedelta(days=1)
    for piece, took in zip(pieces, (35, 90), strict=True):
        clock.write(
            crew, person=crew, job=job, piece=piece, stage="cutting", day=yesterday,
            minutes=Decimal(took),
        )  # fmt: skip
    spending.write(
        job, office, part="hire", words="Lift for a day", amount=Decimal("180.50"),
        on_day=yesterday,
    )  # fmt: skip
    spoiled = progress.advance(pieces[:1], "cut", crew)[0]
    progress.scrap(spoiled, crew, "cut_wrong", "From the wrong corner")
    clock.start(owner, job=job, piece=pieces[1], stage="cutting")
    WorkTime.objects.filter(person=owner).update(
        began_at=timezone.now() - datetime.timedelta(hours=2)
    )
    return job


def pages(job: Job) -> dict[str, str]:
    quote = job.quotes.get()
    piece = WorkTime.objects.running().get().piece
    assert piece is not None
    return {
        "prices": "/shop/prices/",
        "price": "/shop/prices/metal-copper-20-oz/",
        "standard-hours": "/shop/hours/",
        "standard-hours-of": "/shop/hours/apron/cutting/",
        "money": f"/jobs/{job.pk}/",
        "quote-new": f"/jobs/{job.pk}/quote/",
        "quote": f"/quotes/{quote.pk}/",
        "costs": f"/jobs/{job.pk}/costs/",
        "hours": f"/jobs/{job.pk}/hours/",
        "account": f"/jobs/{job.pk}/account/",
        "hand-over": f"/jobs/{job.pk}/hand-over/",
        "clock-stop": "/clock/stop/",
        "clock-piece": f"/pieces/{piece.pk}/",
        "today": "/today/",
        "books": "/books/",
        "books-quoted": "/books/quoted/",
        "books-hours": "/books/hours/",
        "books-metal": "/books/metal/",
        "books-remakes": "/books/remakes/",
        "books-crew": "/books/crew/",
        "books-standards": "/books/standards/",
    }


@pytest.mark.parametrize(
    ("screen", "scheme"), [("phone", "light"), ("desk", "light"), ("desk", "dark")]
)
def test_every_page_of_money_is_whole_and_has_no_barrier(
    screen: str,
    scheme: str,
    busy_money: Job,
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
    for name, address in pages(busy_money).items():
        refused.clear()
        page.goto(address)
        broken += [f"{name}: {it}" for it in refused]
        picture = pictures / f"money-{name}-{screen}-{scheme}.png"
        page.screenshot(path=picture, full_page=True)
        extra = AAA if name == "today" else []
        found += [f"{name}: {it}" for it in faults(page, extra)]
        wide = page.evaluate("document.documentElement.scrollWidth - innerWidth")
        if wide > 0:
            found.append(f"{name}: {wide} px wider than the screen")
    assert found == []
    assert broken == []


@pytest.mark.parametrize("script", [True, False])
def test_the_clock_starts_and_stops_by_a_tap(
    script: bool, office: Any, crew: Any, opened: None, open_page: Any
) -> None:
    job = measured_job(office)
    lay_out_job(job, office)
    page = open_page(crew, "phone", script=script)
    page.goto("/today/")
    page.get_by_role("button", name=re.compile("^Start the clock ?: A$")).click()
    page.get_by_text("The clock runs.").first.wait_for()
    WorkTime.objects.update(began_at=timezone.now() - datetime.timedelta(minutes=5))
    page.get_by_role("button", name="Stop the clock").click()
    page.get_by_text("Stopped: A").wait_for()
    assert 5 <= (WorkTime.objects.get().minutes or 0) < 6


def test_a_faulty_quote_is_told_where_it_is_wrong(
    busy_money: Job, office: Any, open_page: Any, pictures: Path
) -> None:
    page = open_page(office, "phone")
    page.goto(f"/jobs/{busy_money.pk}/quote/")
    page.get_by_label("Visits").fill("")
    page.get_by_label("Extra 1, what it is").fill("Lift")
    page.get_by_role("button", name="Draw it up").click()
    page.get_by_role("alert").wait_for()
    page.screenshot(path=pictures / "money-quote-faults-phone.png", full_page=True)
    assert faults(page, []) == []
    page.get_by_role("link", name="Visits").click()
    assert page.evaluate("document.activeElement.name") == "visits"
