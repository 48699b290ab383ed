from __future__ import annotations

from datetime import timedelta
from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.db import transaction
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from jobs import booking
from jobs.access import clients_for, job_for, jobs_for, person_who_may
from jobs.forms import (
    AskForm,
    BookingForm,
    ChangeForm,
    CloseForm,
    FindForm,
    ReasonForm,
    RuleForm,
)
from jobs.forms.fields import shop_unit
from jobs.forms.picking import is_looking
from jobs.models import Client, Job, Piece
from jobs.models.jobs import JobQuerySet
from jobs.views.keys import new_key

PAGE = 25
RECENT = 12
# Each room to the right shows its part of a job, if it has one.
NOTHING = "jobs/_nothing.html"
PARTS = {
    "layout": ["layout/_job_layout.html", NOTHING],
    "metal": ["layout/_job_metal.html", NOTHING],
    "photos": ["media/_job_photos.html", NOTHING],
    "papers": ["media/_job_papers.html", "jobs/_no_papers.html"],
}


@require_safe
def job_list(request: HttpRequest) -> HttpResponse:
    jobs = jobs_for(request.user)
    form = FindForm(request.GET, clients=clients_for(request.user))
    form.is_valid()
    page = Paginator(_found(jobs, form.cleaned_data), PAGE).get_page(
        request.GET.get("page")
    )
    stages = Piece.objects.counted_by_stage([job.pk for job in page.object_list])
    rows = [(job, stages.get(job.pk, [])) for job in page.object_list]
    query = request.GET.copy()
    query.pop("page", None)
    context = {
        "form": form,
        "client": form.cleaned_data.get("client"),
        "page": page,
        "rows": rows,
        "query": query.urlencode(),
        "of_every_client": _without(query, "client"),
    }
    return render(request, "jobs/job_list.html", context)


def _without(query: QueryDict, name: str) -> str:
    left = query.copy()
    left.pop(name, None)
    return left.urlencode()


def _found(jobs: JobQuerySet, asked: dict[str, Any]) -> JobQuerySet:
    jobs = jobs.matching(asked.get("words") or "")
    if client := asked.get("client"):
        jobs = jobs.of_client(client)
    show = asked.get("show") or ("all" if asked.get("words") or client else "open")
    today = timezone.localdate()
    monday = today - timedelta(days=today.weekday())
    if show == "open":
        jobs = jobs.open()
    elif show == "waiting":
        jobs = jobs.waiting_for_measures()
    elif show == "week":
        jobs = jobs.open().visited_or_installed_between(
            monday, monday + timedelta(days=6)
        )
    elif show == "closed":
        jobs = jobs.closed()
    return jobs.newest_first()


@require_http_methods(["GET", "HEAD", "POST"])
def new(request: HttpRequest) -> HttpResponse:
    person = person_who_may(request.user, "book")
    unit = shop_unit()
    sent, first = _sent(request, {"client": request.GET.get("client")})
    clients = clients_for(person, "book")
    form = BookingForm(sent, clients=clients, unit=unit, initial=first)
    if form.is_bound and form.is_valid():
        with transaction.atomic():
            typed = form.typed()
            client = typed.pop("client") or Client.objects.create(**form.new_client())
            job = booking.book(person, client=client, units=unit, **typed)
        messages.success(request, f"{job} is booked.")
        return redirect(job)
    context = {"form": form, "heading": "Book a job", "booking": True}
    return render(request, "jobs/job_form.html", context, status=_status(form))


def _sent(
    request: HttpRequest, first: dict[str, Any]
) -> tuple[QueryDict | None, dict[str, Any]]:
    """What to save, and what to show at first: all that was typed, while somebody
    only looks for the client."""
    if request.method != "POST":
        return None, first
    if is_looking(request.POST):
        return None, request.POST.dict()
    return request.POST, first


