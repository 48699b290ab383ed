from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from jobs.access import job_for, person_who_may, quote_for
from jobs.forms import QuoteForm
from jobs.models import Job, Quote
from jobs.views.keys import key_of, new_key
from jobs.views.money import quote_page
from layout.faults import BadRecord, CannotBuild
from layout.recording import Closed
from media import hand_overs, quotes
from media.documents import NothingToDraw
from media.forms import HandOverForm
from shop.models import Person
from shop.prices import NoPrice


@require_http_methods(["GET", "HEAD", "POST"])
def draw_up(request: HttpRequest, pk: int) -> HttpResponse:
    """Reckons a quote from the layout; what stands in the way is said in words."""
    person = person_who_may(request.user, "money")
    job = job_for(person, pk, "money")
    first = {"prices_on": timezone.localdate(), "key": new_key()}
    form = QuoteForm(request.POST if request.method == "POST" else None, initial=first)
    if form.is_bound and form.is_valid():
        quote = _drawn_up(job, person, form)
        if quote is not None:
            messages.success(request, f"Quote {quote.number} is drawn up.")
            return redirect(quote)
    status = 422 if form.is_bound else 200
    context = {"form": form, "job": job}
    return render(request, "media/quote_form.html", context, status=status)


def _drawn_up(job: Job, person: Person, form: QuoteForm) -> Quote | None:
    """The quote, or None with the form's faults."""
    typed = form.cleaned_data
    try:
        return quotes.draw_up(
            job,
            person,
            form.asked(),
            typed["prices_on"],
            key=key_of(person, "quote", typed["key"]),
        )
    except (NothingToDraw, CannotBuild) as nothing:
        for reason in nothing.reasons:
            form.add_error(None, reason)
    except BadRecord as bad:
        form.add_error(None, "The measure sheet is not complete. Measure first.")
        for fault in bad.faults[:5]:
            form.add_error(None, f"{fault}.")
    except NoPrice as missing:
        form.add_error("prices_on", str(missing))
    except (Closed, ValueError) as fault:
        form.add_error(None, str(fault))
    return None


@require_POST
def paper(request: HttpRequest, pk: int) -> HttpResponse:
    """Puts a quote on numbered paper; from then it is offered."""
    person = person_who_may(request.user, "money")
    quote = quote_for(person, pk)
    try:
        document = quotes.ask_for_paper(
            quote, person, key=key_of(person, "quote paper", request.POST.get("key"))
        )
    except ValueError as fault:
        return quote_page(request, quote, faults=[str(fault)], status=422)
    messages.success(request, f"{document} is {document.standing_words()}.")
    return redirect(quote)


@require_http_methods(["GET", "HEAD", "POST"])
def hand_over(request: HttpRequest, pk: int) -> HttpResponse:
    """Chooses the photos, then asks for the hand-over paper."""
    person = person_who_may(request.user, "book")
    job = job_for(person, pk, "book")
    before, after = hand_overs.before_and_after(job)
    first: dict[str, object] = {"before": before, "after": after, "key": new_key()}
    posted = request.POST if request.method == "POST" else None
    form = HandOverForm(posted, photos=job.photos.of_the_work(), initial=first)
    if form.is_bound and form.is_valid():
        typed = dict(form.cleaned_data)
        key = key_of(person, "hand over", typed.pop("key"))
        try:
            document = hand_overs.ask_for_paper(job, person, key=key, **typed)
        except ValueError as fault:
            form.add_error(None, str(fault))
        else:
            messages.success(request, f"{document} is {document.standing_words()}.")
            return redirect(f"{job.get_absolute_url()}#papers")
    context = {"form": form, "job": job}
    status = 422 if form.is_bound else 200
    return render(request, "media/hand_over_form.html", context, status=status)
