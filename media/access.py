"""The only way a view gets a photo or a paper: may this person, and is it there?"""

from __future__ import annotations

from django.shortcuts import get_object_or_404

from jobs.access import SEE, Asking, person_who_may
from media.models import Document, Photo
from media.models.documents import DocumentQuerySet
from media.models.photos import PhotoQuerySet
from shop.access import may


def photos_for(person: Asking, act: str = SEE) -> PhotoQuerySet:
    """Receipts are money: only those who may see money get them."""
    found = Photo.objects.with_names()
    if may(person_who_may(person, act), "money"):
        return found
    return found.of_the_work()


def photo_for(person: Asking, pk: int) -> Photo:
    """Raises PermissionDenied if the person may not, Http404 if there is none."""
    return get_object_or_404(photos_for(person), pk=pk)


def documents_for(person: Asking, act: str = SEE) -> DocumentQuerySet:
    """Quotes are money: only those who may see money get them."""
    found = Document.objects.newest_first().select_related("job")
    if may(person_who_may(person, act), "money"):
        return found
    return found.exclude(kind=Document.Kind.QUOTE)


def document_for(person: Asking, pk: int) -> Document:
    return get_object_or_404(documents_for(person), pk=pk)
