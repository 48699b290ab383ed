from __future__ import annotations

from datetime import timedelta

from django.contrib.auth.decorators import login_not_required
from django.db import DatabaseError
from django.http import HttpRequest, JsonResponse
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from shop.models import Errand

SLOW = timedelta(minutes=5)


@login_not_required
@never_cache
@require_safe
def health(request: HttpRequest) -> JsonResponse:
    """For whoever watches the server: 200 if pages and papers are made, else 503."""
    try:
        stuck = Errand.objects.open().filter(asked_at__lt=timezone.now() - SLOW).count()
    except DatabaseError:
        return JsonResponse({"database": "down", "queue": "not known"}, status=503)
    return JsonResponse(
        {"database": "up", "queue": "stuck" if stuck else "up"},
        status=503 if stuck else 200,
    )
