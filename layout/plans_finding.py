"""Cut plans that are found as an errand: at once a first one, then better ones."""

from __future__ import annotations

import logging
import time

from layout import plans, plans_reading, plans_solving
from layout.models import CutPlan
from layout.nesting import check
from layout.plans_reading import Order
from layout.plans_solving import FoundPlan
from shop.errands import Beat, Lost, Refused, carries, held
from shop.models import Errand, ShopProfile

log = logging.getLogger(__name__)

ASK_EVERY = 0.5  # seconds between two looks whether somebody said stop
TRIAL = 8  # rounds to see whether the rack holds all
WRITE_EVERY = 1.0  # seconds between two plans written, after the first


@carries(plans.KIND)
def carry_plan(errand: Errand, beat: Beat) -> None:
    """Finds one plan. Carried again after a death midway, it begins anew."""
    plan = CutPlan.objects.filter(pk=errand.payload["plan"]).first()
    if plan is None:
        raise Refused("The plan is no longer there.")
    if plan.state not in CutPlan.RUNNING:
        return
    try:
        _find(plan, errand, beat)
    except Lost:
        raise
    except plans_reading.Refused as refusal:
        _end(plan, errand, CutPlan.State.REFUSED, str(refusal))
    except Exception as fault:
        reason = (
            f"Something went wrong on our side ({type(fault).__name__}), not with what"
            " was asked. Plan again; if it stays, tell whoever keeps the server."
        )
        _set_down(plan, CutPlan.State.FAILED, reason)
        raise


def _find(plan: CutPlan, errand: Errand, beat: Beat) -> None:
    terms = plan.terms
    unit = ShopProfile.current().units
    order = plans_reading.order(
        list(plan.jobs.all()),
        plan.metal,
        terms,
        unit,
        plan.finish,
        terms["may_order"],
    )
    desk = _Desk(plan, beat)
    if _rack_holds(order, plan.seed, desk):
        order = order.from_the_rack()
    rounds = errand.payload.get("rounds")
    try:
        plans_solving.solve(order, plan.seed, desk.goes_on, desk.better, rounds)
    except plans_reading.Refused:
        if desk.written is None:
            raise
    desk.write_last()
    if desk.written is None and desk.wanted:
        raise AssertionError("no plan passed the check")
    _end(plan, errand, CutPlan.State.READY, "")


def _rack_holds(order: Order, seed: int, desk: _Desk) -> bool:
    """Whether all the blanks come out of what is there: then nothing is ordered, and
    what was found is the first plan."""
    try:
        plans_solving.solve(
            order.from_the_rack(), seed, lambda: True, desk.better, TRIAL, pairs=False
        )
    except plans_reading.Refused:
        return False
    desk.write_last()
    return True


class _Desk:
    """Writes better plans as they come, not more often than people can look."""

    def __init__(self, plan: CutPlan, beat: Beat) -> None:
        self.plan, self.beat = plan, beat
        self.waiting: FoundPlan | None = None
        self.written: FoundPlan | None = None
        self.wanted = True
        self.end = time.monotonic() + plan.seconds
        self.wrote_at = self.asked_at = float("-inf")

    def better(self, found: FoundPlan) -> None:
        self.waiting = found
        if time.monotonic() - self.wrote_at >= WRITE_EVERY:
            self.write_last()

    def write_last(self) -> None:
        if self.waiting is None or not self.wanted:
            return
        found, self.waiting = self.waiting, None
        if self.written is not None and found.plan == self.written.plan:
            return
        task = found.task
        if wrong := check.faults(found.plan, task.blanks, task.stocks, task.keep):
            # The checker's word counts: the sound plan before it stands.
            log.warning("%s can't be cut: %s", self.plan, "; ".join(wrong[:5]))
            return
        self.wanted = plans.keep_found(self.plan, found, self.beat)
        self.written, self.wrote_at = found, time.monotonic()

    def goes_on(self) -> bool:
        now = time.monotonic()
        if now >= self.end:
            return False
        if now - self.wrote_at >= WRITE_EVERY:
            self.write_last()
        if now - self.asked_at < ASK_EVERY:
            return self.wanted
        self.asked_at = now
        row = CutPlan.objects.filter(pk=self.plan.pk).values_list("stop_asked", "state")
        stop, state = row[0]
        return self.wanted and not stop and state in CutPlan.RUNNING


def _end(plan: CutPlan, errand: Errand, state: str, reason: str) -> None:
    with held(errand):
        _set_down(plan, state, reason)


def _set_down(plan: CutPlan, state: str, reason: str) -> None:
    running = CutPlan.objects.running().filter(pk=plan.pk)
    running.update(state=state, reason=reason)
