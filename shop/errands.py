"""Slow work asked for in rows. The broker is a bell: it may lose or double any ring.

A worker claims a row by one UPDATE that raises `attempt` and sets a lease, beats while
it works, and writes its result in one transaction guarded by its attempt. So a killed
worker's errand is taken up again once its lease has run out, and a worker that was
only slow finds its errand gone and writes nothing.
"""

from __future__ import annotations

import logging
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import timedelta

from django.conf import settings
from django.db import transaction
from django.db.models import F, Q
from django.utils import timezone

from shop.models import Errand, ErrandQuerySet

log = logging.getLogger(__name__)

MOST_ATTEMPTS = 5  # a worker that dies this often on one errand will die again
RING_AGAIN = timedelta(seconds=15)  # a busy queue is not rung at every sweep

Beat = Callable[[], None]
Carrier = Callable[[Errand, Beat], None]
Chore = Callable[[], object]

CARRIERS: dict[str, Carrier] = {}
CHORES: list[Chore] = []


class Lost(Exception):
    """Another worker holds the errand now. Stop, and write nothing."""


class Refused(Exception):
    """The errand can't be done as asked; the words say why and what to do."""


def carries(kind: str) -> Callable[[Carrier], Carrier]:
    """Register the function that does this kind of errand.

    It takes the errand and `beat`, to be called now and then in long work. It writes
    its result inside `with held(errand):`, which also marks the errand done.
    """

    def register(carrier: Carrier) -> Carrier:
        if kind in CARRIERS:
            raise ValueError(f"Two functions carry {kind!r}.")
        CARRIERS[kind] = carrier
        return carrier

    return register


def chore(work: Chore) -> Chore:
    """Register what every sweep sees to beside the errands.

    It comes every few seconds in every worker: it must be cheap where there is nothing
    to do, and do no harm done twice or by two at once.
    """
    CHORES.append(work)
    return work


def ask(kind: str, **payload: object) -> Errand:
    """Put an errand down, as part of the caller's transaction; the bell rings after."""
    errand = Errand.objects.create(kind=kind, payload=payload)
    transaction.on_commit(lambda: ring(errand.pk), robust=True)
    return errand


def ring(pk: int) -> bool:
    """Call a worker to the errand. A bell that is down is not a fault: sweep rings."""
    # Here, not above: a process that never rings starts without Celery.
    from kombu.exceptions import ChannelError, KombuError

    from shop.tasks import carry

    Errand.objects.filter(pk=pk).update(sent_at=timezone.now())
    try:
        carry.delay(pk)
    except (KombuError, ChannelError, OSError) as fault:
        log.warning("The bell is down (%s). Errand %s waits.", fault, pk)
        return False
    return True


def claim(pk: int) -> Errand | None:
    """Take the errand up, or None if it is done, failed, gone, or in good hands."""
    now = timezone.now()
    free = Q(state=Errand.State.QUEUED) | Q(
        state=Errand.State.RUNNING, lease_until__lt=now
    )
    with transaction.atomic():
        taken = Errand.objects.filter(free, pk=pk).update(
            state=Errand.State.RUNNING,
            attempt=F("attempt") + 1,
            heartbeat=now,
            lease_until=now + lease(),
        )
        return Errand.objects.get(pk=pk) if taken else None


def beat(errand: Errand) -> None:
    """Say that the worker lives. Raises Lost if the errand was taken from it."""
    now = timezone.now()
    if not _mine(errand).update(heartbeat=now, lease_until=now + lease()):
        raise Lost(f"{errand} was taken up by another worker.")


@contextmanager
def held(errand: Errand) -> Iterator[None]:
    """Write the result and mark the errand done: both, or neither.

    Raises Lost before anything is written if the errand is no longer this worker's.
    """
    with transaction.atomic():
        now = timezone.now()
        if not _mine(errand).update(
            state=Errand.State.DONE, ended_at=now, heartbeat=now, lease_until=now
        ):
            raise Lost(f"{errand} was taken up by another worker.")
        yield
    errand.state = Errand.State.DONE


def fail(errand: Errand, reason: str) -> None:
    """Mark the errand failed, unless it is no longer this worker's."""
    _mine(errand).update(
        state=Errand.State.FAILED, ended_at=timezone.now(), reason=reason
    )


def sweep() -> int:
    """Ring again for what was forgotten; give up what kills its workers.

    Returns how many errands were rung for.
    """
    now = timezone.now()
    Errand.objects.lapsed(now).filter(attempt__gte=MOST_ATTEMPTS).update(
        state=Errand.State.FAILED,
        ended_at=now,
        reason=f"It was begun {MOST_ATTEMPTS} times and the worker stopped each time."
        " Ask again; if it stops again, tell whoever keeps the server.",
    )
    long_ago = Q(sent_at__isnull=True) | Q(sent_at__lt=now - RING_AGAIN)
    forgotten = Errand.objects.waiting() | Errand.objects.lapsed(now)
    rung = 0
    for pk in forgotten.filter(long_ago).values_list("pk", flat=True)[:200]:
        if not ring(pk):
            break
        rung += 1
    return rung


def lease() -> timedelta:
    return timedelta(seconds=settings.SEAMBOOK_LEASE)


def _mine(errand: Errand) -> ErrandQuerySet:
    return Errand.objects.filter(
        pk=errand.pk, state=Errand.State.RUNNING, attempt=errand.attempt
    )
