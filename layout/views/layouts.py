from __future__ import annotations

from typing import Any, NamedTuple

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from jobs import measuring
from jobs.access import person_who_may
from jobs.models import Job, Site
from jobs.progress import Refused
from jobs.views.keys import new_key
from layout import choosing, taking
from layout.access import laid_for, layout_for, site_of
from layout.faults import BadRecord, CannotBuild, Fault
from layout.forms import ChoicesForm
from layout.laying import lay_out_job
from layout.measures import BY_NAME, CHOSEN
from layout.models import Layout
from layout.recording import Closed
from shop.models import Person


class ShownFault(NamedTuple):
    """A fault of the record, and where it is put right."""

    title: str
    words: str
    url: str


@require_http_methods(["GET", "HEAD", "POST"])
def page(request: HttpRequest, pk: int) -> HttpResponse:
    person = person_who_may(request.user, "lay_out")
    job, site = site_of(person, pk, "lay_out")
    counted = measuring.counted(site)
    usual = choosing.suggested(job, site, counted)
    form = ChoicesForm(
        request.POST or None,
        unit=taking.unit_of(site),
        counted=counted,
        initial={
            "key": new_key(),
            **{BY_NAME[name].slug: typed for name, typed in usual.items()},
        },
    )
    faults: list[ShownFault] = []
    if request.method == "POST" and form.is_valid():
        taking.take_sheet(
            site, form.typed(), person, with_="", key=form.cleaned_data["key"]
        )
        faults = _lay_out(request, job, person)
        if not faults:
            return redirect(f"{reverse('layout:page', args=[pk])}#found")
    missing = taking.missing(site)
    layouts = list(Layout.objects.of(job).select_related("asked_by").newest_first())
    context = {
        "job": job,
        "site": site,
        "form": form,
        "suggested": [BY_NAME[name].slug for name in usual],
        "faults": faults,
        "missing": [it for it in missing if it.group not in CHOSEN],
        "layout": layouts[0] if layouts else None,
        "earlier": layouts[1:],
        **(_shown(layouts[0]) if layouts else {}),
    }
    status = 422 if faults or (form.is_bound and not form.is_valid()) else 200
    return render(request, "layout/page.html", context, status=status)


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
    measure = BY_NAME.get(fault.field)
    words = f"{fault.given}; {fault.expected}"
    if measure is None:
        return ShownFault(fault.field, words, "")
    here = measure.group in CHOSEN
    sheet = "" if here else reverse("layout:measure", args=[job.pk])
    return ShownFault(measure.title, words, f"{sheet}#id_{measure.slug}")


@require_safe
def layout(request: HttpRequest, pk: int) -> HttpResponse:
    """One layout as it was made, an earlier one as well."""
    found = layout_for(request.user, pk)
    site = found.job.sites.first() or Site(units="in")
    newest = Layout.objects.of(found.job).newest_first().first()
    context = {
        "job": found.job,
        "site": site,
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
        "unit": found.layout.record.get("units", "in"),
        "made": list(found.pieces.all()),
    }
    return render(request, "layout/laid.html", context)


def _shown(layout: Layout) -> dict[str, Any]:
    """What the page of a layout shows of it."""
    pieces = list(layout.laid_pieces.prefetch_related("pieces"))
    return {
        "unit": layout.record.get("units", "in"),
        "laid_pieces": pieces,
        "kept": [it for it in pieces if it.kept],
        "weight": sum(it.weight_in_all() for it in pieces),
        "joints": _joints(layout),
    }


class ShownJoint(NamedTuple):
    """upper covers lower; lap in mm, legs in mm of the upper and the lower side."""

    upper: str
    upper_at: str
    lower: str
    lower_at: str
    kind: str
    lap: float
    legs: tuple[float, float]


def _joints(layout: Layout) -> list[ShownJoint]:
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
        for joint in layout.set_without_pieces().get("joints", [])
    ]
