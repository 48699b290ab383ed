from __future__ import annotations

from io import BytesIO
from typing import Any
from xml.etree import ElementTree

import pdfplumber
import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from layout.models import CutPlan, PlanStock
from shop.models import RackItem, Standard
from tests.layout.planned import accepted, asked, laid_job, priced, ready, stocked
from tests.shop.racked import metal, put

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("opened")]


@pytest.fixture
def job(office: Any) -> Any:
    priced(office)
    stocked(office, 3)
    return laid_job(office)


def asking(job: Any, **given: str) -> dict[str, Any]:
    return {
        "metal": metal().pk,
        "jobs": [job.pk],
        "seconds": "2",
        "may_order": "on",
        **given,
    }


def test_the_form_knows_the_jobs_metal_and_the_shops_time(
    crew_client: Any, job: Any
) -> None:
    Standard.objects.filter(key="plan_seconds").update(value="7")
    page = crew_client.get(f"/plans/new/?job={job.pk}")
    form = page.context["form"]
    assert form.initial["jobs"] == [job.pk]
    assert form.initial["metal"] == metal()
    assert form.initial["seconds"] == 7
    assert crew_client.get("/plans/new/?job=x").status_code == 200


def test_a_plan_is_asked_for_found_and_shown(
    office_client: Any, job: Any, django_capture_on_commit_callbacks: Any
) -> None:
    with django_capture_on_commit_callbacks(execute=True):
        page = office_client.post("/plans/new/", asking(job, key="one"))
    plan = CutPlan.objects.get()
    assert page["Location"] == plan.get_absolute_url()
    assert plan.state == "ready"
    shown = office_client.get(plan.get_absolute_url()).content.decode()
    assert "Becomes blanks" in shown and "Accept it" in shown and "USD" in shown
    office_client.post("/plans/new/", asking(job, key="one"))
    assert CutPlan.objects.count() == 1


def test_what_cannot_be_planned_is_said_on_the_form(
    office_client: Any, office: Any
) -> None:
    job = laid_job(office)
    page = office_client.post("/plans/new/", asking(job))
    assert page.status_code == 422
    assert "has no price" in page.content.decode()
    page = office_client.post("/plans/new/", asking(job, seconds="90"))
    assert "less than or equal to 60" in page.content.decode()
    assert not CutPlan.objects.exists()


def test_a_running_plan_asks_for_itself_again(
    office_client: Any, job: Any, office: Any
) -> None:
    plan = asked(job, office)
    whole = office_client.get(plan.get_absolute_url()).content.decode()
    assert 'hx-trigger="every 1s"' in whole and 'http-equiv="refresh"' in whole
    part = office_client.get(plan.get_absolute_url(), headers={"HX-Request": "true"})
    assert b"<html" not in part.content and b"waiting" in part.content
    office_client.post(f"/plans/{plan.pk}/stop/")
    plan.refresh_from_db()
    assert plan.stop_asked


def test_accepting_and_setting_aside_by_page(
    office_client: Any, job: Any, office: Any
) -> None:
    plan = ready(job, office)
    assert office_client.post(f"/plans/{plan.pk}/accept/").status_code == 302
    assert RackItem.objects.filter(state="reserved").exists()
    page = office_client.post(f"/plans/{plan.pk}/accept/")
    assert page.status_code == 409 and b"not ready" in page.content
    office_client.post(f"/plans/{plan.pk}/set-aside/", {"drop-reason": "zinc now"})
    assert not RackItem.objects.filter(state="reserved").exists()


def test_money_of_a_plan_is_not_for_the_crew(
    crew_client: Any, job: Any, office: Any
) -> None:
    plan = ready(job, office)
    assert "USD" not in crew_client.get(plan.get_absolute_url()).content.decode()


def test_the_bench_cuts_by_one_button(crew_client: Any, job: Any, office: Any) -> None:
    plan = accepted(job, office)
    url = f"/plans/{plan.pk}/0/"
    page = crew_client.get(url)
    assert b"Cut 1 is made" in page.content
    sent = {"seen": "0", "many": "one", "key": "k"}
    assert crew_client.post(f"{url}cut/", sent)["Location"] == url
    assert b"Cut 2 is made" in crew_client.get(url).content
    stale = crew_client.post(f"{url}cut/", {**sent, "key": "other"})
    assert stale.status_code == 409 and b"Somebody else was here" in stale.content
    assert crew_client.post(f"{url}cut/", {"seen": "x"}).status_code == 422
    page = crew_client.post(f"{url}back/", {"back-reason": ""})
    assert page.status_code == 422
    crew_client.post(f"{url}back/", {"back-reason": "glove"})
    assert PlanStock.objects.get(plan=plan, position=0).cuts_done == 0


