"""The verbs of cut plans: asked for, found, stopped, accepted, set aside.

A plan is asked for in a row and found by an errand. Each better plan takes the place
of the one before until the time is over or somebody says stop; accepting one reserves
its stock on the rack.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from decimal import Decimal
from typing import Any

from django.db import IntegrityError, transaction
from django.db.models import Max

from jobs import log
from jobs.models import Job
from layout import plans_reading
from layout.models import (
    CutPlan,
    KeptOffcut,
    PlanEvent,
    PlannedBlank,
    PlanStock,
)
from layout.nesting.plan import CutStock, Placement
from layout.plans_cuts import shown_cuts
from layout.plans_reading import Refused
from layout.plans_solving import FoundPlan
from shop import rack
from shop.errands import ask
from shop.models import Metal, Person, ShopProfile

KIND = "cut_plan"
State = CutPlan.State
_TRIES = 20


def ask_for_plan(
    jobs: Sequence[Job],
    metal: Metal,
    by: Person,
    *,
    seconds: int,
    finish: str = "",
    turned: bool = True,
    may_order: bool = True,
    seed: int = 1,
    rounds: int | None = None,
    after: CutPlan | None = None,
    key: str | None = None,
) -> CutPlan:
    """A plan to be found by a worker. Raises Refused where there can be none.

    rounds: so many attempts instead of the time, to get the same plan again
    """
    if key and (earlier := CutPlan.objects.filter(key=key).first()):
        return earlier
    if not jobs:
        raise Refused("No job was chosen. Choose at least one.")
    if closed := [job for job in jobs if not job.is_open()]:
        raise Refused(
            *(f"{job} is {job.get_state_display()}. Open it again." for job in closed)
        )
    terms = plans_reading.terms_of_the_shop(turned, may_order)
    unit = ShopProfile.current().units
    plans_reading.order(jobs, metal, terms, unit, finish, may_order)
    with transaction.atomic():
        plan = _numbered(
            metal=metal,
            finish=finish,
            seconds=seconds,
            seed=seed,
            terms=terms,
            asked_by=by,
            after=after,
            key=key,
        )
        plan.jobs.set(jobs)
        more = {"rounds": rounds} if rounds is not None else {}
        plan.errand = ask(KIND, plan=plan.pk, **more)
        plan.save(update_fields=["errand"])
        tell(plan, "asked for", by)
        return plan


def _numbered(**given: Any) -> CutPlan:
    for _ in range(_TRIES):
        last = CutPlan.objects.aggregate(last=Max("number"))["last"] or 0
        try:
            with transaction.atomic():
                return CutPlan.objects.create(number=last + 1, **given)
        except IntegrityError as error:
            if "number" not in str(error):
                raise
    raise RuntimeError("no free plan number after several tries")


def tell(
    plan: CutPlan,
    what: str,
    by: Person,
    *,
    stock: PlanStock | None = None,
    reason: str = "",
    key: str | None = None,
) -> PlanEvent:
    """Adds one event to the plan's own log."""
    return PlanEvent.objects.create(
        plan=plan, stock=stock, what=what, by=by, reason=reason, key=key
    )


def tell_jobs(plan: CutPlan, what: str, by: Person, reason: str = "") -> None:
    """One line in the log of each of its jobs."""
    for job in plan.jobs.all():
        log.write(job, what, by, about=str(plan), reason=reason)


# --- the search writes ------------------------------------------------------------


def keep_found(plan: CutPlan, found: FoundPlan, mine: Callable[[], None]) -> bool:
    """Puts a found plan in the place of the one before; False if none is wanted.

    mine: raises where another worker holds the errand now
    """
    with transaction.atomic():
        mine()
        locked = CutPlan.objects.select_for_update(of=("self",)).get(pk=plan.pk)
        if locked.state not in CutPlan.RUNNING:
            return False
        # A draft gives way to a better one; only what is accepted is history.
        locked.stocks.all().delete()
        for position, stock in enumerate(found.plan.stocks):
            _write_stock(locked, position, stock, found)
        locked.state = State.PLANNING
        locked.found += 1
        locked.figures = figures(found)
        locked.save(update_fields=["state", "found", "figures"])
        return True


def figures(found: FoundPlan) -> dict[str, Any]:
    """What the page says of a plan. Areas in square mm; shares of 1."""
    plan = found.plan
    return {
        "cost": round(sum(_money(it, found) for it in plan.stocks), 2),
        "taken_mm2": round(sum(it.width * it.length for it in plan.stocks)),
        "used_mm2": round(plan.used),
        "blanks_mm2": round(plan.blanks),
        "yield": round(plan.share, 4),
        "best_yield": round(plan.best_share, 4),
        "stocks": len(plan.stocks),
        "to_order": sum(found.source(it).item is None for it in plan.stocks),
        "cuts": sum(len(it.cuts) for it in plan.stocks),
    }


def _money(stock: CutStock, found: FoundPlan) -> float:
    """Of the stock taken, less what its kept offcuts are worth."""
    kept = sum(it.area for it in stock.offcuts) * found.task.keep.worth
    return found.source(stock).money * (stock.width * stock.length - kept)


