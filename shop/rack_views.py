from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from typing import Any, NamedTuple

from django import forms
from django.contrib import messages
from django.core.paginator import Paginator
from django.db.models import Count, F, Q, Sum
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from shop import rack
from shop import rack_forms as shapes
from shop.access import may, person_who_may
from shop.forms import shop_unit
from shop.keys import key_of, new_key
from shop.models import Person, RackItem, ShopProfile
from shop.models.rack import RackItemQuerySet

PAGE = 40
SEE = "advance"
GONE = (RackItem.State.USED, RackItem.State.SPOILED, RackItem.State.SOLD)


@require_safe
def rack_list(request: HttpRequest) -> HttpResponse:
    person_who_may(request.user, SEE)
    form = shapes.FindItemsForm(request.GET)
    form.is_valid()
    items = found(form.cleaned_data)
    page = Paginator(items.in_order(), PAGE).get_page(request.GET.get("page"))
    query = request.GET.copy()
    query.pop("page", None)
    context = {
        "form": form,
        "page": page,
        "query": query.urlencode(),
        "kinds": kinds_there(),
        "unit": shop_unit(),
    }
    return render(request, "shop/rack_list.html", context)


def found(asked: dict[str, Any]) -> RackItemQuerySet:
    """The items asked for: by metal, form, state and words."""
    items = RackItem.objects.all()
    if metal := asked.get("metal"):
        items = items.of(metal)
    if form := asked.get("form"):
        items = items.filter(form=form)
    show = asked.get("show")
    for word in (asked.get("words") or "").split():
        match = Q(lot__icontains=word) | Q(finish__icontains=word)
        match |= Q(place__icontains=word)
        digits = word.upper().removeprefix("R")
        if digits.isascii() and digits.isdecimal() and len(digits) <= 9:
            match |= Q(number=int(digits))
        items = items.filter(match)
    if show == "gone":
        return items.filter(state__in=GONE)
    return items.filter(state=show) if show else items.there()


def kinds_there() -> list[Any]:
    """By metal, finish and form: how many are there, how many free, and their area."""
    return list(
        RackItem.objects.there()
        .order_by()
        .values("metal__name", "finish", "form")
        .annotate(
            number=Count("pk"),
            free=Count("pk", filter=Q(state=RackItem.State.FREE)),
            area=Sum(F("width_mm") * F("left_mm")),
        )
        .order_by("metal__name", "finish", "form")
    )


@require_http_methods(["GET", "HEAD", "POST"])
def new(request: HttpRequest) -> HttpResponse:
    person = person_who_may(request.user, SEE)
    profile = ShopProfile.current()
    form = shapes.TakeInForm(
        request.POST or None,
        unit=shop_unit(),
        currency=profile.currency,
        money=may(person, "money"),
        initial={"form": "sheet", "key": new_key()},
    )
    if request.method == "POST" and form.is_valid():
        try:
            made = take_in(form.cleaned_data, person)
        except rack.Refused as refused:
            for fault in refused.faults:
                form.add_error(None, fault)
        else:
            numbers = ", ".join(str(it) for it in made)
            messages.success(request, f"On the rack: {numbers}.")
            return redirect(made[0] if len(made) == 1 else "rack:list")
    status = 422 if form.is_bound else 200
    return render(request, "shop/rack_form.html", {"form": form}, status=status)


def take_in(asked: dict[str, Any], person: Person) -> list[RackItem]:
    nothing = Decimal(0)
    return rack.take_in(
        rack.New(
            asked["metal"],
            asked["form"],
            asked.get("width") or nothing,
            asked.get("length") or nothing,
            finish=asked["finish"],
            lot=asked["lot"],
            place=asked["place"],
            weight=asked["weight"],
            paid=asked.get("paid"),
            outline=asked["corners"],
            alike=asked["alike"],
        ),
        person,
        key=key_of(person, "rack-in", asked["key"]),
    )


# --- one item and what may be done with it --------------------------------------


class Act(NamedTuple):
    """One thing to do with an item. title: of its fold-out; done: said after it."""

    title: str
    button: str
    shape: type[forms.Form]
    needs: str
    fits: Callable[[RackItem], bool]
    verb: Callable[[RackItem, Person, dict[str, Any], str | None], Any]
    done: str


def _there(item: RackItem) -> bool:
    return item.is_there()


def _free(item: RackItem) -> bool:
    return item.is_there() and item.free_mm() > 0


def _unheld(item: RackItem) -> bool:
    return item.is_there() and not item.reserved_mm


def _reserve(item: RackItem, by: Person, asked: dict[str, Any], key: Any) -> None:
    rack.reserve(
        [rack.Wanted(item.pk)],
        by,
        holder=f"by hand:{key or new_key()}"[:60],
        words=asked["words"],
    )


