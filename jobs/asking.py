"""Asks for pieces of a job."""

from __future__ import annotations

from django.db import transaction

from jobs import log
from jobs.models import Job, Piece
from shop.models import Person


def ask_for(
    job: Job,
    by: Person,
    *,
    mark: str,
    family: str,
    hand: str = "",
    quantity: int = 1,
    metal: str = "",
) -> Piece:
    """Adds a piece to a job, at the stage asked.

    Raises ValueError if a piece that is not scrapped bears the mark already.
    """
    with transaction.atomic():
        job = Job.objects.select_for_update(of=("self",)).get(pk=job.pk)
        if not job.is_open():
            raise ValueError(
                f"{job} is {job.get_state_display()}. Open it again first."
            )
        same = job.pieces.filter(mark=mark).order_by("-making").first()
        if same and not same.scrapped:
            raise ValueError(f"Mark: {mark} is in use on {job}. Choose another mark.")
        piece = Piece.objects.create(
            job=job,
            mark=mark,
            making=same.making + 1 if same else 1,
            family=family,
            hand=hand,
            quantity=quantity,
            metal=metal,
        )
        log.write(
            job,
            "asked for",
            by,
            piece=piece,
            about=str(piece),
            after=Piece.State.ASKED,
        )
        return piece