@require_http_methods(["GET", "HEAD", "POST"])
def change(request: HttpRequest, pk: int) -> HttpResponse:
    person = person_who_may(request.user, "book")
    job = job_for(person, pk, "book")
    sent, first = _sent(request, {})
    clients = clients_for(person, "book")
    form = ChangeForm(
        sent, instance=job, clients=clients, unit=shop_unit(), initial=first
    )
    status = 200
    if form.is_bound and form.is_valid():
        try:
            booking.change(job, person, form.typed(), form.cleaned_data["version"] or 0)
            messages.success(request, f"{job} is saved.")
            return redirect(job)
        except booking.ChangedMeanwhile as meanwhile:
            form.add_error(None, str(meanwhile))
            # What is typed is shown against the job as it is now.
            again = request.POST.copy()
            again["version"] = str(Job.objects.get(pk=pk).version)
            form.data = again
            status = 409
    heading = f"Change {job}"
    context = {"form": form, "job": job, "heading": heading}
    if status == 200:
        status = _status(form)
    return render(request, "jobs/job_form.html", context, status=status)


@require_safe
def job(request: HttpRequest, pk: int) -> HttpResponse:
    return job_page(request, job_for(request.user, pk))


def job_page(
    request: HttpRequest, job: Job, *, status: int = 200, **given: Any
) -> HttpResponse:
    """The whole page of a job. given: bound forms or faults that replace the empty."""
    unit = shop_unit()
    pieces = list(job.pieces.in_order())
    context = {
        "job": job,
        "unit": unit,
        "rules": list(job.looks_rules.all()),
        "sites": list(job.sites.with_last_measure()),
        "pieces": pieces,
        "living": sum(not piece.scrapped for piece in pieces),
        "metals": _metals(pieces),
        "events": job.events.with_names()[:RECENT],
        "events_in_all": job.events.count(),
        "rule_form": RuleForm(unit=unit),
        "ask_form": AskForm(),
        "close_form": CloseForm(),
        "reason_form": ReasonForm(),
        "steps": [Piece.State(state) for state in Piece.BEFORE],
        "key": new_key(),
        "parts": PARTS,
        "ticked": set(),
        **given,
    }
    return render(request, "jobs/job_detail.html", context, status=status)


def _metals(pieces: list[Piece]) -> list[tuple[str, int]]:
    """Metal -> how many pieces, with quantities, of those not scrapped."""
    metals: dict[str, int] = {}
    for piece in pieces:
        if not piece.scrapped:
            metals[piece.metal] = metals.get(piece.metal, 0) + piece.quantity
    return sorted(metals.items())


@require_safe
def log_page(request: HttpRequest, pk: int) -> HttpResponse:
    job = job_for(request.user, pk)
    page = Paginator(job.events.with_names(), 50).get_page(request.GET.get("page"))
    return render(request, "jobs/job_log.html", {"job": job, "page": page, "query": ""})


@require_POST
def close(request: HttpRequest, pk: int) -> HttpResponse:
    person = person_who_may(request.user, "book")
    job = job_for(person, pk, "book")
    form = CloseForm(request.POST)
    if form.is_valid():
        try:
            job = booking.close(job, person, **form.cleaned_data)
            messages.success(request, f"{job} is {job.get_state_display()}.")
            return redirect(job)
        except ValueError as fault:
            form.add_error(None, str(fault))
    return job_page(request, job, close_form=form, status=422)


@require_POST
def open_again(request: HttpRequest, pk: int) -> HttpResponse:
    person = person_who_may(request.user, "book")
    job = job_for(person, pk, "book")
    form = ReasonForm(request.POST)
    if form.is_valid():
        try:
            job = booking.open_again(job, person, **form.cleaned_data)
            messages.success(request, f"{job} is open again.")
            return redirect(job)
        except ValueError as fault:
            form.add_error(None, str(fault))
    return job_page(request, job, reason_form=form, status=422)


def _status(form: Any) -> int:
    return 422 if form.is_bound and not form.is_valid() else 200