def test_damage_by_page_plans_the_rest_at_once(
    crew_client: Any, job: Any, office: Any
) -> None:
    plan = accepted(job, office)
    url = f"/plans/{plan.pk}/0/"
    crew_client.post(f"{url}cut/", {"seen": "0", "many": "one"})
    page = crew_client.post(f"{url}damaged/", {"damage-reason": "kinked"})
    again = CutPlan.objects.get(after=plan)
    assert page["Location"] == again.get_absolute_url()
    shown = crew_client.get(plan.get_absolute_url()).content.decode()
    assert "planned again" in shown and str(again) in shown


def test_drawings_are_svg_with_every_mark(
    crew_client: Any, job: Any, office: Any
) -> None:
    plan = ready(job, office)
    for stock in plan.stocks.all():
        page = crew_client.get(f"/plans/{plan.pk}/{stock.position}.svg")
        assert page["Content-Type"] == "image/svg+xml"
        root = ElementTree.fromstring(page.content)
        told = " ".join(it.text or "" for it in root.iter() if it.tag.endswith("text"))
        for blank in stock.blanks.select_related("piece"):
            assert blank.piece.mark in told
        rings = [it for it in root.iter() if it.tag.endswith("circle")]
        assert len(rings) == len(stock.cuts)  # in the whole, or in a detail


def test_the_list_to_order_as_page_csv_and_pdf(crew_client: Any, office: Any) -> None:
    assert b"Nothing is short" in crew_client.get("/rack/order/").content
    priced(office)
    accepted(laid_job(office), office)
    assert b"copper 20 oz" in crew_client.get("/rack/order/").content
    page = crew_client.get("/rack/order.csv")
    assert page["Content-Type"].startswith("text/csv")
    assert page.content.decode().startswith("needed_by,jobs,")
    assert crew_client.get("/rack/order.pdf").content.startswith(b"%PDF")
    assert crew_client.get("/rack/order.xls").status_code == 404


def test_a_label_is_one_small_pdf_page(crew_client: Any, office: Any) -> None:
    put(office, lot="A7")
    page = crew_client.get("/rack/1/label.pdf")
    with pdfplumber.open(BytesIO(page.content)) as opened:
        (label,) = opened.pages
        size = [float(it) / 72 * 25.4 for it in (label.width, label.height)]
        words = label.extract_text()
    assert size == pytest.approx([89, 36], abs=0.1)
    assert "R1" in words and "lot A7" in words


@pytest.mark.parametrize(
    "address",
    ["/plans/", "/plans/new/", "/plans/1/", "/plans/1/0/", "/rack/order/"],
)
def test_a_stranger_signs_in_first(stranger_client: Any, address: str) -> None:
    assert stranger_client.get(address).status_code == 302


def test_the_wrong_method_and_what_is_not_there(
    office_client: Any, job: Any, office: Any
) -> None:
    plan = ready(job, office)
    url = plan.get_absolute_url()
    assert office_client.post("/plans/").status_code == 405
    for act in ("accept", "stop", "set-aside", "rest", "0/cut", "0/damaged"):
        assert office_client.get(f"{url}{act}/").status_code == 405, act
    assert office_client.get("/plans/99/").status_code == 404
    assert office_client.get(f"{url}99/").status_code == 404


def test_the_job_page_shows_its_plans(
    office_client: Any, job: Any, office: Any
) -> None:
    plan = ready(job, office)
    page = office_client.get(job.get_absolute_url()).content.decode()
    assert plan.get_absolute_url() in page and "Plan the cuts" in page


def queries(client: Any, address: str) -> int:
    with CaptureQueriesContext(connection) as made:
        assert client.get(address).status_code == 200
    return len(made)


def test_the_number_of_queries_stays(office_client: Any, job: Any, office: Any) -> None:
    plan = ready(job, office)
    pages = [plan.get_absolute_url(), "/plans/", "/rack/order/", f"/plans/{plan.pk}/0/"]
    few = [queries(office_client, page) for page in pages]
    other = laid_job(office)
    from layout import plans as verbs
    from tests.layout.planned import carried

    both = carried(
        verbs.ask_for_plan([job, other], metal(), office, seconds=2, rounds=4)
    )
    assert both.stocks.count() > plan.stocks.count()
    pages[0], pages[3] = both.get_absolute_url(), f"/plans/{both.pk}/0/"
    assert [queries(office_client, page) for page in pages] == few
