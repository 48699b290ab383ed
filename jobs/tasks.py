"""What comes about in the jobs room by itself."""

from __future__ import annotations

from django.utils import timezone

from jobs import quoting
from shop.errands import chore
from shop.models import ShopProfile


@chore
def lapse_quotes() -> int:
    """Offered quotes lapse the day after the last one they hold; gives how many.

    A worker knows no request, so the shop's own clock is asked for the day.
    """
    return quoting.lapse(
        None, timezone.localdate(timezone=ShopProfile.current().zone())
    )
