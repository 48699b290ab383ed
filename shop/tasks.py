"""What a worker does when the bell rings."""

from __future__ import annotations

import logging
import threading
from collections.abc import Iterator
from contextlib import contextmanager

from celery.signals import worker_ready, worker_shutting_down
from django.db import DatabaseError, connections

from shop import errands
from shop.celery import app
from shop.models import Errand

log = logging.getLogger(__name__)

SWEEP_EVERY = 5.0  # seconds
_closing = threading.Event()


@app.task(name="shop.carry")
def carry(errand_id: int) -> None:
    """Claim the errand and do it; whatever happens, its row tells."""
    errand = errands.claim(errand_id)
    if errand is None:
        return
    try:
        with _beating(errand):
            _carry(errand)
    except errands.Lost as lost:
        log.warning("%s", lost)
    except errands.Refused as refusal:
        errands.fail(errand, str(refusal))
    except Exception as fault:
        errands.fail(
            errand,
            f"Something went wrong on our side ({type(fault).__name__}), not with what"
            f" was asked. Ask again; the log has more under errand {errand.pk}.",
        )
        log.exception("Errand %s failed", errand.pk)
        raise


def _carry(errand: Errand) -> None:
    carrier = errands.CARRIERS.get(errand.kind)
    if carrier is None:
        raise errands.Refused(
            f"This worker does not know how to do {errand.kind!r}. Start a newer one."
        )
    carrier(errand, lambda: errands.beat(errand))
    if errand.state != Errand.State.DONE:  # it had nothing to write
        with errands.held(errand):
            pass


@contextmanager
def _beating(errand: Errand) -> Iterator[None]:
    """Beat from a thread of its own, so that one long step is no lapse.

    A hung errand beats too: Celery's time limit ends its worker, and the beats.
    """
    if carry.app.conf.task_always_eager:
        yield
        return
    stop = threading.Event()

    def keep_beating() -> None:
        try:
            while not stop.wait(errands.lease().total_seconds() / 3):
                try:
                    errands.beat(errand)
                except DatabaseError:
                    log.warning("A beat of %s was missed", errand)
        except errands.Lost:
            pass  # held() tells the worker
        finally:
            connections.close_all()

    beater = threading.Thread(target=keep_beating, daemon=True)
    beater.start()
    try:
        yield
    finally:
        stop.set()
        beater.join()


@worker_ready.connect
def begin_sweeping(**kwargs: object) -> None:
    """The scheduler: each worker sweeps, for a sweep too many does no harm."""
    _closing.clear()
    threading.Thread(target=_keep_sweeping, daemon=True).start()


@worker_shutting_down.connect
def end_sweeping(**kwargs: object) -> None:
    _closing.set()


def _keep_sweeping() -> None:
    while not _closing.is_set():
        try:
            sweep()
        finally:
            # Kept open, the socket would be shared with children forked later.
            connections.close_all()
        _closing.wait(SWEEP_EVERY)


def sweep() -> None:
    """The errands, then the chores of every room; one that fails stops no other."""
    for work in (errands.sweep, *errands.CHORES):
        try:
            work()
        except Exception:
            log.exception("The sweep failed at %s; it comes again", work.__name__)
