"""Moves pieces along the line, and beside it. Every move is an event that stays.

Each verb takes pieces and a person and gives pieces, in one transaction, all or none.
A version is what the person saw: if it is no longer so, nothing is changed and Stale
tells who changed it. A key makes a repeated tap harmless: the second one finds the
first one's event and gives the pieces as they are.
"""

from __future__ import annotations

from collections.abc import Iterable

from django.db import transaction

from jobs import log
from jobs.models import Piece
from jobs.one_at_a_time import Refused, Stale, Versions, change, key_of
from shop.models import Person

__all__ = ["Refused", "Stale", "advance", "hold", "release", "scrap", "undo"]

# Where a remake begins: what was wrong on the roof must be measured again.
BEGINS_AGAIN = {
    Piece.Spoiled.MEASURED_WRONG: Piece.State.ASKED,
    Piece.Spoiled.SITE_CHANGED: Piece.State.ASKED,
    Piece.Spoiled.CUT_WRONG: Piece.State.LAID_OUT,
    Piece.Spoiled.BENT_WRONG: Piece.State.LAID_OUT,
    Piece.Spoiled.METAL_FLAWED: Piece.State.LAID_OUT,
}


def advance(
    pieces: Iterable[Piece],
    to: str,
    by: Person,
    version: Versions = None,
    key: str | None = None,
) -> list[Piece]:
    """Moves every piece one stage on, to `to`. All or none.

    version: one number for one piece, or piece id -> number; left out, the pieces
    handed in say what was seen.
    Raises Stale if a piece was changed meanwhile, Refused if it is not one stage before
    `to`, held, scrapped, or of a job that is not open.
    """
    to = _known_state(to)

    def move(piece: Piece) -> None:
        before, piece.state = piece.state, to
        _tell(piece, Piece.State(to).label, by, before, to, "", key)

    return change(
        pieces, version, key, lambda piece: _why_not_to(piece, to), move, ("after", to)
    )


def undo(
    piece: Piece,
    by: Person,
    reason: str,
    version: Versions = None,
    key: str | None = None,
) -> Piece:
    """Takes a piece one stage back. Raises Refused without a reason or at the start."""
    reason = _given(reason, "why it goes back")

    def why_not(piece: Piece) -> str:
        if piece.held:
            return f"{piece} is held. Release it first."
        if piece.state not in Piece.BEFORE:
            return f"{piece} is {piece.stage_words()}: there is no stage before."
        return ""

    def move(piece: Piece) -> None:
        before = piece.state
        piece.state = Piece.BEFORE[Piece.State(before)]
        _tell(piece, "taken back", by, before, piece.state, reason, key)

    return change([piece], version, key, why_not, move, ("what", "taken back"))[0]


def hold(
    piece: Piece,
    by: Person,
    reason: str,
    version: Versions = None,
    key: str | None = None,
) -> Piece:
    """Sets a piece beside the line until it is released."""
    reason = _given(reason, "why it is held")

    def why_not(piece: Piece) -> str:
        return f"{piece} is held already." if piece.held else ""

    def move(piece: Piece) -> None:
        piece.held, piece.held_because = True, reason
        _tell(piece, "held", by, piece.state, "held", reason, key)

    return change([piece], version, key, why_not, move, ("what", "held"))[0]


def release(
    piece: Piece,
    by: Person,
    reason: str = "",
    version: Versions = None,
    key: str | None = None,
) -> Piece:
    """Puts a held piece back on the line, at the stage it had."""

    def why_not(piece: Piece) -> str:
        return "" if piece.held else f"{piece} is not held."

    def move(piece: Piece) -> None:
        piece.held, piece.held_because = False, ""
        _tell(piece, "released", by, "held", piece.state, reason, key)

    return change([piece], version, key, why_not, move, ("what", "released"))[0]


def scrap(
    piece: Piece,
    by: Person,
    reason: str,
    note: str = "",
    version: Versions = None,
    key: str | None = None,
) -> Piece:
    """Scraps a piece and gives the new one that is made in its place.

    reason: one of Piece.Spoiled. The old piece keeps its history; the new one bears the
    same mark, points back, and begins where the reason says (BEGINS_AGAIN), but never
    further on than the old one was.
    """
    if reason not in Piece.Spoiled.values:
        raise Refused(
            f"Reason: “{reason}” is not one we know. "
            f"Choose one of: {', '.join(Piece.Spoiled.labels)}."
        )
    spoiled = Piece.Spoiled(reason)
    words = f"{spoiled.label}. {note}".strip() if note else spoiled.label

    def move(piece: Piece) -> None:
        before = piece.state
        piece.held, piece.held_because = False, ""
        piece.scrapped, piece.scrapped_because = True, spoiled
        _tell(piece, "scrapped", by, before, "scrapped", words, key)

    with transaction.atomic():
        old = change(
            [piece], version, key, lambda piece: "", move, ("what", "scrapped")
        )[0]
        return _remade(old, by, words)


def _tell(
    piece: Piece,
    what: str,
    by: Person,
    before: str,
    after: str,
    reason: str,
    key: str | None,
) -> None:
    log.write(
        piece.job,
        what,
        by,
        piece=piece,
        about=str(piece),
        before=before,
        after=after,
        reason=reason,
        key=key_of(key, piece),
    )


def _remade(old: Piece, by: Person, words: str) -> Piece:
    """The piece made in place of a scrapped one; made now if not made yet."""
    if made := Piece.objects.filter(remake_of=old).first():
        return made
    line = list(Piece.State)
    begins = min(
        BEGINS_AGAIN[Piece.Spoiled(old.scrapped_because)],
        Piece.State(old.state),
        key=line.index,
    )
    new = Piece.objects.create(
        job=old.job,
        mark=old.mark,
        making=old.making + 1,
        family=old.family,
        hand=old.hand,
        quantity=old.quantity,
        metal=old.metal,
        state=begins,
        remake_of=old,
    )
    log.write(
        new.job,
        "made again",
        by,
        piece=new,
        about=str(new),
        after=begins,
        reason=f"In place of {old}: {words}",
    )
    return new


def _why_not_to(piece: Piece, to: str) -> str:
    if piece.held:
        return f"{piece} is held ({piece.held_because}). Release it first."
    if Piece.NEXT.get(Piece.State(piece.state)) == to:
        return ""
    before = Piece.BEFORE.get(Piece.State(to))
    wanted = f"must be {before.label} first" if before else "begins there"
    return (
        f"{piece} is {piece.stage_words()}: before {Piece.State(to).label} it {wanted}."
    )


def _known_state(to: str) -> str:
    if to not in Piece.State.values:
        raise Refused(
            f"Stage: “{to}” is not one we know. "
            f"Choose one of: {', '.join(Piece.State.values)}."
        )
    return to


def _given(reason: str, what: str) -> str:
    reason = " ".join(reason.split())
    if not reason:
        raise Refused(f"Reason: say in a few words {what}.")
    return reason
