"""Pages on the database of SEAMBOOK_HOME, by the server, warm. Aim: 1 s on 6 years.

Make one to measure on: SEAMBOOK_HOME at an empty folder, then migrate and
make_history. What is changed to open the pages is taken back at the end.
"""

from __future__ import annotations

from statistics import median
from time import perf_counter

from django import setup

setup()

from django.db import connection, transaction  # noqa: E402
from django.test import Client  # noqa: E402
from django.test.utils import CaptureQueriesContext  # noqa: E402

from jobs.models import Client as Customer  # noqa: E402
from jobs.models import Event, Job, Piece  # noqa: E402
from shop.models import Person, ShopProfile  # noqa: E402

AIM = 1000.0  # ms
ROUNDS = 3
ALL = "?years=all"


def lines() -> list[str]:
    if Job._meta.db_table not in connection.introspection.table_names():
        return ["no tables here: migrate first"]
    if not Job.objects.exists():
        return ["no jobs here: make_history first"]
    found = [
        f"{Job.objects.count()} jobs, {Customer.objects.count()} clients,"
        f" {Piece.objects.count()} pieces, {Event.objects.count()} events"
    ]
    with transaction.atomic():
        client = _signed_in()
        found += [_line(client, address) for address in _addresses()]
        transaction.set_rollback(True)
    return found


def _signed_in() -> Client:
    """An owner who may see every page, by person too."""
    owner = Person.objects.create(username="pages-timed", role=Person.Role.OWNER)
    ShopProfile.objects.update_or_create(pk=1, defaults={"books_by_person": True})
    client = Client(HTTP_HOST="localhost")
    client.force_login(owner, "django.contrib.auth.backends.ModelBackend")
    return client


def _addresses() -> list[str]:
    job = Job.objects.newest_first().earliest("pk")
    last = Job.objects.open().newest_first().first() or job
    piece = last.pieces.first() or Piece.objects.earliest("pk")
    books = ("quoted", "hours", "remakes", "crew", "metal", "standards")
    return [
        "/today/",
        "/jobs/",
        "/jobs/?show=all",
        "/jobs/?show=waiting",
        "/jobs/?words=north+quill",
        "/jobs/week/",
        "/jobs/new/",
        f"/jobs/{last.pk}/",
        f"/jobs/{last.pk}/change/",
        f"/jobs/{last.pk}/hours/",
        f"/jobs/{last.pk}/log/",
        f"/jobs/{job.pk}/account/",
        f"/pieces/{piece.pk}/",
        "/clients/",
        "/clients/?words=north+quill",
        f"/clients/{job.client_id}/",
        "/rack/",
        "/plans/",
        "/plans/new/",
        "/books/",
        "/books/?words=north+quill&family=apron&over=0.1&remade=on",
        *(f"/books/{name}/{ALL}" for name in books),
        "/shop/jobs/event/",
    ]


def _line(client: Client, address: str) -> str:
    with CaptureQueriesContext(connection) as asked:
        answer = client.get(address)
    queries = len(asked)  # before another request takes them off the log
    if answer.status_code != 200:
        return f"{address:58} answered {answer.status_code}"
    times = []
    for _ in range(ROUNDS):
        began = perf_counter()
        client.get(address)
        times.append((perf_counter() - began) * 1000)
    time, size = median(times), len(answer.content) / 1000
    over = "" if time <= AIM else f"  over the aim of {AIM:.0f} ms"
    return f"{address:58} {time:7.0f} ms {queries:4} queries {size:6.0f} kB{over}"
