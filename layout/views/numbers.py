"""Where the numbers come from: for everybody who is signed in."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path
from django.views.decorators.http import require_safe

from layout.numbers import groups, matching
from shop.access import person_who_may
from shop.forms import shop_unit

MOST_WORDS = 80


@require_safe
def numbers(request: HttpRequest) -> HttpResponse:
    person_who_may(request.user, "measure")
    asked = request.GET.get("q", "").strip()[:MOST_WORDS]
    every = groups(shop_unit())
    found = matching(every, asked)
    context = {
        "asked": asked,
        "groups": found,
        "count": sum(len(group.numbers) for group in found),
        "of": sum(len(group.numbers) for group in every),
    }
    return render(request, "layout/numbers.html", context)


urlpatterns = [path("", numbers, name="numbers")]
