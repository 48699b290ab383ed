from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from jobs import booking
from jobs.access import person_who_may, site_for
from jobs.forms import SiteForm


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
    context = {"form": form, "site": site, "job": site.job}
    return render(request, "jobs/site_form.html", context, status=status)
