"""Which role may do which act: one table, asked by every door."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Concatenate, ParamSpec

from django.contrib.auth.models import AnonymousUser
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponseBase

from shop.models import Person

OFFICE, CREW, OWNER = Person.Role.OFFICE, Person.Role.CREW, Person.Role.OWNER
ALL = frozenset((OFFICE, CREW, OWNER))

ACTS: dict[str, frozenset[str]] = {
    "book": frozenset((OFFICE, OWNER)),
    "measure": ALL,
    "lay_out": ALL,
    "advance": ALL,
    "money": frozenset((OFFICE, OWNER)),
    "shop": frozenset((OWNER,)),
    "books": frozenset((OWNER,)),
}

Asking = Person | AnonymousUser
Rest = ParamSpec("Rest")
View = Callable[Concatenate[HttpRequest, Rest], HttpResponseBase]


def may(person: Asking, act: str) -> bool:
    """Whether the person may do the act. An act outside the table is a KeyError."""
    roles = ACTS[act]
    return person.is_active and getattr(person, "role", None) in roles


def person_who_may(person: Asking, act: str) -> Person:
    """The person, if they may do the act. Raises PermissionDenied if not."""
    if not isinstance(person, Person) or not may(person, act):
        raise PermissionDenied
    return person


def needs(act: str) -> Callable[[View[Rest]], View[Rest]]:
    """A view only for those who may; others who are signed in get a plain 403."""
    ACTS[act]

    def guard(view: View[Rest]) -> View[Rest]:
        @wraps(view)
        def guarded(
            request: HttpRequest, *args: Rest.args, **kwargs: Rest.kwargs
        ) -> HttpResponseBase:
            if not may(request.user, act):
                raise PermissionDenied
            return view(request, *args, **kwargs)

        return guarded

    return guard