ACTS = {
    "reserve": Act(
        "Reserve it", "Reserve", shapes.ReserveForm, "lay_out", _free,
        _reserve, "is reserved",
    ),
    "let_go": Act(
        "", "Let it go", shapes.LetGoForm, "lay_out",
        lambda item: bool(item.reserved_mm),
        lambda item, by, asked, key: rack.let_go(asked["holder"], by, items=[item.pk]),
        "is let go",
    ),
    "move": Act(
        "It leans elsewhere", "Move it", shapes.MoveForm, "advance", _there,
        lambda item, by, asked, key: rack.move(item, by, asked["place"], key),
        "has its place",
    ),
    "cut": Act(
        "It was used without a plan", "Used", shapes.UseForm, "advance", _free,
        lambda item, by, asked, key: rack.cut(
            item, by, length=asked["length"], reason=asked["reason"], key=key
        ),
        "is written down as used",
    ),
    "measure": Act(
        "Another length is left on it", "Measured", shapes.MeasureForm, "advance",
        lambda item: item.is_there() and item.is_coil(),
        lambda item, by, asked, key: rack.measure_again(
            item, by, asked["length"], asked["reason"], key
        ),
        "is measured again",
    ),
    "spoil": Act(
        "It was damaged", "Damaged", shapes.WhyForm, "advance", _unheld,
        lambda item, by, asked, key: rack.spoil(item, by, asked["reason"], key=key),
        "is spoiled",
    ),
    "put_back": Act(
        "It was not cut after all", "Put it back", shapes.WhyForm, "advance",
        lambda item: item.state != RackItem.State.SOLD
        and item.left_mm < item.length_mm,
        lambda item, by, asked, key: rack.put_back(item, by, asked["reason"], key=key),
        "is on the rack again",
    ),
    "sell": Act(
        "Sold as scrap", "Sold", shapes.SellForm, "money", _unheld,
        lambda item, by, asked, key: rack.sell(
            item, by, asked["reason"], money=asked["money"], key=key
        ),
        "is sold",
    ),
}  # fmt: skip


def item_for(person: Any, number: int, act: str = SEE) -> RackItem:
    """Raises PermissionDenied if the person may not, Http404 if there is none."""
    person_who_may(person, act)
    items = RackItem.objects.select_related("metal", "cut_from")
    return get_object_or_404(items, number=number)


@require_safe
def item(request: HttpRequest, number: int) -> HttpResponse:
    return item_page(request, item_for(request.user, number))


def item_page(
    request: HttpRequest,
    item: RackItem,
    *,
    status: int = 200,
    faults: list[str] | None = None,
    bound: tuple[str, forms.Form] | None = None,
) -> HttpResponse:
    """The page of an item. bound: act and form that replaces the empty one."""
    acts = [
        (slug, act, bound[1] if bound and bound[0] == slug else empty(slug))
        for slug, act in ACTS.items()
        if act.title and may(request.user, act.needs) and act.fits(item)
    ]
    context = {
        "item": item,
        "unit": shop_unit(),
        "acts": acts,
        "bound": bound[1] if bound else None,
        "faults": faults or [],
        "claims": list(item.claims.filter(open=True)),
        "offcuts": list(item.offcuts.all()),
        "events": list(item.events.select_related("by")[:60]),
        "key": new_key(),
        "outline": drawn(item),
    }
    return render(request, "shop/rack_item.html", context, status=status)


def empty(slug: str) -> forms.Form:
    form = ACTS[slug].shape(prefix=slug, initial={"key": new_key()})
    return _in_unit(form)


def _in_unit(form: forms.Form) -> forms.Form:
    if "length" in form.fields:
        form.fields["length"].unit = shop_unit()  # type: ignore[attr-defined]
    return form


def drawn(item: RackItem) -> dict[str, str]:
    """The item's outline for an inline drawing: its view box and its corners."""
    wide, high = float(item.width_mm), float(item.length_mm)
    corners = item.outline or [[0, 0], [wide, 0], [wide, high], [0, high]]
    # Long things lie down: length to the right, width up.
    points = " ".join(f"{y:.1f},{wide - x:.1f}" for x, y in corners)
    edge = max(wide, high) * 0.02
    box = f"{-edge:.1f} {-edge:.1f} {high + 2 * edge:.1f} {wide + 2 * edge:.1f}"
    return {"box": box, "points": points, "line": f"{max(wide, high) / 150:.1f}"}


@require_POST
def act(request: HttpRequest, number: int, act: str) -> HttpResponse:
    if act not in ACTS:
        raise Http404(f"There is no {act} on the rack.")
    asked = ACTS[act]
    person = person_who_may(request.user, asked.needs)
    item = item_for(person, number)
    form = _in_unit(asked.shape(request.POST, prefix=act))
    if not form.is_valid():
        return item_page(request, item, status=422, bound=(act, form))
    try:
        key = key_of(person, f"rack-{act}", form.cleaned_data.get("key"))
        asked.verb(item, person, form.cleaned_data, key)
    except rack.Refused as refused:
        now = item_for(person, number)
        return item_page(request, now, status=409, faults=refused.faults)
    messages.success(request, f"{item} {asked.done}.")
    return redirect(item)
