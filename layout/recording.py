"""What was laid out becomes rows: the one door out of the layout.

Takes a job, its Brief and the LaidSet (or the reasons why there is none), gives a
Layout, in one transaction. Pieces not yet cut are made from the new layout; those
cut, bent or installed stay what they are.
"""

from __future__ import annotations

import json
from typing import Any

from django.db import transaction
from django.db.models import F, Max

from jobs import log, progress
from jobs.models import Job, Piece
from layout import stored
from layout.folding import result
from layout.folding.result import LaidSet
from layout.models import LaidPiece, Layout
from layout.reading import Brief
from layout.set_file import check
from shop.models import Person

NOT_CUT = (Piece.State.ASKED, Piece.State.MEASURED, Piece.State.LAID_OUT)
GONE = "Not in layout"
"""How the reason begins for which a piece is held that is no longer asked for."""


class Closed(ValueError):
    """The job is not open, so nothing of it is laid out."""

    def __init__(self, job: Job) -> None:
        super().__init__(
            f"{job} is {job.get_state_display()}. Open it again, then lay it out."
        )


def record(job: Job, by: Person, brief: Brief, laid: LaidSet) -> Layout:
    """Keeps a laid set. Its pieces go to the bench unless some of it is refused."""
    reasons = list(laid.refused) + [
        f"{found.message}. {found.remedy}"
        for found in laid.findings
        if found.level == "blocking"
    ]
    with transaction.atomic():
        layout = _layout(
            job,
            by,
            brief,
            state=Layout.State.REFUSED if reasons else Layout.State.DONE,
            reason=_lines(reasons),
            frame=_frame(laid),
            findings=[check(found) for found in laid.findings],
        )
        LaidPiece.objects.bulk_create(
            _row(layout, position, piece) for position, piece in enumerate(laid.pieces)
        )
        if layout.is_done():
            hand_to_bench(layout, by)
        _log(layout, by)
        return layout


def refuse(job: Job, by: Person, brief: Brief, reasons: list[str]) -> Layout:
    """Keeps that a job could not be laid out as asked, and why."""
    return _without_set(job, by, brief, Layout.State.REFUSED, reasons)


def fail(job: Job, by: Person, brief: Brief, reason: str) -> Layout:
    """Keeps that the layout broke down, which is our fault and not the asker's."""
    return _without_set(job, by, brief, Layout.State.FAILED, [reason])


def _without_set(
    job: Job, by: Person, brief: Brief, state: Layout.State, reasons: list[str]
) -> Layout:
    with transaction.atomic():
        layout = _layout(job, by, brief, state=state, reason=_lines(reasons))
        _log(layout, by)
        return layout


def hand_to_bench(layout: Layout, by: Person) -> None:
    """Makes the pieces of a layout, or brings those there up to it.

    Called again it changes only what came since: a remake, a released piece.
    """
    with transaction.atomic():
        job = Job.objects.select_for_update(of=("self",)).get(pk=layout.job_id)
        if not job.is_open():
            raise Closed(job)
        _mark_anew(layout, job, by)
        there = {
            piece.mark: piece
            for piece in job.pieces.living().select_for_update(of=("self",))
        }
        _hold_those_gone(layout, there, by)
        ready = []
        for laid in layout.laid_pieces.all():
            piece = there.get(laid.mark) or _made(layout, laid, by)
            if piece.state in NOT_CUT:
                ready.append(_brought_up(layout, laid, piece, by))
            else:
                _keep(laid, piece)
        _advance([piece for piece in ready if not piece.held], by)


def _mark_anew(layout: Layout, job: Job, by: Person) -> None:
    """Once a job has several places, what was laid out of the first alone is found
    under its mark there: A becomes 1-A, and is not made a second time."""
    marks = set(layout.laid_pieces.values_list("mark", flat=True))
    if "several" not in layout.record:
        return
    alone = LaidPiece.objects.filter(layout__job=job).exclude(
        layout__record__has_key="several"
    )
    laid = set(alone.values_list("pieces", flat=True))
    there = list(job.pieces.living().select_for_update(of=("self",)))
    taken = {piece.mark for piece in there}
    for piece in [it for it in there if it.pk in laid]:
        new = f"1-{piece.mark}"
        if piece.mark in marks or new not in marks or new in taken:
            continue
        Piece.objects.filter(pk=piece.pk).update(mark=new, version=F("version") + 1)
        log.write(
            job,
            "marked anew",
            by,
            piece=piece,
            about=new,
            before=piece.mark,
            after=new,
            reason=f"Layout {layout.number} has several places",
        )


def _made(layout: Layout, laid: LaidPiece, by: Person) -> Piece:
    """A new piece, already measured: a layout is made of measures."""
    job = layout.job
    earlier = job.pieces.filter(mark=laid.mark).aggregate(last=Max("making"))["last"]
    piece = Piece.objects.create(
        job=job,
        mark=laid.mark,
        making=(earlier or 0) + 1,
        state=Piece.State.MEASURED,
        **_facts(laid),
    )
    log.write(
        job,
        "asked for",
        by,
        piece=piece,
        about=str(piece),
        after=Piece.State.MEASURED,
        reason=f"Layout {layout.number}",
    )
    return piece


