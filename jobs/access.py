"""The only way a view gets a row: may this person, and is it there?"""

from __future__ import annotations

from django.db.models import QuerySet
from django.shortcuts import get_object_or_404

from jobs.models import (
    Client,
    Cost,
    Job,
    LooksRule,
    Measurement,
    Piece,
    Quote,
    Site,
    WorkTime,
)
from jobs.models.clients import ClientQuerySet
from jobs.models.jobs import JobQuerySet
from jobs.models.pieces import PieceQuerySet
from shop.access import Asking, may, person_who_may
from shop.models import Person

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


def cost_for(person: Asking, pk: int, act: str = "money") -> Cost:
    person_who_may(person, act)
    return get_object_or_404(Cost.objects.with_names(), pk=pk)


def people_for(person: Person) -> QuerySet[Person]:
    """Whose hours this person may write: everybody's for who may book, else own."""
    people = Person.objects.filter(is_active=True)
    return people if may(person, "book") else people.filter(pk=person.pk)


def time_for(person: Person, pk: int) -> WorkTime:
    """Hours this person may strike out."""
    person_who_may(person, SEE)
    mine = WorkTime.objects.filter(person__in=people_for(person))
    return get_object_or_404(mine.select_related("job"), pk=pk)
