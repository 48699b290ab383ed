"""The clock of whoever looks at the page."""

from __future__ import annotations

from typing import Any

from django import template

from jobs import clock
from jobs.models import Piece, WorkTime

register = template.Library()


@register.simple_tag(takes_context=True)
def my_clock(context: dict[str, Any]) -> WorkTime | None:
    return clock.running(context["request"].user)


@register.filter
def towards(piece: Piece) -> str:
    """What is worked at now on the way to the piece's next stage; else nothing."""
    following = piece.next_state()
    if following is None:
        return ""
    return WorkTime.TOWARDS.get(Piece.State(following), "")