def _brought_up(layout: Layout, laid: LaidPiece, piece: Piece, by: Person) -> Piece:
    """The piece with the facts of the new layout, which it is now made from."""
    before = LaidPiece.objects.of(piece)
    if before == laid:
        return piece
    facts = _facts(laid)
    changed = {name: new for name, new in facts.items() if getattr(piece, name) != new}
    other_cut = before is not None and _as_cut(before) != _as_cut(laid)
    if piece.held and piece.held_because.startswith(GONE):
        piece = progress.release(piece, by, f"Layout {layout.number} has it again")
    if changed or other_cut:
        # The version goes up, so that nobody cuts from the page they had open.
        Piece.objects.filter(pk=piece.pk).update(**changed, version=F("version") + 1)
        piece.refresh_from_db()
    if other_cut:
        log.write(
            layout.job,
            "laid out again",
            by,
            piece=piece,
            about=str(piece),
            before=piece.state,
            after=piece.state,
            reason=f"Layout {layout.number} differs from the one before: cut from "
            "the new sheet",
        )
    laid.pieces.add(piece)
    return piece


def _as_cut(laid: LaidPiece) -> dict[str, Any]:
    """All of the piece but the mark it goes by."""
    return {key: value for key, value in laid.pattern.items() if key != "mark"}


def _keep(laid: LaidPiece, piece: Piece) -> None:
    """The piece was cut before: it stays as it is, and is told where it differs."""
    made_from = LaidPiece.objects.of(piece)
    if made_from == laid:
        return
    laid.kept = True
    laid.differs = made_from is None or _outline(made_from) != _outline(laid)
    laid.save(update_fields=["kept", "differs"])


def _outline(laid: LaidPiece) -> tuple[Any, Any]:
    return laid.pattern["pattern"]["outlines"], laid.pattern["folds"]


def _hold_those_gone(layout: Layout, there: dict[str, Piece], by: Person) -> None:
    """Pieces of an earlier layout that this one has no more are held, not lost."""
    marks = set(layout.laid_pieces.values_list("mark", flat=True))
    laid = set(
        LaidPiece.objects.filter(pieces__in=there.values()).values_list(
            "pieces", flat=True
        )
    )
    for mark in sorted(there.keys() - marks):
        piece = there[mark]
        if piece.pk in laid and piece.state in NOT_CUT and not piece.held:
            reason = f"{GONE} {layout.number}: it is no longer asked for"
            there[mark] = progress.hold(piece, by, reason)


def _advance(pieces: list[Piece], by: Person) -> None:
    for before, after in (
        (Piece.State.ASKED, Piece.State.MEASURED),
        (Piece.State.MEASURED, Piece.State.LAID_OUT),
    ):
        moving = [piece for piece in pieces if piece.state == before]
        if moving:
            moved = progress.advance(moving, after, by)
            pieces = [piece for piece in pieces if piece.state != before] + moved


def _facts(laid: LaidPiece) -> dict[str, Any]:
    return {
        "family": laid.family,
        "hand": laid.hand,
        "quantity": laid.quantity,
        "metal": laid.metal,
    }


def _row(layout: Layout, position: int, piece: result.Piece) -> LaidPiece:
    width, length = piece.pattern.size()
    return LaidPiece(
        layout=layout,
        position=position,
        mark=piece.mark,
        family=piece.family,
        title=piece.title,
        hand="" if piece.hand == "none" else piece.hand,
        quantity=piece.quantity,
        metal=piece.metal,
        width_mm=width,
        length_mm=length,
        weight_kg=piece.weight,
        pattern=stored.to_json(piece),
    )


def _frame(laid: LaidSet) -> str:
    """The set without its pieces, which have rows of their own."""
    frame: dict[str, Any] = stored.to_json(laid)
    del frame["pieces"]
    return json.dumps(frame, ensure_ascii=False)


def _layout(job: Job, by: Person, brief: Brief, **given: Any) -> Layout:
    job = Job.objects.select_for_update(of=("self",)).get(pk=job.pk)
    if not job.is_open():
        raise Closed(job)
    last = Layout.objects.of(job).aggregate(last=Max("number"))["last"] or 0
    return Layout.objects.create(
        job=job,
        number=last + 1,
        digest=brief.digest,
        record=brief.record,
        asked_by=by,
        **given,
    )


def _lines(reasons: list[str]) -> str:
    return "\n".join(" ".join(reason.split()) for reason in reasons)


def _log(layout: Layout, by: Person) -> None:
    """One line in the job's log; the pieces have their own."""
    number = layout.laid_pieces.count()
    what = "laid out" if layout.is_done() else f"layout {layout.get_state_display()}"
    log.write(
        layout.job,
        what,
        by,
        about=f"Layout {layout.number}",
        after=f"{number} pieces" if layout.is_done() else "",
        reason=layout.reason,
    )
