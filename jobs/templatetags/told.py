"""How days, moments, lengths and stages are told."""

from __future__ import annotations

import datetime
from decimal import Decimal

from django import template
from django.utils import timezone
from django.utils.html import format_html
from django.utils.safestring import SafeString

from jobs.models import Piece
from shop.units import Unit, show_length

register = template.Library()


@register.filter
def day(value: datetime.date | None) -> str:
    """Wed 25 Nov 2026: nobody can take the day for the month."""
    return f"{value:%a} {value.day} {value:%b %Y}" if value else ""


@register.filter
def moment(value: datetime.datetime | None) -> str:
    """Wed 25 Nov 2026, 14:05, by the shop's clock."""
    if value is None:
        return ""
    local = timezone.localtime(value)
    return f"{day(local)}, {local:%H:%M}"


@register.filter
def tape(value: Decimal | None, unit: Unit) -> str:
    """A length in mm in the words of a tape, with its unit."""
    return show_length(value, unit) if value is not None else ""


@register.filter
def words(slug: str) -> str:
    """laid_out -> laid out"""
    return str(slug).replace("_", " ")


@register.filter
def one_line(address: str) -> str:
    """An address written on several lines, on one."""
    return ", ".join(part.strip() for part in address.splitlines() if part.strip())


@register.simple_tag
def stage(piece: Piece | str, size: str = "") -> SafeString:
    """The mark of a stage: its word in its own edge."""
    slug = piece.stage() if isinstance(piece, Piece) else piece
    return format_html(
        '<span class="stage stage--{}{}">{}</span>',
        slug,
        f" stage--{size}" if size else "",
        words(slug),
    )
