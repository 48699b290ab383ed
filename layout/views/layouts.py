from __future__ import annotations

import re
from typing import Any, NamedTuple

from django.contrib import messages
from django.db import transaction
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from jobs import measuring
from jobs.access import job_for, person_who_may
from jobs.models import Job, Site
from jobs.progress import Refused
from jobs.views.keys import new_key
from layout import choosing, taking
from layout.access import laid_for, layout_for
from layout.faults import BadRecord, CannotBuild, Fault
from layout.forms import ChoicesForm, metals_kept
from layout.laying import lay_out_job
from layout.measures import CHOSEN, Measure
from layout.models import LaidPiece, Layout
from layout.recording import Closed
from shop.models import Person


class ShownFault(NamedTuple):
    """A fault of the record, and where it is put right."""

    title: str
    words: str
    url: str


class Place(NamedTuple):
    """One place of the job on the layout page. missing: what is to be measured."""

    number: int
    site: Site
    form: ChoicesForm
    suggested: list[str]
    missing: list[Measure]


@require_http_methods(["GET", "HEAD", "POST"])
def page(request: HttpRequest, pk: int) -> HttpResponse:
    person = person_who_may(request.user, "lay_out")
    job = job_for(person, pk, "lay_out")
    places = _places(request, job)
    faults: list[ShownFault] = []
    valid = all([place.form.is_valid() for place in places])
    if request.method == "POST" and valid:
        _take(places, person)
        faults = _lay_out(request, job, person)
        if not faults:
            return redirect(f"{reverse('layout:page', args=[pk])}#found")
    layouts = list(Layout.objects.of(job).select_related("asked_by").newest_first())
    context = {
        "job": job,
        "places": places,
        "faults": faults,
        "refused": request.method == "POST" and not valid,
        "missing": [place for place in places if place.missing],
        "layout": layouts[0] if layouts else None,
        "earlier": layouts[1:],
        **(_shown(layouts[0]) if layouts else {}),
    }
    status = 422 if faults or context["refused"] else 200
    return render(request, "layout/page.html", context, status=status)


def _places(request: HttpRequest, job: Job) -> list[Place]:
    """Every place of the job with the choices it asks for.

    As many queries for one as for fifty. Raises Http404 where there is none.
    """
    sites = list(job.sites.prefetch_related("measurements"))
    if not sites:
        raise Http404("This job has no site.")
    metal, kept = choosing.metal_like(job.present_metal), metals_kept()
    places = []
    for number, site in enumerate(sites, start=1):
        if site.left_out:
            continue
        counted = measuring.counted(site)
        usual = choosing.suggested(site, counted, metal)
        sheet = taking.sheet_of(site)
        form = ChoicesForm(
            request.POST or None,
            unit=taking.unit_of(site),
            counted=counted,
            only=sheet.chosen,
            metals=kept,
            prefix=f"p{site.pk}" if number > 1 else None,
            initial={
                "key": new_key(),
                **{sheet.by_name[name].slug: typed for name, typed in usual.items()},
            },
        )
        suggested = [sheet.by_name[name].slug for name in usual]
        missing = [it for it in taking.missing(site) if it.group not in CHOSEN]
        places.append(Place(number, site, form, suggested, missing))
    return places


def _take(places: list[Place], person: Person) -> None:
    with transaction.atomic():
        for place in places:
            form = place.form
            taking.take_sheet(
                place.site,
                form.typed(),
                person,
                with_="",
                key=form.cleaned_data["key"],
            )


def _lay_out(request: HttpRequest, job: Job, person: Person) -> list[ShownFault]:
    """Lays the job out, or gives what is to be put right first."""
    try:
        layout = lay_out_job(job, person)
    except BadRecord as bad:
        return [_shown_fault(job, fault) for fault in bad.faults]
    except CannotBuild as cannot:
        return [ShownFault("", reason, "") for reason in cannot.reasons]
    except (Closed, Refused) as refused:
        return [ShownFault("", str(refused), "")]
    if layout.is_done():
        messages.success(request, f"Layout {layout.number} is done.")
    else:
        words = layout.get_state_display()
        messages.warning(request, f"Layout {layout.number} is {words}. See why below.")
    return []


