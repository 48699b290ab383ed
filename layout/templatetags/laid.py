"""Pictures of measures, and what a piece is made from."""

from __future__ import annotations

from typing import Any

from django import template
from django.utils.safestring import SafeString, mark_safe

from jobs.models import Job, Piece
from layout import pictures
from layout.drawing import tape
from layout.models import LaidPiece, Layout

register = template.Library()


@register.simple_tag
def picture(name: str) -> SafeString:
    """The picture of a measure. Drawn by us, from no one's words."""
    return mark_safe(pictures.picture(name))


@register.simple_tag
def laid_of(piece: Piece) -> LaidPiece | None:
    """What a piece is made from, or None where it was not laid out yet."""
    return LaidPiece.objects.of(piece)


@register.simple_tag
def newest_layout(job: Job) -> Layout | None:
    return Layout.objects.of(job).select_related("asked_by").newest_first().first()


@register.filter
def weight(kilograms: float, unit: tape.Unit) -> str:
    """With its unit, pounds where the tape is in inches."""
    return tape.weight(kilograms, unit)


@register.filter
def proven(worst: float) -> str:
    """By how much the folded piece misses its place at most, from its mm."""
    return "under 0.000001 mm" if worst < 1e-6 else f"within {worst:.6f} mm"


@register.filter
def of_kind(finding: dict[str, Any]) -> str:
    """Who says so: a building code is told apart from good practice."""
    return {
        "code": "building code",
        "practice": "good practice",
        "shop": "our own shop",
        "client": "the client",
    }[finding["kind"]]
