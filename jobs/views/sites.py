from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from jobs import booking
from jobs.access import person_who_may, site_for
from jobs.forms import ReasonForm, SiteForm
from jobs.models import Site


@require_http_methods(["GET", "HEAD", "POST"])
def site(request: HttpRequest, pk: int) -> HttpResponse:
    person = person_who_may(request.user, "measure")
    site = site_for(person, pk)
    form = SiteForm(request.POST or None, instance=site)
    if request.method == "POST" and form.is_valid():
        booking.note_site(site, person, form.typed())
        messages.success(request, "The site is saved.")
        return redirect(f"{site.job.get_absolute_url()}#site")
    status = 422 if form.is_bound else 200
    return _site_page(request, site, form, ReasonForm(), status)


@require_POST
def leave_out(request: HttpRequest, pk: int) -> HttpResponse:
    person = person_who_may(request.user, "measure")
    site = site_for(person, pk)
    form = ReasonForm(request.POST)
    if form.is_valid():
        try:
            booking.leave_out(site, person, **form.cleaned_data)
        except ValueError as fault:
            form.add_error(None, str(fault))
        else:
            messages.success(request, f"{site.words().capitalize()} is left out.")
            return redirect(f"{site.job.get_absolute_url()}#site")
    return _site_page(request, site, SiteForm(instance=site), form, 422)


@require_POST
def take_in(request: HttpRequest, pk: int) -> HttpResponse:
    person = person_who_may(request.user, "measure")
    site = site_for(person, pk)
    try:
        booking.take_in(site, person)
        messages.success(request, f"{site.words().capitalize()} is taken in again.")
    except ValueError as fault:
        messages.error(request, str(fault))
    return redirect(f"{site.job.get_absolute_url()}#site")


def _site_page(
    request: HttpRequest, site: Site, form: SiteForm, leave: ReasonForm, status: int
) -> HttpResponse:
    several = site.job.sites.laid_out().count() > 1
    context = {
        "form": form,
        "site": site,
        "job": site.job,
        "leave_form": leave,
        "may_leave_out": several and not site.left_out and site.job.is_open(),
    }
    return render(request, "jobs/site_form.html", context, status=status)
