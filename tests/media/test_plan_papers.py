from __future__ import annotations

from io import BytesIO
from typing import Any

import pdfplumber
import pytest

from layout import plans, plans_cutting
from media.documents import NothingToDraw
from media.models import Document
from media.plan_papers import ask_for_plan_paper, make_plan_paper
from tests.layout.planned import (
    accepted,
    asked,
    carried,
    laid_job,
    priced,
    ready,
    stocked,
)
from tests.shop.racked import metal

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("opened")]


@pytest.fixture
def job(office: Any) -> Any:
    priced(office)
    stocked(office, 3)
    return laid_job(office)


def made(client: Any, plan: Any, capture: Any, **given: str) -> Document:
    with capture(execute=True):
        page = client.post(f"/plans/{plan.pk}/papers/make/", given)
    assert page.status_code == 302
    return Document.objects.get()


def test_the_paper_holds_every_stock_blank_and_cut(
    crew_client: Any, job: Any, office: Any, django_capture_on_commit_callbacks: Any
) -> None:
    plan = ready(job, office)
    document = made(crew_client, plan, django_capture_on_commit_callbacks, paper="a4")
    assert (document.state, document.kind, document.plan) == ("made", "cut_plan", plan)
    file = crew_client.get(document.get_absolute_url())
    with pdfplumber.open(BytesIO(b"".join(file.streaming_content))) as opened:
        sizes = {(round(p.width), round(p.height)) for p in opened.pages}
        pages = [page.extract_text() for page in opened.pages]
    assert sizes == {(842, 595)}
    whole = "\n".join(pages)
    for piece in job.pieces.all():
        assert f"{piece.mark} " in whole
    for stock in plan.stocks.all():
        mine = [p for p in pages if p.startswith(f"{stock.position + 1}. ")]
        told = "\n".join(mine)
        assert "Set the stop" in told
        tools = sum(told.count(tool) for tool in ("Shear ", "Slit ", "Snip "))
        assert tools == len(stock.cuts)
    assert "CAUTION" in pages[0] and "Paper 1" in whole
    assert all(f"page {n} of {len(pages)}" in p for n, p in enumerate(pages, 1))


def test_the_same_plan_is_not_put_on_paper_twice(
    job: Any, office: Any, crew: Any
) -> None:
    plan = ready(job, office)
    first = ask_for_plan_paper(plan, office)
    assert ask_for_plan_paper(plan, crew) == first
    assert ask_for_plan_paper(plan, crew, paper="a4") != first


def test_a_paper_stays_as_it_was_when_the_metal_is_cut(job: Any, office: Any) -> None:
    plan = accepted(job, office)
    document = ask_for_plan_paper(plan, office)
    before = make_plan_paper(document)
    for stock in plan.stocks.order_by("position"):
        plans_cutting.make_cuts(stock, office, 0, None)
    assert make_plan_paper(Document.objects.get()) == before


def test_a_plan_not_found_yet_has_no_paper(
    job: Any, office: Any, office_client: Any
) -> None:
    plan = asked(job, office)
    with pytest.raises(NothingToDraw, match="Wait for it"):
        ask_for_plan_paper(plan, office)
    page = office_client.post(f"/plans/{plan.pk}/papers/make/")
    assert page.status_code == 409 and b"Wait for it" in page.content
    assert office_client.get(f"/plans/{plan.pk}/papers/make/").status_code == 405
    page = office_client.post(f"/plans/{plan.pk}/papers/make/", {"paper": "napkin"})
    assert page.status_code == 422


def test_the_paper_of_a_plan_lies_with_each_of_its_jobs(
    crew_client: Any, job: Any, office: Any
) -> None:
    other, third = laid_job(office), laid_job(office)
    plan = carried(
        plans.ask_for_plan([job, other], metal(), office, seconds=2, rounds=4)
    )
    document = ask_for_plan_paper(plan, office)
    for its in (job, other):
        assert (
            document.title in crew_client.get(its.get_absolute_url()).content.decode()
        )
        listed = crew_client.get(f"/api/v1/documents/?job={its.pk}").json()
        assert [row["id"] for row in listed["results"]] == [document.pk]
    page = crew_client.get(third.get_absolute_url()).content.decode()
    assert document.title not in page