def _write_stock(
    plan: CutPlan, position: int, stock: CutStock, found: FoundPlan
) -> None:
    source = found.source(stock)
    item = source.item
    squared = source.squared
    dx, dy = squared[:2] if squared else (0.0, 0.0)
    row = PlanStock.objects.create(
        plan=plan,
        position=position,
        item=item,
        buy=source.buy,
        form=stock.form,
        width_mm=float(item.width_mm) if item else stock.width,
        length_mm=float(item.length_mm) if item and squared else round(stock.length, 3),
        outline=item.outline if item else None,
        cuts=[cut._asdict() for cut in shown_cuts(stock, squared)],
    )
    PlannedBlank.objects.bulk_create(
        _blank(row, place, put, found, dx, dy)
        for place, put in enumerate(stock.placements)
    )
    KeptOffcut.objects.bulk_create(
        KeptOffcut(
            stock=row,
            position=place,
            x_mm=round(it.x + dx, 3),
            y_mm=round(it.y + dy, 3),
            width_mm=round(it.width, 3),
            length_mm=round(it.length, 3),
        )
        for place, it in enumerate(stock.offcuts)
    )


def _blank(
    stock: PlanStock, place: int, put: Placement, found: FoundPlan, dx: float, dy: float
) -> PlannedBlank:
    laid, piece, quarters = found.task.pieces[put.blank.mark, put.blank.copy]
    return PlannedBlank(
        stock=stock,
        position=place,
        laid=laid,
        piece=piece,
        copy=put.blank.copy,
        x_mm=round(put.x + dx, 3),
        y_mm=round(put.y + dy, 3),
        width_mm=round(put.width, 3),
        length_mm=round(put.length, 3),
        turn=(put.turn // 90 + quarters) % 4,
    )


# --- people decide -----------------------------------------------------------------


def stop(plan: CutPlan, by: Person) -> CutPlan:
    """The search ends with the best plan so far."""
    with transaction.atomic():
        locked = locked_row(plan)
        if not locked.is_running():
            raise Refused(f"{locked} is {locked.standing_words()}. It runs no more.")
        locked.stop_asked = True
        locked.save(update_fields=["stop_asked"])
        tell(locked, "told to stop", by)
        return locked


def accept(plan: CutPlan, by: Person, key: str | None = None) -> CutPlan:
    """The plan will be cut: its stock is reserved, all or none.

    Raises Refused where stock was taken or a blank was planned or cut meanwhile.
    """
    with transaction.atomic():
        locked = locked_row(plan)
        if key and PlanEvent.objects.filter(key=key).exists():
            return locked
        if not locked.is_ready():
            raise Refused(f"{locked} is {locked.standing_words()}, not ready.")
        if faults := _gone(locked):
            raise Refused(*faults, "Nothing was reserved. Plan again.")
        try:
            with transaction.atomic():
                PlannedBlank.objects.filter(stock__plan=locked).update(live=True)
        except IntegrityError as taken:
            raise Refused(
                "Another accepted plan holds some of these blanks. Nothing was"
                " reserved. Plan again."
            ) from taken
        _reserve(locked, by)
        locked.state = State.ACCEPTED
        locked.save(update_fields=["state"])
        tell(locked, "accepted", by, key=key)
        tell_jobs(locked, "accepted a cut plan", by)
        return locked


def _gone(plan: CutPlan) -> list[str]:
    """Blanks that are no longer as they were planned."""
    blanks = PlannedBlank.objects.filter(stock__plan=plan)
    now = {
        (piece.pk, copy): it.laid.pk
        for it in plans_reading.to_cut(plan.jobs.all(), plan.metal)
        for piece, copy in it.copies
    }
    faults = []
    for blank in blanks.select_related("piece__job"):
        if now.get((blank.piece_id, blank.copy)) != blank.laid_id:
            faults.append(
                f"{blank} of {blank.piece.job} was cut, held, planned elsewhere or laid"
                " out again since."
            )
    return faults


def _reserve(plan: CutPlan, by: Person) -> None:
    wanted: dict[int, rack.Wanted] = {}
    for stock in plan.stocks.filter(item__isnull=False).select_related("item"):
        assert stock.item is not None
        if not stock.item.is_coil():
            wanted[stock.item.pk] = rack.Wanted(stock.item.pk)
            continue
        known = wanted.get(stock.item.pk)
        length = (known.length if known else None) or Decimal(0)
        wanted[stock.item.pk] = rack.Wanted(stock.item.pk, length + stock.size()[1])
    if not wanted:
        return
    try:
        rack.reserve(wanted.values(), by, holder=plan.holder, words=words_for(plan))
    except rack.Refused as refused:
        raise Refused(*refused.faults, "Plan again with what is free.") from refused


def words_for(plan: CutPlan) -> str:
    """What the rack says a stock is reserved for: Job 4, plan 12."""
    numbers = ", ".join(str(it) for it in plan.jobs.values_list("number", flat=True))
    many = "Jobs" if "," in numbers else "Job"
    return f"{many} {numbers}, plan {plan.number}"[:120]


def drop(plan: CutPlan, by: Person, reason: str = "") -> CutPlan:
    """Sets a plan aside and lets its stock go. One that is begun stays."""
    with transaction.atomic():
        locked = locked_row(plan)
        if locked.state in CutPlan.ENDED:
            raise Refused(f"{locked} is {locked.standing_words()} already.")
        if locked.stocks.filter(cuts_done__gt=0).exists():
            raise Refused(
                f"{locked} is begun. Finish it, or plan the rest again from its page."
            )
        PlannedBlank.objects.filter(stock__plan=locked).update(live=False)
        rack.let_go(locked.holder, by, reason)
        locked.state = State.DROPPED
        locked.stop_asked = True
        locked.save(update_fields=["state", "stop_asked"])
        tell(locked, "set aside", by, reason=reason)
        return locked


def locked_row(plan: CutPlan) -> CutPlan:
    rows = CutPlan.objects.select_for_update(of=("self",)).select_related("errand")
    return rows.select_related("metal", "errand").get(pk=plan.pk)
