"""A plan at the bench: cut by cut in its order, and the rack follows.

The first cut of a stock uses it up on the rack; a blank that comes free is cut, and a
piece advances with its last copy; an offcut worth keeping goes on the rack with a
number of its own. A damaged stock frees what is not cut, to be planned again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from decimal import Decimal

from django.db import transaction

from jobs import progress
from jobs.models import Piece
from layout import plans, plans_costs, plans_reading
from layout.models import (
    CutPlan,
    KeptOffcut,
    LaidPiece,
    PlanEvent,
    PlannedBlank,
    PlanStock,
)
from layout.plans_reading import Refused
from shop import rack
from shop.models import Person, RackItem

CENT = Decimal("0.01")
SAME_SIZE = Decimal(1)  # mm: nearer than that, two sheets are of one size


def make_cuts(
    stock: PlanStock,
    by: Person,
    seen: int,
    many: int | None = 1,
    key: str | None = None,
) -> PlanStock:
    """The next cuts of a stock are made; many: None is all that are left.

    seen: how many were made when the person looked
    Raises Refused where somebody else was faster, the stock is not there, or a piece
    was laid out again since.
    """

    def make(locked: PlanStock) -> None:
        if locked.cuts_done != seen:
            raise Refused(
                f"Somebody else was here: {locked.cuts_done} cuts of {locked} are made"
                " now. Nothing of yours was written. Look again."
            )
        _bench_ready(locked)
        if not locked.is_begun():
            _begin(locked, by)
        cuts = locked.shown_cuts()
        last = len(cuts) if many is None else min(len(cuts), seen + many)
        offcuts = list(locked.offcuts.all())
        freed: list[int] = []
        for cut in cuts[seen:last]:
            freed += cut.blanks
            for place in cut.offcuts:
                _keep_offcut(locked, offcuts[place], by)
        locked.cuts_done = last
        locked.save(update_fields=["cuts_done"])
        _blanks_cut(locked, freed, by)
        if locked.is_done():
            plans_costs.charge(locked, by)
        words = f"cut {seen + 1}" if last == seen + 1 else f"cuts {seen + 1} to {last}"
        plans.tell(locked.plan, f"made {words}", by, stock=locked, key=key)
        _close_if_done(locked.plan, by)

    return _at_bench(stock, make, key)


def take_back(
    stock: PlanStock, by: Person, reason: str, key: str | None = None
) -> PlanStock:
    """The last cut was not made after all: what followed from it is undone."""
    reason = " ".join(reason.split())
    if not reason:
        raise Refused("Reason: say in a few words why it is taken back.")

    def make(locked: PlanStock) -> None:
        if not locked.is_begun():
            raise Refused(f"No cut of {locked} is made.")
        plans_costs.uncharge(locked, by, reason)
        cut = locked.shown_cuts()[locked.cuts_done - 1]
        _blanks_not_cut(locked, cut.blanks, by, reason)
        for place in cut.offcuts:
            _offcut_not_there(locked.offcuts.get(position=place), by, reason)
        locked.cuts_done -= 1
        locked.save(update_fields=["cuts_done"])
        if locked.plan.state == CutPlan.State.DONE:
            locked.plan.state = CutPlan.State.ACCEPTED
            locked.plan.save(update_fields=["state"])
        if not locked.is_begun() and locked.item is not None:
            _stock_whole_again(locked, by, reason)
        plans.tell(
            locked.plan,
            f"took back cut {cut.order}",
            by,
            stock=locked,
            reason=reason,
            key=key,
        )

    return _at_bench(stock, make, key, done_too=True)


def damage(
    stock: PlanStock, by: Person, reason: str, key: str | None = None
) -> PlanStock:
    """The stock is spoiled. What is cut stays; all that is not begun is freed.

    The rest is then planned again by `plan_rest`.
    """
    reason = " ".join(reason.split())
    if not reason:
        raise Refused("Reason: say in a few words what happened to it.")

    def make(locked: PlanStock) -> None:
        if locked.item is not None and not locked.is_begun():
            _spoil(locked, by, reason)
        locked.damaged = reason
        locked.save(update_fields=["damaged"])
        plans_costs.charge(locked, by)
        _free_blanks([locked])
        others = [
            it
            for it in locked.plan.stocks.exclude(pk=locked.pk)
            if not it.is_over() and not it.is_begun()
        ]
        _free_blanks(others)
        PlanStock.objects.filter(pk__in=[it.pk for it in others]).update(set_aside=True)
        items = [it.item_id for it in others if it.item_id is not None]
        if items:
            rack.let_go(locked.plan.holder, by, reason, items)
        plans.tell(locked.plan, "damaged", by, stock=locked, reason=reason, key=key)
        plans.tell_jobs(
            locked.plan,
            "damaged metal",
            by,
            f"{locked}: {reason}. The rest is planned again",
        )
        _close_if_done(locked.plan, by)

    return _at_bench(stock, make, key)


def plan_rest(plan: CutPlan, by: Person, key: str | None = None) -> CutPlan:
    """A new plan for what is not cut, on the same terms. Raises Refused."""
    return plans.ask_for_plan(
        list(plan.jobs.all()),
        plan.metal,
        by,
        seconds=plan.seconds,
        finish=plan.finish,
        turned=plan.terms["turned"],
        may_order=plan.terms["may_order"],
        seed=plan.seed,
        after=plan,
        key=key,
    )


def supply(
    stock: PlanStock, by: Person, item: RackItem | None = None, key: str | None = None
) -> PlanStock:
    """What was ordered has come: a free one from the rack is taken for the plan.

    item: which one; the first that fits if not said
    """

    def make(locked: PlanStock) -> None:
        if locked.item is not None:
            raise Refused(f"{locked} is from the rack. It need not be ordered.")
        width, length = locked.size()
        fits = fitting(locked)
        chosen = next((it for it in fits if item is None or it.pk == item.pk), None)
        if chosen is None:
            what = f"{locked.form} of {locked.plan.metal}"
            raise Refused(
                f"No free {what}, {width.normalize():f} x {length.normalize():f} mm, is"
                " on the rack. Put it there first."
            )
        much = length if chosen.is_coil() else None
        rack.reserve(
            [rack.Wanted(chosen.pk, much)],
            by,
            holder=locked.plan.holder,
            words=plans.words_for(locked.plan),
        )
        locked.item = chosen
        locked.save(update_fields=["item"])
        plans.tell(locked.plan, f"took {chosen} for what was ordered", by, stock=locked)

    return _at_bench(stock, make, key)


def fitting(stock: PlanStock) -> list[RackItem]:
    """Free items that are what was ordered."""
    width, length = stock.size()
    plan = stock.plan
    items = RackItem.objects.free().of(plan.metal).filter(form=stock.form)
    return [
        it
        for it in items.filter(finish__iexact=plan.finish).order_by("number")
        if abs(it.width_mm - width) <= SAME_SIZE
        and (
            it.free_mm() >= length
            if it.is_coil()
            else abs(it.length_mm - length) <= SAME_SIZE
        )
    ]


# --- how it is done ------------------------------------------------------------------


def _at_bench(
    stock: PlanStock,
    make: Callable[[PlanStock], None],
    key: str | None,
    done_too: bool = False,
) -> PlanStock:
    """Locks the plan, then the stock, and does it once. done_too: over is no bar."""
    try:
        with transaction.atomic():
            plan = plans.locked_row(stock.plan)
            locked = plan.stocks.select_related("item__metal").get(pk=stock.pk)
            locked.plan = plan
            if key and PlanEvent.objects.filter(key=key).exists():
                return locked
            may = (
                (plan.State.ACCEPTED, plan.State.DONE)
                if done_too
                else (plan.State.ACCEPTED,)
            )
            if plan.state not in may:
                raise Refused(
                    f"{plan} is {plan.standing_words()}. Only an accepted plan is cut."
                )
            if (
                locked.damaged
                or locked.set_aside
                or (locked.is_done() and not done_too)
            ):
                raise Refused(f"{locked} is done with. Look at the plan again.")
            make(locked)
            return locked
    except (rack.Refused, progress.Refused) as refused:
        raise Refused(*refused.faults) from refused


def _bench_ready(stock: PlanStock) -> None:
    if stock.item is None:
        raise Refused(
            f"This {stock.form} is still to order. When it has come, put it on the rack"
            " and take it for the plan."
        )
    faults = []
    blanks = stock.blanks.filter(cut=False, live=True).select_related("piece", "laid")
    for blank in blanks:
        newest = LaidPiece.objects.light().of(blank.piece)
        if newest is not None and newest.pk != blank.laid_id:
            faults.append(f"{blank} was laid out again after this plan.")
        if blank.piece.scrapped:
            faults.append(f"{blank} was scrapped after this plan.")
    if faults:
        raise Refused(*dict.fromkeys(faults), "Plan the rest again.")


def _begin(stock: PlanStock, by: Person) -> None:
    """The stock leaves the rack."""
    assert stock.item is not None
    length = stock.size()[1] if stock.item.is_coil() else None
    rack.cut(
        stock.item,
        by,
        length=length,
        holder=stock.plan.holder,
        words=plans.words_for(stock.plan),
    )


def _keep_offcut(stock: PlanStock, kept: KeptOffcut, by: Person) -> None:
    """On the rack with its label, worth its share of what the stock cost."""
    item = stock.item
    assert item is not None
    width, length = (
        Decimal(it).quantize(Decimal("0.001")) for it in (kept.width_mm, kept.length_mm)
    )
    paid = None
    if item.paid is not None:
        share = width * length / (item.width_mm * item.length_mm)
        paid = (item.paid * share).quantize(CENT)
    (made,) = rack.take_in(
        rack.New(
            item.metal,
            RackItem.Form.OFFCUT,
            width,
            length,
            finish=item.finish,
            lot=item.lot,
            place="at the shear",
            paid=paid,
        ),
        by,
        cut_from=item,
        words=plans.words_for(stock.plan),
    )
    kept.item = made
    kept.save(update_fields=["item"])


def _blanks_cut(stock: PlanStock, places: Iterable[int], by: Person) -> None:
    blanks = stock.blanks.filter(position__in=list(places))
    pieces = {it.piece_id for it in blanks}
    blanks.update(cut=True)
    cut = []
    for piece in Piece.objects.filter(pk__in=pieces).select_related("job"):
        done = PlannedBlank.objects.filter(piece=piece, cut=True, live=True).count()
        ready = piece.state == Piece.State.LAID_OUT and not piece.held
        if done >= piece.quantity and ready and not piece.scrapped:
            cut.append(piece)
    if cut:
        progress.advance(cut, Piece.State.CUT, by)


def _blanks_not_cut(
    stock: PlanStock, places: Iterable[int], by: Person, reason: str
) -> None:
    blanks = stock.blanks.filter(position__in=list(places))
    pieces = {it.piece_id for it in blanks}
    for piece in Piece.objects.filter(pk__in=pieces).select_related("job"):
        if piece.state == Piece.State.CUT:
            progress.undo(piece, by, reason)
        elif piece.state != Piece.State.LAID_OUT:
            raise Refused(
                f"{piece} is {piece.stage_words()} already. Take that back first."
            )
    blanks.update(cut=False)


def _offcut_not_there(kept: KeptOffcut, by: Person, reason: str) -> None:
    if kept.item is not None:
        rack.cut(kept.item, by, reason=f"It was not cut off after all. {reason}")
        kept.item = None
        kept.save(update_fields=["item"])


def _stock_whole_again(stock: PlanStock, by: Person, reason: str) -> None:
    assert stock.item is not None
    length = stock.size()[1] if stock.item.is_coil() else None
    rack.put_back(stock.item, by, reason, length=length)
    rack.reserve(
        [rack.Wanted(stock.item.pk, length)],
        by,
        holder=stock.plan.holder,
        words=plans.words_for(stock.plan),
    )


def _spoil(stock: PlanStock, by: Person, reason: str) -> None:
    assert stock.item is not None
    holder = stock.plan.holder
    if stock.item.is_coil():
        # Only the length cut off for this plan is lost.
        words = plans.words_for(stock.plan)
        length = stock.size()[1]
        rack.cut(
            stock.item, by, length=length, holder=holder, words=words, reason=reason
        )
    else:
        rack.spoil(stock.item, by, reason, holder=holder)


def _free_blanks(stocks: Iterable[PlanStock]) -> None:
    PlannedBlank.objects.filter(stock__in=list(stocks), cut=False).update(live=False)


def _close_if_done(plan: CutPlan, by: Person) -> None:
    if all(it.is_over() for it in plan.stocks.all()):
        plan.state = CutPlan.State.DONE
        plan.save(update_fields=["state"])
        plans.tell(plan, "all cut", by)


def rest_of(plan: CutPlan) -> int:
    """How many blanks of its jobs and metal are still to plan."""
    found = plans_reading.to_cut(plan.jobs.all(), plan.metal)
    return sum(len(it.copies) for it in found)
