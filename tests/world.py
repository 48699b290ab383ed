"""Makes what a test needs: plain functions, good defaults, keywords to override."""

from __future__ import annotations

from itertools import count
from typing import Any

from jobs import asking, booking, looks, measuring
from jobs.models import Client, Job, LooksRule, Measurement, Piece, Site
from shop.models import Person
from shop.units import read_length

_numbers = count(1)


def make_person(name: str = "", role: str = "office", **given: Any) -> Person:
    name = name or f"Person{next(_numbers)}"
    return Person.objects.create_user(
        name.lower(), password="a long word", first_name=name, role=role, **given
    )


def make_client(name: str = "Marigold Quill", **given: Any) -> Client:
    return Client.objects.create(name=name, **given)


def make_job(by: Person | None = None, **given: Any) -> Job:
    """A booked job with its site. by: who books it; someone new if not given."""
    given.setdefault("title", "Chimney over the kitchen")
    client = given.pop("client", None) or make_client()
    return booking.book(by or make_person(), client=client, **given)


def make_site(job: Job | None = None, **given: Any) -> Site:
    site = (job or make_job()).sites.get()
    Site.objects.filter(pk=site.pk).update(**given)
    site.refresh_from_db()
    return site


def make_rule(
    job: Job | None = None, by: Person | None = None, **given: Any
) -> LooksRule:
    job = job or make_job()
    given = {
        "kind": "no_sealant",
        "words": "No sealant to be seen.",
        "who_asked": "Marigold Quill",
        **given,
    }
    return looks.ask(job, by or job.created_by, **given)


def make_piece(job: Job | None = None, state: str = "laid_out", **given: Any) -> Piece:
    """A piece asked for by the job's booker, put at a stage without its events."""
    job = job or make_job()
    given = {
        "mark": f"P{next(_numbers)}",
        "family": "side_pan",
        "hand": "left",
        "metal": "copper 20 oz",
        **given,
    }
    piece = asking.ask_for(job, job.created_by, **given)
    Piece.objects.filter(pk=piece.pk).update(state=state)
    piece.refresh_from_db()
    return piece


def measure(
    site: Site, name: str = "penetration.front", as_typed: str = "36", **given: Any
) -> Measurement:
    """A measure taken by the job's booker; a length in inches if no value is given."""
    if not {"mm", "deg", "text"} & given.keys():
        given["mm"] = read_length(as_typed, "in")
    by = given.pop("by", None) or site.job.created_by
    return measuring.take(site, name, as_typed, by, **given)
