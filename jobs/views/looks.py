from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from jobs import looks
from jobs.access import job_for, person_who_may, rule_for
from jobs.forms import RuleForm, SettleForm
from jobs.forms.fields import shop_unit
from jobs.views.jobs import job_page


@require_POST
def ask(request: HttpRequest, pk: int) -> HttpResponse:
    person = person_who_may(request.user, "book")
    job = job_for(person, pk, "book")
    form = RuleForm(request.POST, unit=shop_unit())
    if not form.is_valid():
        return job_page(request, job, rule_form=form, status=422)
    rule = looks.ask(job, person, **form.typed())
    messages.success(request, f"Asked for: {rule.get_kind_display()}.")
    return redirect(f"{job.get_absolute_url()}#looks")


@require_http_methods(["GET", "HEAD", "POST"])
def settle(request: HttpRequest, pk: int) -> HttpResponse:
    person = person_who_may(request.user, "book")
    rule = rule_for(person, pk)
    form = SettleForm(
        request.POST or None, initial={"settled_on": timezone.localdate()}
    )
    if request.method == "POST" and form.is_valid():
        word = form.cleaned_data
        try:
            rule = looks.settle(
                rule, person, word["standing"], word["settled_by"], word["settled_on"]
            )
            messages.success(request, f"{rule.get_kind_display()}: {rule.standing}.")
            return redirect(f"{rule.job.get_absolute_url()}#looks")
        except ValueError as fault:
            form.add_error(None, str(fault))
    status = 422 if form.is_bound else 200
    context = {"form": form, "rule": rule, "job": rule.job}
    return render(request, "jobs/rule_form.html", context, status=status)
