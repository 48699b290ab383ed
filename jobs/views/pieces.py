from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from jobs import asking, progress
from jobs.access import job_for, person_who_may, piece_for
from jobs.forms import AskForm, PieceForm, ReleaseForm, ScrapForm, UndoForm
from jobs.models import Job, Piece
from jobs.views.jobs import job_page
from jobs.views.keys import key_of, new_key
from shop.models import Person

DRAWING = ["layout/_piece_drawing.html", "jobs/_nothing.html"]


@require_safe
def piece(request: HttpRequest, pk: int) -> HttpResponse:
    return piece_page(request, piece_for(request.user, pk))


def piece_page(
    request: HttpRequest, piece: Piece, *, status: int = 200, **given: Any
) -> HttpResponse:
    """The page of a piece. given: bound forms or faults that replace the empty."""
    seen = {"version": piece.version, "key": new_key()}
    context = {
        "piece": piece,
        "job": piece.job,
        "next": piece.next_state(),
        "line": [(state, state.label) for state in Piece.State],
        "events": piece.events.with_names(),
        "remade_as": Piece.objects.filter(remake_of=piece).first(),
        "can_go_back": piece.state in Piece.BEFORE,
        "undo_form": UndoForm(prefix="undo", initial=seen),
        "hold_form": UndoForm(prefix="hold", initial=seen),
        "release_form": ReleaseForm(prefix="release", initial=seen),
        "scrap_form": ScrapForm(prefix="scrap", initial=seen),
        "key": seen["key"],
        "drawing": DRAWING,
        **given,
    }
    return render(request, "jobs/piece_detail.html", context, status=status)


@require_POST
def advance(request: HttpRequest, pk: int) -> HttpResponse:
    person = person_who_may(request.user, "advance")
    piece = piece_for(person, pk, "advance")
    form = PieceForm(request.POST)
    if not form.is_valid():
        faults = [f"Tap the button once more: {form.errors.as_text()}"]
        return piece_page(request, piece, faults=faults, status=422)
    tap = form.cleaned_data
    try:
        (piece,) = progress.advance(
            [piece],
            tap["to"],
            person,
            version=tap["version"],
            key=key_of(person, tap["to"], tap["key"]),
        )
    except progress.Refused as refused:
        return _not_moved(request, pk, refused)
    said = f"{piece} is {piece.stage_words()}."
    if _wants_part(request):
        return _part(request, pk, said=said)
    messages.success(request, said)
    return _back(piece, tap["back_to"])


def _not_moved(
    request: HttpRequest, pk: int, refused: progress.Refused
) -> HttpResponse:
    status = 409 if isinstance(refused, progress.Stale) else 422
    if _wants_part(request):
        return _part(request, pk, faults=refused.faults, status=status)
    now = piece_for(request.user, pk)
    return piece_page(request, now, faults=refused.faults, status=status)


def _wants_part(request: HttpRequest) -> bool:
    return bool(getattr(request, "htmx", False))


def _part(
    request: HttpRequest, pk: int, status: int = 200, **said: Any
) -> HttpResponse:
    """One row of Today, swapped in where it was."""
    context = {"piece": piece_for(request.user, pk), "key": new_key(), **said}
    return render(request, "jobs/_today_piece.html", context, status=status)


def _back(piece: Piece, to: str) -> HttpResponseRedirect:
    if to == "today":
        return redirect(f"/today/#piece-{piece.pk}")
    if to == "job":
        return redirect(f"{piece.job.get_absolute_url()}#pieces")
    return redirect(piece)


@require_POST
def undo(request: HttpRequest, pk: int) -> HttpResponse:
    return _beside(request, pk, "undo", progress.undo, "is taken back, it is now")


@require_POST
def hold(request: HttpRequest, pk: int) -> HttpResponse:
    return _beside(request, pk, "hold", progress.hold, "is")


@require_POST
def release(request: HttpRequest, pk: int) -> HttpResponse:
    return _beside(request, pk, "release", progress.release, "is released, it is")


