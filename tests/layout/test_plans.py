from __future__ import annotations

import time
from decimal import Decimal
from itertools import combinations
from typing import Any

import pytest

from jobs import progress
from jobs.models import Piece
from layout import plans, plans_reading
from layout.models import CutPlan, PlannedBlank
from shop import rack
from shop.models import RackItem, Standard, Stock
from tests.layout.measured import take
from tests.layout.planned import (
    accepted,
    asked,
    carried,
    laid_job,
    priced,
    ready,
    stocked,
)
from tests.shop.racked import INCH, metal, put

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("opened")]


@pytest.fixture
def job(office: Any) -> Any:
    priced(office)
    stocked(office)
    return laid_job(office)


def overlap(a: PlannedBlank, b: PlannedBlank) -> bool:
    (ax, ay, aw, al), (bx, by, bw, bl) = a.box(), b.box()
    near = 0.002  # rows are kept to 0.001 mm
    return (
        ax + aw > bx + near
        and bx + bw > ax + near
        and ay + al > by + near
        and by + bl > ay + near
    )


def test_every_copy_lies_on_its_stock_and_on_no_other(job: Any, office: Any) -> None:
    plan = ready(job, office)
    assert plan.state == "ready"
    blanks = PlannedBlank.objects.filter(stock__plan=plan).select_related("stock")
    wanted = {
        (piece.pk, copy)
        for piece in job.pieces.all()
        for copy in range(1, piece.quantity + 1)
    }
    assert sorted((it.piece_id, it.copy) for it in blanks) == sorted(wanted)
    for stock in plan.stocks.all():
        mine = [it for it in blanks if it.stock_id == stock.pk]
        for it in mine:
            x, y, w, h = it.box()
            assert -0.002 <= x and x + w <= stock.width_mm + 0.002
            assert -0.002 <= y and y + h <= stock.length_mm + 0.002
        assert not any(overlap(a, b) for a, b in combinations(mine, 2))


def test_every_blank_and_offcut_comes_free_once(job: Any, office: Any) -> None:
    plan = ready(job, office)
    for stock in plan.stocks.all():
        cuts = stock.shown_cuts()
        assert [cut.order for cut in cuts] == list(range(1, len(cuts) + 1))
        freed = sorted(place for cut in cuts for place in cut.blanks)
        assert freed == list(range(stock.blanks.count()))
        kept = sorted(place for cut in cuts for place in cut.offcuts)
        assert kept == list(range(stock.offcuts.count()))


def test_the_same_seed_gives_the_same_plan(job: Any, office: Any) -> None:
    def places(plan: CutPlan) -> list[Any]:
        blanks = PlannedBlank.objects.filter(stock__plan=plan)
        return list(
            blanks.order_by("stock__position", "position").values_list(
                "stock__item", "piece", "copy", "x_mm", "y_mm", "turn"
            )
        )

    assert places(ready(job, office)) == places(ready(job, office))


def test_offcuts_go_first_where_that_pays(office: Any) -> None:
    priced(office)
    stocked(office, 1)
    offcut = put(office, form="offcut", width=24 * INCH, length=60 * INCH)
    plan = ready(laid_job(office), office)
    assert plan.stocks.first().item == offcut


def test_what_is_short_is_ordered(office: Any) -> None:
    priced(office)
    plan = ready(laid_job(office), office)
    assert all(it.item is None and it.buy is not None for it in plan.stocks.all())
    assert plan.figures["to_order"] == plan.stocks.count() > 0


def test_accepting_reserves_all_its_stock(job: Any, office: Any) -> None:
    plan = accepted(job, office)
    for stock in plan.stocks.filter(item__isnull=False):
        assert stock.item.state == "reserved"
        assert stock.item.claims.get(open=True).words == f"Job {job.number}, plan 1"
    assert job.events.filter(what="accepted a cut plan").exists()
    with pytest.raises(plans_reading.Refused, match="is to be cut"):
        asked(job, office)


def test_a_sheet_taken_meanwhile_is_said_and_nothing_reserved(
    job: Any, office: Any
) -> None:
    plan = ready(job, office)
    item = plan.stocks.filter(item__isnull=False).last().item
    rack.reserve([rack.Wanted(item.pk)], office, holder="x", words="Job 99")
    with pytest.raises(plans_reading.Refused, match="reserved for Job 99 already"):
        plans.accept(plan, office)
    plan.refresh_from_db()
    assert plan.state == "ready"
    assert not PlannedBlank.objects.filter(live=True).exists()
    assert RackItem.objects.filter(state="reserved").count() == 1


