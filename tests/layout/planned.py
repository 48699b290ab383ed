"""A job laid out and a rack with metal for it, ready to be planned."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django.utils import timezone

from jobs.models import Job
from layout import plans, plans_finding
from layout.laying import lay_out_job
from layout.models import CutPlan
from shop import prices
from shop.errands import Beat
from shop.models import Errand, Metal, Person
from tests.layout.measured import measured_job
from tests.shop.racked import metal, put

ROUNDS = 12


def priced(by: Person, kind: Metal | None = None) -> None:
    prices.write(
        by,
        kind="metal",
        unit="kg",
        amount=Decimal("11.50"),
        from_day=timezone.localdate(),
        metal=kind or metal(),
    )


def laid_job(by: Person, **changed: str | None) -> Job:
    job = measured_job(by, **changed)
    lay_out_job(job, by)
    return job


def stocked(by: Person, sheets: int = 2, **given: Any) -> None:
    for _ in range(sheets):
        put(by, paid=Decimal("212.40"), **given)


def asked(job: Job, by: Person, **given: Any) -> CutPlan:
    """A plan asked for, its errand not yet carried."""
    given = {"seconds": 2, "rounds": ROUNDS, **given}
    return plans.ask_for_plan([job], metal(), by, **given)


def carried(plan: CutPlan, beat: Beat = lambda: None) -> CutPlan:
    """What a worker does with it."""
    errand = Errand.objects.get(pk=plan.errand_id)
    Errand.objects.filter(pk=errand.pk).update(
        state="running", attempt=1, heartbeat=timezone.now(), lease_until=timezone.now()
    )
    errand.refresh_from_db()
    plans_finding.carry_plan(errand, beat)
    return CutPlan.objects.get(pk=plan.pk)


def ready(job: Job, by: Person, **given: Any) -> CutPlan:
    return carried(asked(job, by, **given))


def accepted(job: Job, by: Person, **given: Any) -> CutPlan:
    return plans.accept(ready(job, by, **given), by)
