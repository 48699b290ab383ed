"""The price book and the standard hours, as pages."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from shop import prices
from shop.access import may, needs
from shop.hours_table import OF_A_JOB, OF_A_PIECE, STAGE_WORDS
from shop.models import Person, StandardHours
from shop.price_forms import HoursForm, PriceForm, day_asked
from shop.price_items import item_named, items
from shop.prices import PriceBook

app_name = "prices"


@require_safe
@needs("money")
def book(request: HttpRequest) -> HttpResponse:
    """Every price as it counts on a day."""
    day = day_asked(request.GET.get("on"), timezone.localdate())
    the_book = PriceBook.on(day)
    rows = [(item, item.price(the_book)) for item in items()]
    context = {
        "day": day,
        "is_today": day == timezone.localdate(),
        "rows": [row for row in rows if row[0].metal is None],
        "metals": [row for row in rows if row[0].metal is not None],
    }
    return render(request, "shop/price_list.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@needs("money")
def item(request: HttpRequest, slug: str) -> HttpResponse:
    """One thing: every price it had, and a new one."""
    thing = item_named(slug)
    person = request.user
    assert isinstance(person, Person)
    posted = request.method == "POST" and may(person, "shop")
    form = PriceForm(
        request.POST if posted else None,
        item=thing,
        initial={"from_day": timezone.localdate()},
    )
    if posted and form.is_valid():
        typed = form.cleaned_data
        price = prices.write(
            person, kind=thing.kind, metal=thing.metal, role=thing.role, **typed
        )
        day = f"{price.from_day:%a} {price.from_day.day} {price.from_day:%b %Y}"
        messages.success(request, f"{thing.words}: the new price counts from {day}.")
        return redirect("prices:item", slug)
    today = timezone.localdate()
    counted = thing.price(PriceBook.on(today))
    context = {"item": thing, "form": form, "written": thing.written()}
    context |= {"counts": counted.pk if counted else None}
    status = 422 if form.is_bound else 200
    return render(request, "shop/price_detail.html", context, status=status)


@require_safe
@needs("money")
def hours(request: HttpRequest) -> HttpResponse:
    """Standard hours as they count today: by family, and of a whole job."""
    the_book = PriceBook.on(timezone.localdate())
    families = sorted({family for family, _ in the_book.hours if family})
    context = {
        "stages": [(stage, STAGE_WORDS[stage]) for stage in OF_A_PIECE],
        "families": [
            (
                family,
                [(stage, the_book.hours.get((family, stage))) for stage in OF_A_PIECE],
            )
            for family in [*families, ""]
        ],
        "of_a_job": [
            (stage, STAGE_WORDS[stage], the_book.hours.get(("", stage)))
            for stage in OF_A_JOB
        ],
    }
    return render(request, "shop/hours_list.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@needs("money")
def hours_of(request: HttpRequest, family: str, stage: str) -> HttpResponse:
    """One family at one stage: every standard it had, and a new one."""
    family = "" if family == "any" else family
    if stage not in STAGE_WORDS or (family and stage in OF_A_JOB):
        raise Http404("No such stage.")
    person = request.user
    assert isinstance(person, Person)
    posted = request.method == "POST" and may(person, "shop")
    form = HoursForm(
        request.POST if posted else None, initial={"from_day": timezone.localdate()}
    )
    if posted and form.is_valid():
        prices.write_hours(person, family=family, stage=stage, **form.cleaned_data)
        messages.success(request, "The new standard hours are written.")
        return redirect("prices:hours")
    context = {
        "family": family,
        "stage": stage,
        "stage_words": STAGE_WORDS[stage],
        "of_a_job": stage in OF_A_JOB,
        "form": form,
        "written": StandardHours.objects.filter(
            family=family, stage=stage
        ).select_related("set_by"),
    }
    status = 422 if form.is_bound else 200
    return render(request, "shop/hours_detail.html", context, status=status)


urlpatterns = [
    path("prices/", book, name="book"),
    path("prices/<slug:slug>/", item, name="item"),
    path("hours/", hours, name="hours"),
    path("hours/<slug:family>/<slug:stage>/", hours_of, name="hours_of"),
]
