"""The owner's books. Each page: its picture, the table under it, the same as CSV."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.db.models import QuerySet
from django.http import (
    HttpRequest,
    HttpResponse,
    HttpResponseBase,
    StreamingHttpResponse,
)
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.safestring import SafeString
from django.views.decorators.http import require_http_methods, require_safe

from jobs.access import person_who_may
from jobs.books import crew as crews
from jobs.books import hours as hours_worked
from jobs.books import learning, pages, periods
from jobs.books import metal as metals
from jobs.books import quoted as quotes
from jobs.books import remakes as made_again
from jobs.books.history import found
from jobs.books.tables import Table
from jobs.forms.books import FilterForm
from jobs.models import Job
from shop.models import ShopProfile
from shop.prices import PriceBook

PAGE = 50
LINES = 500


@require_safe
def history(request: HttpRequest) -> HttpResponseBase:
    """Every job that fits what was asked, a page at a time; the CSV has them all."""
    person_who_may(request.user, "books")
    form = FilterForm(request.GET)
    jobs = found(form.asked())
    currency = ShopProfile.current().currency
    if request.GET.get("as") == "csv":
        return _long_csv(jobs, currency)
    page = Paginator(jobs, PAGE).get_page(request.GET.get("page"))
    query = request.GET.copy()
    query.pop("page", None)
    context = {
        "form": form,
        "page": page,
        "table": pages.of_jobs(page.object_list, currency),
        "query": query.urlencode(),
    }
    return render(request, "jobs/books_history.html", context)


def _long_csv(jobs: QuerySet[Job], currency: str) -> StreamingHttpResponse:
    def lines() -> Any:
        yield "\ufeff" + pages.of_jobs([], currency).as_csv()
        for first in range(0, jobs.count(), LINES):
            some = pages.of_jobs(jobs[first : first + LINES], currency).as_csv()
            yield some.split("\r\n", 1)[1]

    response = StreamingHttpResponse(lines(), content_type="text/csv; charset=utf-8")
    response["Content-Disposition"] = 'attachment; filename="jobs.csv"'
    return response


@require_safe
def quoted(request: HttpRequest) -> HttpResponse:
    period = _period(request)
    made = pages.of_spans(quotes.spans(period), ShopProfile.current().currency)
    return _page(request, "quoted", "Quoted against real", period, *made)


@require_safe
def hours(request: HttpRequest) -> HttpResponse:
    period = _period(request)
    made = pages.of_hours(_hours(period))
    return _page(request, "hours", "Hours by piece and stage", period, *made)


@require_safe
def remakes(request: HttpRequest) -> HttpResponse:
    period = _period(request)
    rows = made_again.by_reason(period)
    made = pages.of_remakes(rows, ShopProfile.current().currency)
    return _page(request, "remakes", "Made again", period, *made)


@require_safe
def crew(request: HttpRequest) -> HttpResponse:
    """By person only where the owner switched it on."""
    period = _period(request)
    chart, table = pages.of_crew(crews.fastest_first(_hours(period)))
    more: dict[str, Any] = {"by_person": ShopProfile.current().books_by_person}
    if more["by_person"]:
        more["people"] = pages.of_people(crews.by_person(period))
    title = "What the crew does fastest and slowest"
    if request.GET.get("of") == "people" and more["by_person"]:
        table = more["people"]
    return _page(request, "crew", title, period, chart, table, more)


@require_safe
def metal(request: HttpRequest) -> HttpResponse:
    period = _period(request)
    rows = metals.by_metal(period)
    made = pages.of_metal(rows, ShopProfile.current().currency)
    return _page(request, "metal", "Metal", period, *made)


@require_http_methods(["GET", "HEAD", "POST"])
def standards(request: HttpRequest) -> HttpResponse:
    """What recent jobs would change; taken only by the owner's word."""
    person = person_who_may(request.user, "books")
    period = _period(request)
    if request.method == "POST":
        try:
            row = learning.take(request.POST.get("slug", ""), person, period)
            messages.success(request, f"The standard is {row}, from today.")
        except ValueError as fault:
            messages.error(request, str(fault))
        return redirect(f"{request.path}?years={period.name}")
    context = {
        "offers": [(offer, offer.source(period)) for offer in learning.offers(period)],
        "fewest": learning.FEWEST,
        "period": period,
        "choices": periods.choices(),
    }
    return render(request, "jobs/books_standards.html", context)


def _hours(period: periods.Period) -> list[hours_worked.Hours]:
    book = PriceBook.on(timezone.localdate())
    minutes = {key: row.minutes for key, row in book.hours.items()}
    return hours_worked.by_family(period, minutes)


def _period(request: HttpRequest) -> periods.Period:
    person_who_may(request.user, "books")
    return periods.period(request.GET.get("years"), timezone.localdate())


def _page(
    request: HttpRequest,
    name: str,
    title: str,
    period: periods.Period,
    chart: SafeString,
    table: Table,
    more: dict[str, Any] | None = None,
) -> HttpResponse:
    if request.GET.get("as") == "csv":
        response = HttpResponse("\ufeff" + table.as_csv(), "text/csv; charset=utf-8")
        response["Content-Disposition"] = f'attachment; filename="{name}.csv"'
        return response
    context = {
        "title": title,
        "chart": chart,
        "table": table,
        "period": period,
        "choices": periods.choices(),
        **(more or {}),
    }
    return render(request, "jobs/books_page.html", context)