def test_a_piece_cut_meanwhile_stops_the_accepting(job: Any, office: Any) -> None:
    plan = ready(job, office)
    progress.advance([job.pieces.get(mark="A")], Piece.State.CUT, office)
    with pytest.raises(plans_reading.Refused, match="A of Job .* was cut"):
        plans.accept(plan, office)


def test_a_piece_laid_out_again_stops_the_accepting(job: Any, office: Any) -> None:
    from layout.laying import lay_out_job

    plan = ready(job, office)
    take(job.sites.get(), "walls.upstand_side", "6 1/2", office)
    lay_out_job(job, office)
    with pytest.raises(plans_reading.Refused, match="out again since"):
        plans.accept(plan, office)


def test_a_plan_set_aside_lets_its_stock_go(job: Any, office: Any) -> None:
    plan = plans.drop(accepted(job, office), office, "another metal")
    assert plan.state == "dropped"
    assert not RackItem.objects.filter(state="reserved").exists()
    assert ready(job, office).state == "ready"


def test_a_metal_without_price_is_refused(office: Any) -> None:
    stocked(office)
    job = laid_job(office)
    with pytest.raises(plans_reading.Refused, match="opper 20 oz has no price"):
        asked(job, office)
    assert not CutPlan.objects.exists()


def test_a_metal_without_stock_is_refused(office: Any) -> None:
    priced(office)
    Stock.objects.all().delete()
    job = laid_job(office)
    with pytest.raises(plans_reading.Refused, match="no free copper 20 oz on the rack"):
        asked(job, office)


def test_a_blank_larger_than_any_stock_is_named(office: Any) -> None:
    priced(office)
    Stock.objects.all().delete()
    put(office, width=24 * INCH, length=40 * INCH)
    job = laid_job(office)
    with pytest.raises(plans_reading.Refused) as refused:
        asked(job, office)
    assert "R1, 24 in x 40 in" in str(refused.value)
    assert f"A of {job} is" in str(refused.value)
    assert "Divide the piece" in refused.value.faults[0]


def test_too_little_on_the_rack_is_refused_in_words(office: Any) -> None:
    priced(office)
    stocked(office, 1)
    plan = ready(laid_job(office), office, may_order=False)
    assert plan.state == "refused"
    assert "does not hold all" in plan.why()[0]


def test_stop_ends_the_search_with_the_first_plan(job: Any, office: Any) -> None:
    plan = asked(job, office, rounds=None, seconds=60)
    plans.stop(plan, office)
    begun = time.monotonic()
    plan = carried(plan)
    assert plan.state == "ready" and plan.found
    assert time.monotonic() - begun < 20
    with pytest.raises(plans_reading.Refused, match="runs no more"):
        plans.stop(plan, office)


def test_a_worker_that_lost_the_errand_writes_nothing(job: Any, office: Any) -> None:
    from shop.errands import Lost

    def taken() -> None:
        raise Lost("another has it")

    plan = asked(job, office)
    with pytest.raises(Lost):
        carried(plan, taken)
    plan.refresh_from_db()
    assert plan.state == "asked" and not plan.stocks.exists()


def test_standards_of_the_shop_decide_what_is_kept(job: Any, office: Any) -> None:
    Standard.objects.filter(key="offcut_width").update(value="2000")
    plan = ready(job, office)
    assert not any(stock.offcuts.exists() for stock in plan.stocks.all())
    assert plan.terms["keep_width_mm"] == 2000


def test_no_blank_is_turned_where_the_grain_must_run(job: Any, office: Any) -> None:
    plan = ready(job, office, turned=False)
    for blank in PlannedBlank.objects.filter(stock__plan=plan):
        assert blank.length_mm >= blank.width_mm - 0.001


def test_two_jobs_share_a_plan(job: Any, office: Any) -> None:
    other = laid_job(office)
    plan = carried(
        plans.ask_for_plan([job, other], metal(), office, seconds=2, rounds=4)
    )
    numbers = PlannedBlank.objects.filter(stock__plan=plan).values_list(
        "piece__job__number", flat=True
    )
    assert set(numbers) == {job.number, other.number}
    assert plans.words_for(plan).startswith("Jobs ")


def test_money_of_the_plan_is_what_the_metal_costs(office: Any) -> None:
    # One sheet 36 x 120 in of 20 oz copper: 30 sq ft at 1.25 lb (Copper in
    # Architecture Design Handbook, Table 1.1A), at 11.50 a kg.
    priced(office)
    price = plans_reading.price_of_area(metal())
    kilograms = Decimal("30") * Decimal("1.25") * Decimal("0.45359237")
    area = 36 * 25.4 * 120 * 25.4
    assert price * area == pytest.approx(float(kilograms) * 11.5, rel=1e-3)