def _shown_fault(job: Job, fault: Fault) -> ShownFault:
    """A fault by the measure's title and, among several, its place."""
    found = re.fullmatch(r"several\[(\d+)\]\.(.*)", fault.field)
    number, field = (int(found[1]), found[2]) if found else (0, fault.field)
    site = job.sites.all()[number]
    measure = taking.sheet_of(site).by_name.get(field.split("[")[0])
    words = f"{fault.given}; {fault.expected}"
    where = f"{number + 1}. {site.words()}, " if found else ""
    if measure is None:
        return ShownFault(f"{where}{field}", words, "")
    here = measure.group in CHOSEN
    sheet = "" if here else reverse("layout:measure", args=[job.pk, site.pk])
    prefix = f"p{site.pk}-" if here and number else ""
    return ShownFault(
        f"{where}{measure.title}", words, f"{sheet}#id_{prefix}{measure.slug}"
    )


@require_safe
def layout(request: HttpRequest, pk: int) -> HttpResponse:
    """One layout as it was made, an earlier one as well."""
    found = layout_for(request.user, pk)
    newest = Layout.objects.of(found.job).newest_first().first()
    context = {
        "job": found.job,
        "layout": found,
        "newest": newest if newest != found else None,
        **_shown(found),
    }
    return render(request, "layout/layout.html", context)


@require_safe
def laid(request: HttpRequest, pk: int) -> HttpResponse:
    """One laid piece with its three views."""
    found = laid_for(request.user, pk)
    context = {
        "laid": found,
        "layout": found.layout,
        "job": found.layout.job,
        "unit": found.layout.unit,
        "made": list(found.pieces.all()),
    }
    return render(request, "layout/laid.html", context)


def _shown(layout: Layout) -> dict[str, Any]:
    """What the page of a layout shows of it."""
    pieces = list(layout.laid_pieces.prefetch_related("pieces"))
    frame = layout.set_without_pieces()
    names = _named(layout)
    for found in layout.findings:
        found["place"] = names.get(_number(found["piece"]), "")
    return {
        "unit": layout.unit,
        "laid_pieces": pieces,
        "laid_places": _by_place(pieces, names),
        "has_plan": bool(frame.get("key_plan")),
        "kept": [it for it in pieces if it.kept],
        "weight": sum(it.weight_in_all() for it in pieces),
        "joints": _joints(frame),
    }


def _named(layout: Layout) -> dict[int, str]:
    """Number in a layout of several places -> what the place is called."""
    several = layout.record.get("several", [])
    sites = layout.job.sites.all()[: len(several)]
    return {number: site.words() for number, site in enumerate(sites, start=1)}


def _number(marks: str) -> int:
    """Of the place that a mark such as 2-A belongs to, 0 where there is but one."""
    first = marks.partition("-")[0]
    return int(first) if first.isdigit() else 0


class LaidPlace(NamedTuple):
    """Pieces of one place. number: 0 where the job has but one."""

    number: int
    title: str
    pieces: list[LaidPiece]


def _by_place(pieces: list[LaidPiece], names: dict[int, str]) -> list[LaidPlace]:
    groups: dict[int, list[LaidPiece]] = {}
    for laid in pieces:
        groups.setdefault(_number(laid.mark) if names else 0, []).append(laid)
    return [LaidPlace(n, names.get(n, ""), found) for n, found in groups.items()]


class ShownJoint(NamedTuple):
    """upper covers lower; lap in mm, legs in mm of the upper and the lower side."""

    upper: str
    upper_at: str
    lower: str
    lower_at: str
    kind: str
    lap: float
    legs: tuple[float, float]


def _joints(frame: dict[str, Any]) -> list[ShownJoint]:
    return [
        ShownJoint(
            joint["upper"]["mark"],
            joint["upper"]["at"]["name"],
            joint["lower"]["mark"],
            joint["lower"]["at"]["name"],
            joint["kind"],
            joint["promised"],
            (joint["upper"]["at"]["leg"], joint["lower"]["at"]["leg"]),
        )
        for joint in frame.get("joints", [])
    ]
