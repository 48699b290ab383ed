"""Writes the log of a job: the one place where events are added."""

from __future__ import annotations

from jobs.models import Event, Job, Piece
from shop.models import Person


def write(
    job: Job,
    what: str,
    by: Person | None,
    *,
    piece: Piece | None = None,
    about: str = "",
    before: str = "",
    after: str = "",
    reason: str = "",
    key: str | None = None,
) -> Event:
    """Adds one event. Only `about` is shortened: it names, the rest tells.

    by: who did it; None for what comes about by itself
    """
    return Event.objects.create(
        job=job,
        piece=piece,
        what=what,
        about=_one_line(about),
        before=before,
        after=after,
        by=by,
        reason=reason.strip(),
        key=key,
    )


def _one_line(words: str, longest: int = 200) -> str:
    words = " ".join(words.split())
    return words if len(words) <= longest else words[: longest - 1] + "…"
