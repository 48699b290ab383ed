"""The only way a view gets a layout: may this person, and is it there?"""

from __future__ import annotations

from django.http import Http404
from django.shortcuts import get_object_or_404

from jobs.access import SEE, Asking, job_for, person_who_may, piece_for
from jobs.models import Job, Site
from layout.models import LaidPiece, Layout


def layout_for(person: Asking, pk: int, act: str = SEE) -> Layout:
    """Raises PermissionDenied if the person may not, Http404 if there is none."""
    person_who_may(person, act)
    return get_object_or_404(Layout.objects.select_related("job__client"), pk=pk)


def laid_for(person: Asking, pk: int, act: str = SEE) -> LaidPiece:
    person_who_may(person, act)
    return get_object_or_404(
        LaidPiece.objects.select_related("layout__job__client"), pk=pk
    )


def laid_of_piece(person: Asking, pk: int, act: str = SEE) -> LaidPiece:
    """What a piece is made from. Raises Http404 where it was not laid out yet."""
    laid = LaidPiece.objects.of(piece_for(person, pk, act))
    if laid is None:
        raise Http404("This piece is not laid out yet.")
    return laid


def site_of(
    person: Asking, pk: int, act: str, place: int | None = None
) -> tuple[Job, Site]:
    """A job and one of its sites: that of number `place`, or the first."""
    job = job_for(person, pk, act)
    sites = job.sites.laid_out() if place is None else job.sites.filter(pk=place)
    site = sites.first()
    if site is None:
        raise Http404("This job has no such site.")
    site.job = job
    return job, site