def _beside(
    request: HttpRequest,
    pk: int,
    act: str,
    verb: Callable[..., Piece],
    words: str,
) -> HttpResponse:
    person = person_who_may(request.user, "advance")
    piece = piece_for(person, pk, "advance")
    shape = ReleaseForm if act == "release" else UndoForm
    form = shape(request.POST, prefix=act)
    if not form.is_valid():
        return piece_page(request, piece, status=422, **{f"{act}_form": form})
    return _done(request, person, piece, act, verb, form, words)


@require_POST
def scrap(request: HttpRequest, pk: int) -> HttpResponse:
    person = person_who_may(request.user, "advance")
    piece = piece_for(person, pk, "advance")
    form = ScrapForm(request.POST, prefix="scrap")
    if not form.is_valid():
        return piece_page(request, piece, scrap_form=form, status=422)
    return _done(
        request,
        person,
        piece,
        "scrap",
        progress.scrap,
        form,
        "takes its place and is",
        note=form.cleaned_data["note"],
    )


def _done(
    request: HttpRequest,
    person: Person,
    piece: Piece,
    act: str,
    verb: Callable[..., Piece],
    form: UndoForm | ReleaseForm | ScrapForm,
    words: str,
    **more: Any,
) -> HttpResponse:
    asked = form.cleaned_data
    try:
        piece = verb(
            piece,
            person,
            asked["reason"],
            version=asked["version"],
            key=key_of(person, act, asked["key"]),
            **more,
        )
    except progress.Refused as refused:
        status = 409 if isinstance(refused, progress.Stale) else 422
        now = piece_for(person, piece.pk)
        # The words typed stay; the form now speaks of the piece as it is.
        kept = {"reason": asked["reason"], "note": asked.get("note", "")}
        again = type(form)(
            prefix=act, initial={**kept, "version": now.version, "key": new_key()}
        )
        return piece_page(
            request,
            now,
            faults=refused.faults,
            status=status,
            **{f"{act}_form": again, "open": act},
        )
    messages.success(request, f"{piece} {words} {piece.stage_words()}.")
    return redirect(piece)


@require_POST
def advance_several(request: HttpRequest, pk: int) -> HttpResponse:
    person = person_who_may(request.user, "advance")
    job = job_for(person, pk, "advance")
    ticked = {int(it) for it in request.POST.getlist("pieces") if _is_number(it)}
    form = PieceForm(request.POST)
    try:
        if not form.is_valid():
            raise progress.Refused("Stage: choose the stage the pieces go to.")
        to = form.cleaned_data["to"]
        moved = progress.advance(
            _ticked(job, ticked),
            to,
            person,
            version=_versions(request, ticked),
            key=key_of(person, f"several-{to}", form.cleaned_data["key"]),
        )
    except progress.Refused as refused:
        status = 409 if isinstance(refused, progress.Stale) else 422
        faults = [*refused.faults, "None of the ticked pieces was moved."]
        return job_page(request, job, faults=faults, ticked=ticked, status=status)
    marks = ", ".join(str(piece) for piece in moved)
    messages.success(request, f"{moved[0].stage_words().capitalize()}: {marks}.")
    return redirect(f"{job.get_absolute_url()}#pieces")


def _ticked(job: Job, ticked: set[int]) -> list[Piece]:
    pieces = list(job.pieces.filter(pk__in=ticked))
    if len(pieces) < len(ticked):
        raise progress.Refused(f"A piece that was ticked is not of {job}. Look again.")
    return pieces


def _versions(request: HttpRequest, ticked: set[int]) -> dict[int, int]:
    seen = {pk: request.POST.get(f"version-{pk}", "") for pk in ticked}
    return {pk: int(number) for pk, number in seen.items() if _is_number(number)}


def _is_number(words: str) -> bool:
    return words.isascii() and words.isdecimal() and len(words) < 18


@require_POST
def ask(request: HttpRequest, pk: int) -> HttpResponse:
    person = person_who_may(request.user, "lay_out")
    job = job_for(person, pk, "lay_out")
    form = AskForm(request.POST)
    if form.is_valid():
        try:
            piece = asking.ask_for(job, person, **form.cleaned_data)
            messages.success(request, f"{piece} is asked for.")
            return redirect(f"{job.get_absolute_url()}#pieces")
        except ValueError as fault:
            form.add_error(None, str(fault))
    return job_page(request, job, ask_form=form, status=422)
