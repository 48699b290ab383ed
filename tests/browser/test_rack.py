from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from layout import plans_cutting
from layout.models import CutPlan
from shop import rack
from shop.celery import app
from shop.models import RackItem
from tests.browser.test_layout import _axe, _listen
from tests.layout.planned import accepted, asked, carried, laid_job, priced, ready
from tests.shop.racked import INCH, metal, put

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture(autouse=True)
def nobody_at_work(in_place: None) -> None:
    """Errands lie where they are put until a test carries them."""
    app.conf.task_always_eager = False


@pytest.fixture
def busy_rack(opened: None, office: Any, crew: Any) -> dict[str, str]:
    """A rack with every form and state, and plans at every stage."""
    priced(office)
    new = {"metal": metal(), "form": "sheet", "width": 36 * INCH, "length": 120 * INCH}
    rack.take_in(
        rack.New(**new, lot="B 1107", place="north wall", paid=Decimal(212), alike=4),
        office,
    )
    put(office, form="offcut", width=24 * INCH, length=40 * INCH, place="by the brake")
    corners = ((0, 0), (500, 0), (500, 300), (220, 620), (0, 620))
    shaped = put(office, form="offcut", outline=corners, place="loft")
    zinc = metal("zinc 0.7 mm")
    coil = put(
        office, metal=zinc, form="coil", width=Decimal(600), length=Decimal(22000)
    )
    rack.reserve(
        [rack.Wanted(coil.pk, Decimal(8000))], office, holder="by hand:a", words="Job 9"
    )
    rack.spoil(put(office, lot="B 1107"), crew, "A fork went through it")
    running = asked(laid_job(office), office)
    done = ready(laid_job(office), office)
    cutting = accepted(laid_job(office), office)
    stock = cutting.stocks.order_by("position")[0]
    plans_cutting.make_cuts(stock, crew, 0, len(stock.cuts) // 2)
    short = _short(office)
    put(office, length=60 * INCH)
    refused = carried(asked(laid_job(office), office, may_order=False))
    return {
        "rack": "/rack/",
        "rack-new": "/rack/new/",
        "rack-sheet": "/rack/1/",
        "rack-shaped": shaped.get_absolute_url(),
        "rack-coil": coil.get_absolute_url(),
        "plans": "/plans/",
        "plan-new": "/plans/new/",
        "plan-running": running.get_absolute_url(),
        "plan-ready": done.get_absolute_url(),
        "plan-accepted": cutting.get_absolute_url(),
        "plan-refused": refused.get_absolute_url(),
        "plan-bench": f"/plans/{cutting.pk}/0/",
        "plan-short": f"/plans/{short.pk}/{short.stocks.count() - 1}/",
        "order": "/rack/order/",
    }


def _short(office: Any) -> CutPlan:
    """Accepted, with metal to order: what is free goes first."""
    for item in RackItem.objects.free().of(metal()):
        rack.reserve([rack.Wanted(item.pk)], office, holder="other", words="Job 88")
    return accepted(laid_job(office), office)


@pytest.mark.parametrize("screen", ["phone", "desk"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_page_of_the_rack_is_whole_and_open_to_all(
    open_page: Any,
    owner: Any,
    busy_rack: dict[str, str],
    pictures: Path,
    screen: str,
    scheme: str,
) -> None:
    page = open_page(owner, screen, scheme)
    said = _listen(page)
    broken: list[str] = []
    for name, address in busy_rack.items():
        said.clear()
        page.goto(address)
        page.wait_for_load_state("load")
        broken += [f"{name}: {it}" for it in said]
        page.screenshot(path=pictures / f"{name}-{screen}-{scheme}.png", full_page=True)
        wide = page.evaluate(
            "(it => it.scrollWidth - it.clientWidth)(document.documentElement)"
        )
        if wide > 0:
            broken.append(f"{name} scrolls sideways by {wide} px")
        broken += [f"{name}: {it}" for it in _axe(page)]
    assert broken == []


def test_a_plan_is_watched_until_it_is_ready(
    open_page: Any, office: Any, opened: None
) -> None:
    priced(office)
    put(office)
    plan = asked(laid_job(office), office)
    page = open_page(office, "phone")
    page.goto(plan.get_absolute_url())
    page.get_by_text("waiting").wait_for()
    carried(plan)
    page.get_by_role("button", name="Accept it and reserve the metal").click()
    page.get_by_text("Its metal is reserved").wait_for()


def test_the_bench_works_without_script(
    open_page: Any, crew: Any, office: Any, opened: None
) -> None:
    priced(office)
    for _ in range(3):
        put(office)
    plan = accepted(laid_job(office), office)
    page = open_page(crew, "phone", script=False)
    page.goto(f"/plans/{plan.pk}/0/")
    page.get_by_role("button", name="Cut 1 is made").click()
    page.get_by_role("button", name="Cut 2 is made").click()
    page.get_by_text("Cut 2 is made.").wait_for()
    page.get_by_text("was damaged").click()
    page.get_by_label("Reason").last.fill("kinked over the table")
    page.get_by_role("button", name="Damaged: plan the rest again").click()
    page.get_by_text("It plans again what").wait_for()
    assert CutPlan.objects.get(after=plan)
