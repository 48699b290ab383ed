from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from jobs import clock, closing, quoting, spending
from jobs.access import cost_for, job_for, person_who_may, quote_for
from jobs.accounts_shown import shown
from jobs.forms import SettleQuoteForm
from jobs.forms.costs import TakeBackForm
from jobs.models import Quote, QuoteLine
from jobs.views.keys import new_key

SHARES = (QuoteLine.Part.OVERHEAD, QuoteLine.Part.MARGIN, QuoteLine.Part.TAX)


@require_safe
def quote(request: HttpRequest, pk: int) -> HttpResponse:
    """Every figure of a quote, each with where it comes from."""
    return quote_page(request, quote_for(request.user, pk))


def quote_page(
    request: HttpRequest, quote: Quote, *, status: int = 200, **given: object
) -> HttpResponse:
    lines = list(quote.lines.select_related("price__stock", "price__metal", "standard"))
    context = {
        "quote": quote,
        "job": quote.job,
        "parts": [
            (part, QuoteLine.Part(part).label, found)
            for part in QuoteLine.Part.values
            if part not in SHARES
            and (found := [line for line in lines if line.part == part])
        ],
        "shares": [line for line in lines if line.part in SHARES],
        "documents": quote.documents.newest_first(),
        "settle_form": SettleQuoteForm(initial={"on": timezone.localdate()}),
        "can_settle": quote.can_become(Quote.State.ACCEPTED),
        "can_offer": quote.state
        in (Quote.State.DRAWN_UP, Quote.State.OFFERED, Quote.State.ACCEPTED),
        "is_past": quote.is_past(timezone.localdate()),
        "key": new_key(),
        **given,
    }
    return render(request, "jobs/quote_detail.html", context, status=status)


@require_http_methods(["POST"])
def settle(request: HttpRequest, pk: int) -> HttpResponse:
    person = person_who_may(request.user, "money")
    quote = quote_for(person, pk)
    form = SettleQuoteForm(request.POST)
    if form.is_valid():
        try:
            quote = quoting.settle(quote, person, **form.typed())
            messages.success(request, f"{quote} is {quote.get_state_display()}.")
            return redirect(quote)
        except ValueError as fault:
            form.add_error(None, str(fault))
    return quote_page(request, quote_for(person, pk), settle_form=form, status=422)


@require_POST
def lapse(request: HttpRequest, pk: int) -> HttpResponse:
    """Marks the job's offered quotes whose day is past."""
    person = person_who_may(request.user, "money")
    job = job_for(person, pk, "money")
    number = quoting.lapse(person, timezone.localdate(), job.quotes.all())
    messages.success(request, f"{number} quote{'' if number == 1 else 's'} lapsed.")
    return redirect(f"{job.get_absolute_url()}#money")


@require_POST
def take_back(request: HttpRequest, pk: int) -> HttpResponse:
    person = person_who_may(request.user, "money")
    cost = cost_for(person, pk)
    form = TakeBackForm(request.POST)
    try:
        reason = form.cleaned_data["reason"] if form.is_valid() else ""
        spending.take_back(cost, person, reason)
        messages.success(request, f"“{cost.words}” is taken back.")
    except ValueError as fault:
        messages.error(request, str(fault))
    return redirect("media:costs", cost.job_id)


@require_safe
def account(request: HttpRequest, pk: int) -> HttpResponse:
    """Quoted against real, by metal, labour, other; by family; what was remade."""
    person = person_who_may(request.user, "money")
    job = job_for(person, pk, "money")
    context = {"job": job, **shown(closing.reckoned(job))}
    return render(request, "jobs/account.html", context)


@require_POST
def price_hours(request: HttpRequest, pk: int) -> HttpResponse:
    """Prices hours that had none, where the price book has one by now."""
    person = person_who_may(request.user, "money")
    job = job_for(person, pk, "money")
    number = clock.price_unpriced(job)
    messages.success(request, f"{number} time{'' if number == 1 else 's'} priced.")
    return redirect("jobs:account", job.pk)
