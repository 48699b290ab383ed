"""Every request knows the shop it is in and runs by the shop's clock."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.http import HttpRequest, HttpResponseBase
from django.utils import timezone
from django.utils.functional import SimpleLazyObject

from shop.access import ACTS, may
from shop.models import ShopProfile

Answer = Callable[[HttpRequest], HttpResponseBase]


def the_shop(answer: Answer) -> Answer:
    def in_the_shop(request: HttpRequest) -> HttpResponseBase:
        # Who comes with a token is known only later, by the API.
        if not (request.user.is_authenticated or "Authorization" in request.headers):
            return answer(request)
        profile = ShopProfile.current()
        request.shop = profile  # type: ignore[attr-defined]
        with timezone.override(profile.zone()):
            return answer(request)

    return in_the_shop


def in_templates(request: HttpRequest) -> dict[str, Any]:
    """In every template: `shop`, the profile, and `may`, the acts of this person."""
    person = request.user
    profile = getattr(request, "shop", None) or SimpleLazyObject(ShopProfile.current)
    return {"shop": profile, "may": {act: may(person, act) for act in ACTS}}
