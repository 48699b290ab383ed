from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from jobs import clock
from jobs.access import (
    job_for,
    people_for,
    person_who_may,
    piece_for,
    time_for,
)
from jobs.forms.times import HoursForm, StartForm, StopForm, StrikeForm
from jobs.models import Job, Piece, WorkTime
from jobs.views.keys import key_of, new_key
from shop.models import Person


@require_POST
def start_piece(request: HttpRequest, pk: int) -> HttpResponse:
    person = person_who_may(request.user, "advance")
    piece = piece_for(person, pk, "advance")
    return _start(request, person, piece.job, piece)


@require_POST
def start_job(request: HttpRequest, pk: int) -> HttpResponse:
    person = person_who_may(request.user, "advance")
    return _start(request, person, job_for(person, pk, "advance"), None)


def _start(
    request: HttpRequest, person: Person, job: Job, piece: Piece | None
) -> HttpResponse:
    form = StartForm(request.POST)
    if not form.is_valid():
        return _asked(request, job, piece, faults=[form.errors.as_text()])
    tap = form.cleaned_data
    try:
        time = clock.start(
            person,
            job=job,
            piece=piece,
            stage=tap["stage"],
            stop_first=tap["stop_first"],
            key=key_of(person, "clock", tap["key"]),
        )
    except clock.Asked as asked:
        again = {"stage": tap["stage"], "back_to": tap["back_to"]}
        return _asked(request, job, piece, questions=asked.questions, again=again)
    except clock.Refused as refused:
        return _asked(request, job, piece, faults=[str(refused)])
    messages.success(request, f"The clock runs: {time}.")
    return _back(tap["back_to"], job, piece)


def _asked(
    request: HttpRequest, job: Job, piece: Piece | None, **given: Any
) -> HttpResponse:
    """What is odd about a start, with the way on."""
    context = {"job": job, "piece": piece, "key": new_key(), **given}
    return render(request, "jobs/clock_asked.html", context, status=422)


@require_http_methods(["GET", "HEAD", "POST"])
def stop(request: HttpRequest) -> HttpResponse:
    person = person_who_may(request.user, "advance")
    form = StopForm(request.POST if request.method == "POST" else None)
    time = clock.running(person)
    questions: list[str] = []
    if form.is_bound and form.is_valid():
        given = form.cleaned_data
        try:
            stopped = clock.stop(person, given["because"], given["worked"])
            return _stopped(request, stopped, given["back_to"])
        except clock.Asked as asked:
            questions = asked.questions
            if given["worked"] or given["because"]:
                form.add_error("because", "Say in a few words why it is so.")
        except clock.Refused as refused:
            form.add_error("worked", str(refused))
    context = {"form": form, "time": time, "questions": questions}
    status = 422 if form.is_bound else 200
    return render(request, "jobs/clock_stop.html", context, status=status)


def _stopped(
    request: HttpRequest, time: WorkTime | None, back_to: str
) -> HttpResponseRedirect:
    if time is None:
        messages.info(request, "No clock of yours was running.")
        return redirect("jobs:today")
    said = f"Stopped: {time}, {_told(time)}."
    messages.success(request, "Stopped at once: not kept." if time.struck_out else said)
    return _back(back_to, time.job, time.piece)


def _told(time: WorkTime) -> str:
    whole = round(time.minutes or 0)
    return f"{whole // 60} h {whole % 60} min" if whole >= 60 else f"{whole} min"


def _back(to: str, job: Job, piece: Piece | None) -> HttpResponseRedirect:
    if to == "piece" and piece is not None:
        return redirect(piece)
    return redirect("jobs:today") if to == "today" else redirect(job)


@require_http_methods(["GET", "HEAD", "POST"])
def hours(request: HttpRequest, pk: int) -> HttpResponse:
    """The hours of a job, and a form to write those worked earlier."""
    person = person_who_may(request.user, "advance")
    job = job_for(person, pk, "advance")
    first = {
        "person": person.pk,
        "day": timezone.localdate(),
        "piece": request.GET.get("piece"),
        "stage": request.GET.get("stage"),
        "key": new_key(),
    }
    form = HoursForm(
        request.POST if request.method == "POST" else None,
        job=job,
        people=people_for(person),
        initial=first,
    )
    questions: list[str] = []
    if form.is_bound and form.is_valid():
        key = key_of(person, "hours", form.cleaned_data["key"])
        try:
            time = clock.write(person, job=job, key=key, **form.typed())
            messages.success(request, f"Written: {time}, {_told(time)}.")
            return redirect("jobs:hours", job.pk)
        except clock.Asked as asked:
            questions = asked.questions
            form.add_error("because", "Say why it is so, or correct it above.")
        except clock.Refused as refused:
            form.add_error(None, str(refused))
    times = list(job.times.with_names())
    context = {
        "form": form,
        "job": job,
        "questions": questions,
        "times": times,
        "minutes": clock.minutes_of(time for time in times if not time.struck_out),
        "of_a_job": [
            (stage, stage.label)
            for stage in WorkTime.Stage
            if stage not in WorkTime.OF_A_PIECE
        ],
    }
    status = 422 if form.is_bound else 200
    return render(request, "jobs/hours.html", context, status=status)


@require_POST
def strike(request: HttpRequest, pk: int) -> HttpResponse:
    person = person_who_may(request.user, "advance")
    time = time_for(person, pk)
    form = StrikeForm(request.POST)
    try:
        reason = form.cleaned_data["reason"] if form.is_valid() else ""
        clock.strike(time, person, reason)
        messages.success(request, "Struck out.")
    except clock.Refused as refused:
        messages.error(request, str(refused))
    return redirect("jobs:hours", time.job_id)
