"""How the figures of a cut plan are told."""

from __future__ import annotations

from typing import Any

from django import template

from jobs.models import Job
from layout.models import CutPlan
from layout.models.plans import CutPlanQuerySet

register = template.Library()


@register.filter
def percent(share: float | None) -> str:
    """0.8712 -> 87 %"""
    return f"{100 * share:.0f} %" if share is not None else ""


@register.filter
def kept_area(figures: dict[str, Any]) -> float:
    """Square mm of stock taken that goes back on the rack."""
    return float(figures.get("taken_mm2", 0) - figures.get("used_mm2", 0))


@register.filter
def money_of(amount: float) -> str:
    return f"{amount:,.2f}"


@register.simple_tag
def plans_of(job: Job) -> CutPlanQuerySet:
    return CutPlan.objects.of(job).newest_first()
