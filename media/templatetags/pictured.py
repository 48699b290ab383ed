"""Forms and words for photos and papers in pages of other rooms."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django import template

from jobs.access import Asking
from jobs.models import Job
from media.access import documents_for
from media.forms import PhotoForm
from media.models import Document
from media.models.documents import DocumentQuerySet

register = template.Library()


@register.simple_tag(takes_context=True)
def photo_form(context: dict[str, Any]) -> PhotoForm:
    """The form as it was sent, else an empty one with the page's key."""
    sent = context.get("photo_form")
    if isinstance(sent, PhotoForm):
        fresh = {
            "measure": sent.data.get("measure"),
            "caption": sent.data.get("caption"),
        }
        return PhotoForm(initial={**fresh, "key": context.get("key", "")})
    return PhotoForm(initial={"key": context.get("key", "")})


@register.filter
def papers_for(job: Job, person: Asking) -> DocumentQuerySet:
    """The papers of a job that this person may see, newest first."""
    return documents_for(person).of_job(job)


@register.filter
def any_waiting(documents: Iterable[Document]) -> bool:
    """Whether the page should look again in a moment."""
    return any(document.is_waiting() for document in documents)


@register.filter
def kilobytes(size: int | None) -> str:
    return f"{max(1, round((size or 0) / 1000))} kB"
