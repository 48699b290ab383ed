"""Pictures of measures, and what a piece is made from."""

from __future__ import annotations

from typing import Any

from django import template
from django.utils.safestring import SafeString, mark_safe

from jobs.models import Job, Piece
from layout import pictures
from layout.drawing import tape
from layout.models import LaidPiece, Layout
from layout.section_text import Items

register = template.Library()


@register.simple_tag
def picture(kind: str, name: str = "") -> SafeString:
    """The picture of a measure, or of a kind. Drawn by us, from no one's words."""
    return mark_safe(pictures.picture(kind, name))


@register.filter
def section(parts: Items) -> SafeString:
    """A bent section as it was read. Drawn by us, from numbers only."""
    return mark_safe(pictures.section(parts))


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
