from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from jobs import booking
from jobs.access import job_for, person_who_may
from jobs.forms import PlaceForm


@require_http_methods(["GET", "HEAD", "POST"])
def new(request: HttpRequest, pk: int) -> HttpResponse:
    """Another place of a job: its kind, its name, what the tape says."""
    person = person_who_may(request.user, "measure")
    job = job_for(person, pk, "measure")
    last = job.sites.last()
    start = {"units": last.units, "kind": ""} if last else {"kind": ""}
    form = PlaceForm(request.POST or None, initial=start)
    if request.method == "POST" and form.is_valid():
        try:
            site = booking.add_site(job, person, **form.typed())
        except ValueError as fault:
            form.add_error(None, str(fault))
        else:
            messages.success(request, f"{site.words().capitalize()} is added.")
            return redirect("layout:measure", job.pk, site.pk)
    status = 422 if form.is_bound else 200
    context = {"form": form, "job": job}
    return render(request, "layout/place_form.html", context, status=status)
