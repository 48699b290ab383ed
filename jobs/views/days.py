from __future__ import annotations

import datetime
from datetime import timedelta

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from jobs.access import jobs_for
from jobs.models import Job, Piece
from jobs.views.keys import new_key

# A phone shows the next few jobs whole; the rest are one tap away in Jobs.
JOBS_SHOWN = 8
VISITS_SHOWN = 12


@require_safe
def today(request: HttpRequest) -> HttpResponse:
    jobs = jobs_for(request.user)
    day = _day(request.GET.get("day"))
    visits = jobs.to_measure_by(day).order_by("visit_on", "number")[:VISITS_SHOWN]
    working = jobs.at_work().soonest_first()
    shown = list(working.with_pieces()[:JOBS_SHOWN])
    context = {
        "day": day,
        "is_today": day == timezone.localdate(),
        "before": day - timedelta(days=1),
        "after": day + timedelta(days=1),
        "visits": visits,
        "cards": [_card(job, day) for job in shown],
        "more": max(0, working.count() - len(shown)),
        "key": new_key(),
    }
    return render(request, "jobs/today.html", context)


def _card(job: Job, day: datetime.date) -> dict[str, object]:
    pieces = [piece for piece in job.pieces.all() if not piece.scrapped]
    line = list(Piece.State)
    at_bench = [piece for piece in pieces if piece.state != Piece.State.INSTALLED]
    at_bench.sort(key=lambda piece: (piece.held, -line.index(Piece.State(piece.state))))
    return {
        "job": job,
        "pieces": at_bench,
        "installed": len(pieces) - len(at_bench),
        "in_all": len(pieces),
        "ready": sum(piece.state == Piece.State.BENT for piece in at_bench),
        "on_roof": job.is_installed_on(day),
        "is_late": bool(job.install_until and job.install_until < day),
    }


@require_safe
def week(request: HttpRequest) -> HttpResponse:
    jobs = jobs_for(request.user)
    of = _day(request.GET.get("of"))
    monday = of - timedelta(days=of.weekday())
    sunday = monday + timedelta(days=6)
    found = list(
        jobs.not_called_off()
        .visited_or_installed_between(monday, sunday)
        .order_by("number")
    )
    days = [monday + timedelta(days=number) for number in range(7)]
    context = {
        "monday": monday,
        "sunday": sunday,
        "today": timezone.localdate(),
        "before": monday - timedelta(days=7),
        "after": monday + timedelta(days=7),
        "days": [
            {
                "day": day,
                "visits": [job for job in found if job.visit_on == day],
                "installs": [job for job in found if job.is_installed_on(day)],
            }
            for day in days
        ],
    }
    return render(request, "jobs/week.html", context)


def _day(asked: str | None) -> datetime.date:
    """The day asked for in the address; today if none, or none that makes sense."""
    try:
        day = datetime.date.fromisoformat(asked or "")
    except ValueError:
        return timezone.localdate()
    # A week either side must exist too.
    return day if 1900 < day.year < 2200 else timezone.localdate()
