"""Metal comes to a job's costs from the rack by itself, cent for cent."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from jobs import closing, costing
from jobs.costing import Asked
from jobs.models import Cost
from layout import estimating, plans_costs, plans_cutting
from layout.models import CutPlan, Layout, PlanStock
from shop.models import RackItem
from shop.prices import PriceBook
from tests.layout.planned import accepted, laid_job, priced, stocked
from tests.priced import price_all

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("opened")]


@pytest.fixture
def plan(office: Any) -> CutPlan:
    priced(office)
    stocked(office, 3)
    return accepted(laid_job(office), office)


def cut_all(plan: CutPlan, by: Any) -> None:
    for stock in plan.stocks.order_by("position"):
        plans_cutting.make_cuts(stock, by, 0, None)


def first(plan: CutPlan) -> PlanStock:
    return plan.stocks.select_related("item", "plan").order_by("position")[0]


def spent() -> Decimal:
    return sum((cost.amount for cost in Cost.objects.all()), Decimal(0))


def test_what_was_paid_less_what_is_kept_comes_to_the_pieces(
    plan: CutPlan, crew: Any
) -> None:
    cut_all(plan, crew)
    used = RackItem.objects.filter(state="used")
    paid = sum((item.paid for item in used if item.paid), Decimal(0))
    kept = RackItem.objects.filter(form="offcut", state="free")
    left = sum((item.paid for item in kept if item.paid), Decimal(0))
    assert spent() == paid - left > 0
    assert all(cost.piece and cost.from_rack for cost in Cost.objects.all())
    made = closing.reckoned(plan.jobs.get())
    assert made.account.metal == spent()
    assert made.families["apron", ""].real > 0


def test_a_stock_half_cut_costs_nothing_yet(plan: CutPlan, crew: Any) -> None:
    stock = first(plan)
    assert len(stock.cuts) > 1
    plans_cutting.make_cuts(stock, crew, 0, 1)
    assert not Cost.objects.exists()


def test_a_cut_taken_back_takes_its_cost_back_and_may_come_again(
    plan: CutPlan, crew: Any
) -> None:
    stock = first(plan)
    plans_cutting.make_cuts(stock, crew, 0, None)
    cost = spent()
    plans_cutting.take_back(stock, crew, "The last cut was not made.")
    assert spent() == 0 and plans_costs.standing(stock) == []
    stock.refresh_from_db()
    plans_cutting.make_cuts(stock, crew, stock.cuts_done, None)
    assert spent() == cost


def test_spoiled_metal_is_a_cost_of_the_job(plan: CutPlan, crew: Any) -> None:
    stock = first(plan)
    assert stock.item is not None
    plans_cutting.damage(stock, crew, "fell off the van")
    cost = Cost.objects.get()
    assert (cost.piece, cost.amount) == (None, stock.item.paid)
    assert "spoiled" in cost.words


def test_nothing_paid_known_costs_what_the_price_book_says(
    office: Any, crew: Any
) -> None:
    priced(office)
    stocked(office, 3)
    RackItem.objects.update(paid=None)
    cut_all(accepted(laid_job(office), office), crew)
    assert spent() > 0


def test_a_quote_takes_its_metal_from_the_plan(plan: CutPlan, owner: Any) -> None:
    price_all(owner)
    layout = Layout.objects.get(job=plan.jobs.get())
    needs = estimating.needs(layout)
    need = needs["copper 20 oz"]
    assert f"cut plan {plan.number}" in need.source
    works = estimating.works(layout)
    made = costing.reckon(works, needs, Asked(), PriceBook.on(plan.asked_at.date()))
    stock = sum(
        Decimal(str(row.width_mm * row.length_mm))
        - sum(Decimal(str(it.width_mm * it.length_mm)) for it in row.offcuts.all())
        for row in plan.stocks.all()
    )
    kilograms = sum(line.quantity for line in made.lines if line.part == "metal")
    copper = plan.metal
    weight = stock / 1_000_000 * copper.thickness_mm / 1000 * copper.density_kg_m3
    assert float(kilograms) == pytest.approx(float(weight), rel=1e-3)


def test_a_plan_of_an_older_layout_says_nothing(plan: CutPlan, office: Any) -> None:
    CutPlan.objects.update(state="dropped")
    layout = Layout.objects.get(job=plan.jobs.get())
    assert "no cut plan" in estimating.needs(layout)["copper 20 oz"].source
