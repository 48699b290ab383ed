from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.db.models import Count, Q
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.cache import cache_control
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from jobs.access import SEE, job_for, person_who_may
from jobs.views.keys import key_of, new_key
from layout import plans, plans_cutting, plans_drawn, plans_order, plans_reading
from layout.models import CutPlan, PlanStock
from layout.plans_forms import CutForm, DropForm, PlanForm, ReasonForm
from shop.access import may
from shop.forms import shop_unit
from shop.models import Metal, Person, RackItem
from shop.prices import PriceBook

PAGE = 25
SVG = "image/svg+xml"


def plan_for(person: Any, pk: int, act: str = SEE) -> CutPlan:
    """Raises PermissionDenied if the person may not, Http404 if there is none."""
    person_who_may(person, act)
    return get_object_or_404(CutPlan.objects.newest_first(), pk=pk)


def stock_for(person: Any, pk: int, position: int, act: str = SEE) -> PlanStock:
    plan = plan_for(person, pk, act)
    stock = get_object_or_404(plan.stocks.whole(), position=position)
    stock.plan = plan
    return stock


@require_safe
def plan_list(request: HttpRequest) -> HttpResponse:
    person_who_may(request.user, SEE)
    rows = CutPlan.objects.newest_first().prefetch_related("jobs")
    page = Paginator(rows, PAGE).get_page(request.GET.get("page"))
    context = {"page": page, "on_rack": True, "query": ""}
    return render(request, "layout/plan_list.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def new(request: HttpRequest) -> HttpResponse:
    """Asks for a plan. ?job= ticks a job, and its metal is chosen."""
    person = person_who_may(request.user, "lay_out")
    form = _form(request, person)
    faults: list[str] = []
    if request.method == "POST" and form.is_valid():
        asked = form.cleaned_data
        try:
            plan = plans.ask_for_plan(
                list(asked["jobs"]),
                asked["metal"],
                person,
                seconds=asked["seconds"],
                finish=asked["finish"],
                turned=not asked["rolled"],
                may_order=asked["may_order"],
                key=key_of(person, "plan", asked["key"]),
            )
            return redirect(plan)
        except plans_reading.Refused as refused:
            faults = refused.faults
    status = 422 if form.is_bound else 200
    context = {"form": form, "faults": faults, "on_rack": True}
    return render(request, "layout/plan_form.html", context, status=status)


def _form(request: HttpRequest, person: Person) -> PlanForm:
    jobs = plans_reading.jobs_to_plan(person)
    names = plans_reading.metals_to_cut(jobs)
    metals = Metal.objects.filter(name__in=names)
    chosen = request.GET.get("job", "")
    job = None
    if chosen.isascii() and chosen.isdecimal() and len(chosen) < 18:
        job = job_for(person, int(chosen))
    own = plans_reading.metals_to_cut([job]) if job else []
    return PlanForm(
        request.POST or None,
        jobs=jobs,
        metals=metals,
        initial={
            "key": new_key(),
            "jobs": [job.pk] if job else [],
            "metal": metals.filter(name__in=own).first() if own else metals.first(),
            "seconds": round(plans_reading.standard("plan_seconds")),
            "may_order": True,
        },
    )


@require_safe
def plan(request: HttpRequest, pk: int) -> HttpResponse:
    """One plan; while it is searched for, htmx asks for its part again and again."""
    found = plan_for(request.user, pk)
    if request.htmx:  # type: ignore[attr-defined]
        return render(request, "layout/_plan.html", _shown(found))
    return plan_page(request, found)


def plan_page(
    request: HttpRequest, plan: CutPlan, *, status: int = 200, **given: Any
) -> HttpResponse:
    """The whole page of a plan. given: faults or bound forms."""
    context = {**_shown(plan), **given}
    return render(request, "layout/plan.html", context, status=status)


def _shown(plan: CutPlan) -> dict[str, Any]:
    unit = shop_unit()
    stocks = list(
        plan.stocks.select_related("item", "buy").annotate(
            number=Count("blanks", distinct=True),
            cut=Count("blanks", filter=Q(blanks__cut=True), distinct=True),
        )
    )
    offcuts: dict[int, list[Any]] = {}
    for stock in plan.stocks.prefetch_related("offcuts__item"):
        offcuts[stock.pk] = list(stock.offcuts.all())
    return {
        "plan": plan,
        "jobs": list(plan.jobs.order_by("number")),
        "stocks": [(stock, offcuts[stock.pk]) for stock in stocks],
        "begun": any(stock.cuts_done for stock in stocks),
        "rows": plans_drawn.blank_rows(
            list(plan.stocks.prefetch_related("blanks__laid", "blanks__piece__job")),
            unit,
        )
        if plan.is_ready() or plan.is_accepted()
        else [],
        "events": list(plan.events.select_related("by", "stock__item")[:40]),
        "next_plan": plan.replanned_as.first(),
        "unit": unit,
        "key": new_key(),
        "on_rack": True,
        "drop_form": DropForm(prefix="drop", initial={"key": new_key()}),
    }


def _decide(
    request: HttpRequest, pk: int, act: Callable[[CutPlan, Person], str]
) -> HttpResponse:
    person = person_who_may(request.user, "lay_out")
    plan = plan_for(person, pk, "lay_out")
    try:
        said = act(plan, person)
    except plans_reading.Refused as refused:
        now = plan_for(person, pk)
        return plan_page(request, now, status=409, faults=refused.faults)
    messages.success(request, said)
    return redirect(plan)


@require_POST
def stop(request: HttpRequest, pk: int) -> HttpResponse:
    def act(plan: CutPlan, person: Person) -> str:
        plans.stop(plan, person)
        return f"{plan} stops with the best found so far."

    return _decide(request, pk, act)


@require_POST
def accept(request: HttpRequest, pk: int) -> HttpResponse:
    def act(plan: CutPlan, person: Person) -> str:
        key = key_of(person, "accept", request.POST.get("key", "")[:64])
        plans.accept(plan, person, key)
        return f"{plan} is accepted. Its metal is reserved."

    return _decide(request, pk, act)


@require_POST
def drop(request: HttpRequest, pk: int) -> HttpResponse:
    form = DropForm(request.POST, prefix="drop")
    reason = form.cleaned_data["reason"] if form.is_valid() else ""

    def act(plan: CutPlan, person: Person) -> str:
        plans.drop(plan, person, reason)
        return f"{plan} is set aside. Its metal is free again."

    return _decide(request, pk, act)


@require_POST
def rest(request: HttpRequest, pk: int) -> HttpResponse:
    """Plans again what is not cut."""
    person = person_who_may(request.user, "lay_out")
    plan = plan_for(person, pk, "lay_out")
    key = key_of(person, "rest", request.POST.get("key", "")[:64])
    try:
        return redirect(plans_cutting.plan_rest(plan, person, key))
    except plans_reading.Refused as refused:
        return plan_page(request, plan, status=409, faults=refused.faults)


# --- the bench -----------------------------------------------------------------------


@require_safe
def stock(request: HttpRequest, pk: int, position: int) -> HttpResponse:
    """One stock at the bench: its drawing, and the next cut as one big button."""
    return stock_page(request, stock_for(request.user, pk, position))


def stock_page(
    request: HttpRequest, stock: PlanStock, *, status: int = 200, **given: Any
) -> HttpResponse:
    unit = shop_unit()
    cuts = [
        (
            cut,
            plans_drawn.cut_told(cut, unit),
            plans_drawn.cut_gives(cut, stock, unit),
            cut.order <= stock.cuts_done,
        )
        for cut in stock.shown_cuts()
    ]
    plan = stock.plan
    cutting = plan.is_accepted() and not stock.is_over()
    others = plan.stocks.order_by("position")
    following = next(
        (it for it in others if it.position > stock.position and not it.is_over()), None
    )
    context = {
        "plan": plan,
        "stock": stock,
        "name": plans_drawn.stock_name(stock),
        "told": plans_drawn.stock_told(stock, unit),
        "cuts": cuts,
        "next": cuts[stock.cuts_done] if cutting else None,
        "following": following,
        "kept": list(stock.offcuts.all()),
        "can_come": bool(stock.to_order() and cutting and plans_cutting.fitting(stock)),
        "back_form": ReasonForm(prefix="back", initial={"key": new_key()}),
        "damage_form": ReasonForm(prefix="damage", initial={"key": new_key()}),
        "unit": unit,
        "key": new_key(),
        "on_rack": True,
        **given,
    }
    return render(request, "layout/plan_stock.html", context, status=status)


@require_POST
def make_cut(request: HttpRequest, pk: int, position: int) -> HttpResponse:
    person = person_who_may(request.user, "advance")
    stock = stock_for(person, pk, position, "advance")
    form = CutForm(request.POST)
    if not form.is_valid():
        faults = [f"Tap the button once more: {form.errors.as_text()}"]
        return stock_page(request, stock, status=422, faults=faults)
    tap = form.cleaned_data
    many = None if tap["many"] == "all" else 1
    try:
        made = plans_cutting.make_cuts(
            stock, person, tap["seen"], many, key_of(person, "cut", tap["key"])
        )
    except plans_reading.Refused as refused:
        now = stock_for(person, pk, position)
        return stock_page(request, now, status=409, faults=refused.faults)
    done = "All cuts are made." if made.is_done() else f"Cut {made.cuts_done} is made."
    messages.success(request, done)
    return redirect("layout:plan_stock", pk, position)


@require_POST
def take_back(request: HttpRequest, pk: int, position: int) -> HttpResponse:
    return _with_reason(
        request, pk, position, "back", plans_cutting.take_back, "The cut is taken back."
    )


@require_POST
def damage(request: HttpRequest, pk: int, position: int) -> HttpResponse:
    """It is damaged: what is cut stays, and the rest is planned again at once."""
    said = "It is written down as damaged. What was cut stays."
    answer = _with_reason(request, pk, position, "damage", plans_cutting.damage, said)
    if answer.status_code != 302:
        return answer
    person = person_who_may(request.user, "advance")
    plan = plan_for(person, pk)
    if not plans_cutting.rest_of(plan):
        messages.success(request, "Nothing of it has to be planned again.")
        return redirect(plan)
    try:
        return redirect(plans_cutting.plan_rest(plan, person))
    except plans_reading.Refused as refused:
        return plan_page(request, plan, status=409, faults=refused.faults)


def _with_reason(
    request: HttpRequest,
    pk: int,
    position: int,
    act: str,
    verb: Callable[..., PlanStock],
    said: str,
) -> HttpResponse:
    person = person_who_may(request.user, "advance")
    stock = stock_for(person, pk, position, "advance")
    form = ReasonForm(request.POST, prefix=act)
    if not form.is_valid():
        given = {f"{act}_form": form}
        return stock_page(request, stock, status=422, **given)
    asked = form.cleaned_data
    try:
        verb(stock, person, asked["reason"], key=key_of(person, act, asked["key"]))
    except plans_reading.Refused as refused:
        now = stock_for(person, pk, position)
        return stock_page(request, now, status=409, faults=refused.faults)
    messages.success(request, said)
    return redirect("layout:plan_stock", pk, position)


@require_POST
def supply(request: HttpRequest, pk: int, position: int) -> HttpResponse:
    """What was ordered has come and lies on the rack."""
    person = person_who_may(request.user, "advance")
    stock = stock_for(person, pk, position, "advance")
    try:
        taken = plans_cutting.supply(stock, person)
    except plans_reading.Refused as refused:
        return stock_page(request, stock, status=409, faults=refused.faults)
    messages.success(request, f"{taken.item} is taken for {taken.plan}.")
    return redirect("layout:plan_stock", pk, position)


@require_safe
@cache_control(private=True, no_cache=True)
def stock_svg(request: HttpRequest, pk: int, position: int) -> HttpResponse:
    stock = stock_for(request.user, pk, position)
    return HttpResponse(plans_drawn.stock_svg(stock, shop_unit()), content_type=SVG)


# --- what is short, and labels -----------------------------------------------------


@require_safe
def order(request: HttpRequest) -> HttpResponse:
    person_who_may(request.user, SEE)
    unit = shop_unit()
    short = plans_order.to_order()
    book = _book_for(request)
    rows = [
        (it, it.what(unit), it.weight_kg(), it.cost(book) if book else None)
        for it in short
    ]
    context = {
        "rows": rows,
        "unit": unit,
        "on_rack": True,
        "book": book,
        "sum": plans_order.sum_of(short, book) if book else None,
    }
    return render(request, "layout/plan_order.html", context)


def _book_for(request: HttpRequest) -> PriceBook | None:
    """Today's prices, for those who may see money."""
    if not may(request.user, "money"):
        return None
    return PriceBook.on(timezone.localdate())


@require_safe
def order_file(request: HttpRequest, ending: str) -> HttpResponse:
    person_who_may(request.user, SEE)
    day, book = timezone.localdate(), _book_for(request)
    short = plans_order.to_order()
    if ending == "csv":
        made: Any = plans_order.as_csv(short, shop_unit(), book)
        kind = "text/csv; charset=utf-8"
    elif ending == "pdf":
        made, kind = plans_order.as_pdf(short, day, book), "application/pdf"
    else:
        raise Http404(f"There is no list as {ending}. There are csv and pdf.")
    response = HttpResponse(made, content_type=kind)
    name = f"to-order-{day.isoformat()}.{ending}"
    response["Content-Disposition"] = f'inline; filename="{name}"'
    return response


@require_safe
def rack_label(request: HttpRequest, number: int) -> HttpResponse:
    """The label of one item: its code opens the item's page."""
    person_who_may(request.user, SEE)
    items = RackItem.objects.select_related("metal")
    item = get_object_or_404(items, number=number)
    address = request.build_absolute_uri(item.get_absolute_url())
    ink = plans_drawn.label_pdf(item, address, shop_unit())
    response = HttpResponse(ink, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="label-{item}.pdf"'
    return response
