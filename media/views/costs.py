from __future__ import annotations

from django import forms
from django.contrib import messages
from django.core.files.uploadedfile import UploadedFile
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from jobs import spending
from jobs.access import job_for, person_who_may
from jobs.forms.costs import CostForm
from jobs.models import Cost, Job
from jobs.views.keys import key_of, new_key
from media import photos
from shop.models import Person


class ReceiptForm(CostForm):
    """A cost with a photo of its receipt."""

    receipt = forms.FileField(
        label="Photo of the receipt",
        required=False,
        widget=forms.ClearableFileInput(attrs={"accept": "image/*,.heic,.heif"}),
    )


@require_http_methods(["GET", "HEAD", "POST"])
def costs(request: HttpRequest, pk: int) -> HttpResponse:
    """The costs of a job, and a form to write one."""
    person = person_who_may(request.user, "money")
    job = job_for(person, pk, "money")
    form = ReceiptForm(
        request.POST if request.method == "POST" else None,
        request.FILES if request.method == "POST" else None,
        job=job,
        initial={"on_day": timezone.localdate(), "key": new_key()},
    )
    if form.is_bound and form.is_valid():
        try:
            cost = _keep(job, person, form)
            messages.success(request, f"Written: {cost}.")
            return redirect("media:costs", job.pk)
        except photos.PhotoRefused as refused:
            form.add_error("receipt", f"{refused} Nothing was written yet.")
        except ValueError as fault:
            form.add_error(None, str(fault))
    rows = Cost.objects.with_names().filter(job=job).prefetch_related("receipts")
    costs = list(rows)
    in_all = sum(cost.amount for cost in costs)
    context = {"form": form, "job": job, "costs": costs, "in_all": in_all}
    status = 422 if form.is_bound else 200
    return render(request, "media/costs.html", context, status=status)


def _keep(job: Job, person: Person, form: ReceiptForm) -> Cost:
    """The cost and its receipt, both or neither."""
    key = key_of(person, "cost", form.cleaned_data["key"])
    receipt: UploadedFile | None = form.cleaned_data["receipt"]
    with transaction.atomic():
        cost = spending.write(job, person, key=key, **form.typed())
        if receipt:
            raw = receipt.read(photos.MOST_BYTES + 1)
            words = f"Receipt: {cost.words}"
            photo_key = f"{key}:receipt" if key else None
            photos.keep(job, person, raw, caption=words, cost=cost, key=photo_key)
    return cost
