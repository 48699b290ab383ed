from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from jobs.access import person_who_may
from jobs.views.keys import key_of
from layout.views.plans import plan_for, plan_page
from media.documents import NothingToDraw
from media.forms import PapersForm
from media.plan_papers import ask_for_plan_paper


@require_POST
def make(request: HttpRequest, pk: int) -> HttpResponse:
    """Asks for the paper of a cut plan."""
    person = person_who_may(request.user, "lay_out")
    plan = plan_for(person, pk, "lay_out")
    form = PapersForm(request.POST)
    if not form.is_valid():
        return plan_page(request, plan, status=422, faults=[form.errors.as_text()])
    asked = form.cleaned_data
    key = key_of(person, "plan-paper", asked["key"])
    try:
        document = ask_for_plan_paper(plan, person, paper=asked["paper"], key=key)
    except NothingToDraw as nothing:
        return plan_page(request, plan, status=409, faults=nothing.reasons)
    messages.success(request, f"{document} is {document.standing_words()}.")
    return redirect(f"{plan.get_absolute_url()}#plan-papers")
