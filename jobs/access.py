"""The only way a view gets a row: may this person, and is it there?"""

from __future__ import annotations

from django.shortcuts import get_object_or_404

from jobs.models import Client, Job, LooksRule, Measurement, Piece, Quote, Site
from jobs.models.clients import ClientQuerySet
from jobs.models.jobs import JobQuerySet
from jobs.models.pieces import PieceQuerySet
from shop.access import Asking, person_who_may

__all__ = ["SEE", "Asking", "person_who_may"]

# What somebody must at least be allowed, to see a job at all.
SEE = "advance"


def jobs_for(person: Asking, act: str = SEE) -> JobQuerySet:
    person_who_may(person, act)
    return Job.objects.select_related("client")


def job_for(person: Asking, pk: int, act: str = SEE) -> Job:
    """Raises PermissionDenied if the person may not, Http404 if there is none."""
    return get_object_or_404(jobs_for(person, act), pk=pk)


def pieces_for(person: Asking, act: str = SEE) -> PieceQuerySet:
    person_who_may(person, act)
    return Piece.objects.select_related("job__client")


def piece_for(person: Asking, pk: int, act: str = SEE) -> Piece:
    """Raises PermissionDenied if the person may not, Http404 if there is none."""
    return get_object_or_404(pieces_for(person, act), pk=pk)


def clients_for(person: Asking, act: str = SEE) -> ClientQuerySet:
    person_who_may(person, act)
    return Client.objects.all()


def client_for(person: Asking, pk: int, act: str = SEE) -> Client:
    return get_object_or_404(clients_for(person, act), pk=pk)


def site_for(person: Asking, pk: int, act: str = "measure") -> Site:
    person_who_may(person, act)
    return get_object_or_404(Site.objects.select_related("job__client"), pk=pk)


def measurement_for(person: Asking, pk: int, act: str = "measure") -> Measurement:
    person_who_may(person, act)
    return get_object_or_404(Measurement.objects.select_related("site__job"), pk=pk)


def rule_for(person: Asking, pk: int, act: str = "book") -> LooksRule:
    person_who_may(person, act)
    return get_object_or_404(LooksRule.objects.select_related("job__client"), pk=pk)


def quote_for(person: Asking, pk: int, act: str = "money") -> Quote:
    person_who_may(person, act)
    quotes = Quote.objects.select_related("job__client", "made_by")
    return get_object_or_404(quotes, pk=pk)
