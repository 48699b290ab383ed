from __future__ import annotations

from typing import NamedTuple

from django.contrib import messages
from django.forms import BoundField
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from jobs import measuring
from jobs.access import measurement_for, person_who_may
from jobs.models import Job, Site
from jobs.views.keys import new_key
from layout import likely, measures, taking
from layout.access import site_of
from layout.forms import ChooseForm, SheetForm


@require_http_methods(["GET", "HEAD", "POST"])
def sheet(request: HttpRequest, pk: int, place: int | None = None) -> HttpResponse:
    person = person_who_may(request.user, "measure")
    job, site = site_of(person, pk, "measure", place)
    wanted = taking.sheet_of(site)
    form = SheetForm(
        request.POST or None,
        unit=taking.unit_of(site),
        counted=measuring.counted(site),
        only=wanted.measures,
        initial={"key": new_key()},
    )
    if request.method == "POST" and form.is_valid():
        typed = form.typed()
        if typed:
            taking.take_sheet(
                site,
                typed,
                person,
                with_=form.cleaned_data["taken_with"],
                note=form.cleaned_data["note"],
                key=form.cleaned_data["key"],
            )
            said = ", ".join(wanted.by_name[name].title for name in typed)
            messages.success(request, f"Saved: {said}.")
        else:
            messages.warning(request, "Nothing new was typed, so nothing was saved.")
        saved = form.cleaned_data["key"]
        return redirect(
            f"{reverse('layout:measure', args=[pk, site.pk])}?saved={saved}"
        )
    status = 422 if form.is_bound else 200
    return render(
        request, "layout/measure.html", _sheet(request, job, site, form), status=status
    )


def _sheet(
    request: HttpRequest, job: Job, site: Site, form: SheetForm
) -> dict[str, object]:
    lines = taking.lines(site)
    groups = [
        _group(name, [(line, form[line.measure.slug]) for line in found])
        for name, found in taking.by_group(lines).items()
    ]
    needed = [line for line in lines if line.measure.required]
    return {
        "job": job,
        "site": site,
        "places": list(job.sites.all()),
        "form": form,
        "groups": groups,
        "needed": len(needed),
        "there": sum(line.counts is not None for line in needed),
        "missing": [line.measure for line in needed if line.counts is None],
        "on_site": all(
            line.counts or line.measure.group in measures.CHOSEN for line in needed
        ),
        "saved": request.GET.get("saved", "")[:64],
    }


class Group(NamedTuple):
    """A part of the sheet: its measures, and those taken only where needed."""

    title: str
    words: str
    usual: list[tuple[taking.Line, BoundField]]
    rare: list[tuple[taking.Line, BoundField]]
    rare_title: str
    rare_open: bool


def _group(name: str, rows: list[tuple[taking.Line, BoundField]]) -> Group:
    rare = [row for row in rows if row[0].measure.rare]
    return Group(
        *measures.GROUPS[name],
        [row for row in rows if not row[0].measure.rare],
        rare,
        measures.RARE.get(name, ""),
        any(line.takings or field.errors for line, field in rare),
    )


@require_safe
def read(request: HttpRequest, pk: int, place: int | None = None) -> HttpResponse:
    """How one measure is read, for the line under its field."""
    _, site = site_of(request.user, pk, "measure", place)
    unit = taking.unit_of(site)
    slug = request.GET.get("measure", "")
    measure = taking.sheet_of(site).by_slug.get(slug)
    typed = request.GET.get(slug, "")
    said: dict[str, object] = {}
    if measure and typed.strip():
        try:
            taken = measures.read(measure, typed, unit)
        except ValueError as fault:
            said = {"fault": str(fault)}
        else:
            known = taking.numbers(site)
            said = {
                "value": measures.show_taken(measure, taken, unit),
                "warnings": likely.unlikely(measure, taken.number, known, unit),
                "parts": taking.parts_of(measure, taken.text, unit),
            }
    return render(request, "layout/_read.html", said)


@require_safe
def takings(
    request: HttpRequest, pk: int, slug: str, place: int | None = None
) -> HttpResponse:
    job, site = site_of(request.user, pk, "measure", place)
    return _takings(request, job, site, slug)


def _takings(
    request: HttpRequest,
    job: Job,
    site: Site,
    slug: str,
    form: ChooseForm | None = None,
    chosen: int | None = None,
) -> HttpResponse:
    lines = [it for it in taking.lines(site) if it.measure.slug == slug]
    if not lines:
        return redirect("layout:measure", job.pk, site.pk)
    context = {
        "job": job,
        "site": site,
        "line": lines[0],
        "form": form or ChooseForm(),
        "chosen": chosen,
    }
    return render(request, "layout/takings.html", context, status=422 if form else 200)


@require_POST
def choose(request: HttpRequest, pk: int) -> HttpResponse:
    """Lets a measure count, or the newest again where it counted by choice."""
    person = person_who_may(request.user, "measure")
    row = measurement_for(person, pk, "measure")
    job, site = row.site.job, row.site
    slug = row.name.replace(".", "-")
    form = ChooseForm(request.POST)
    if not form.is_valid():
        return _takings(request, job, site, slug, form, row.pk)
    reason = form.cleaned_data["reason"]
    if row.chosen:
        measuring.let_newest_count(site, row.name, person, reason)
    else:
        measuring.choose(row, person, reason)
    now = measuring.counted(Site.objects.get(pk=site.pk))[row.name]
    messages.success(request, f"{now.as_typed} counts now.")
    return redirect("layout:takings", job.pk, site.pk, slug)
