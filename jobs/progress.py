"""Moves pieces along the line, and beside it. Every move is an event that stays.

Each verb takes pieces and a person and gives pieces, in one transaction, all or none.
A version is what the person saw: if it is no longer so, nothing is changed and Stale
tells who changed it. A key makes a repeated tap harmless: the second one finds the
first one's event and gives the pieces as they are.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from django.db import transaction
from django.db.models import F

from jobs import log
from jobs.models import Event, Piece
from shop.models import Person

Versions = int | Mapping[int, int] | None

# Where a remake begins: what was wrong on the roof must be measured again.
BEGINS_AGAIN = {
    Piece.Spoiled.MEASURED_WRONG: Piece.State.ASKED,
    Piece.Spoiled.SITE_CHANGED: Piece.State.ASKED,
    Piece.Spoiled.CUT_WRONG: Piece.State.LAID_OUT,
    Piece.Spoiled.BENT_WRONG: Piece.State.LAID_OUT,
    Piece.Spoiled.METAL_FLAWED: Piece.State.LAID_OUT,
}


class Refused(ValueError):
    """The move is not allowed. `faults` holds one sentence a fault."""

    def __init__(self, *faults: str) -> None:
        self.faults = list(faults)
        super().__init__(" ".join(faults))


class Stale(Refused):
    """Someone else changed a piece first. `piece` is as it is now."""

    def __init__(self, piece: Piece, last: Event | None) -> None:
        self.piece = piece
        self.last = last
        who = f"{last.by} changed it first" if last else "It was changed"
        super().__init__(
            f"{piece}: {who}, it is now {piece.stage_words()}. "
            "Nothing of yours was changed. Look again, then decide."
        )


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
        log.write(
            piece.job,
            Piece.State(to).label,
            by,
            piece=piece,
            about=str(piece),
            before=before,
            after=to,
            key=_key(key, piece),
        )

    return _change(
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
        log.write(
            piece.job,
            "taken back",
            by,
            piece=piece,
            about=str(piece),
            before=before,
            after=piece.state,
            reason=reason,
            key=_key(key, piece),
        )

    return _change([piece], version, key, why_not, move, ("what", "taken back"))[0]


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
        log.write(
            piece.job,
            "held",
            by,
            piece=piece,
            about=str(piece),
            before=piece.state,
            after="held",
            reason=reason,
            key=_key(key, piece),
        )

    return _change([piece], version, key, why_not, move, ("what", "held"))[0]


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
        log.write(
            piece.job,
            "released",
            by,
            piece=piece,
            about=str(piece),
            before="held",
            after=piece.state,
            reason=reason,
            key=_key(key, piece),
        )

    return _change([piece], version, key, why_not, move, ("what", "released"))[0]


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
        log.write(
            piece.job,
            "scrapped",
            by,
            piece=piece,
            about=str(piece),
            before=before,
            after="scrapped",
            reason=words,
            key=_key(key, piece),
        )

    with transaction.atomic():
        old = _change(
            [piece], version, key, lambda piece: "", move, ("what", "scrapped")
        )[0]
        return _remade(old, by, words)


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


def _change(
    pieces: Iterable[Piece],
    version: Versions,
    key: str | None,
    why_not: Callable[[Piece], str],
    move: Callable[[Piece], None],
    same_act: tuple[str, str],
) -> list[Piece]:
    """Locks the rows, checks them all, then moves them all."""
    seen = _seen(pieces, version)
    with transaction.atomic():
        locked = _locked(seen)
        done = _done_before(key, locked, same_act)
        todo = [piece for piece in locked if piece.pk not in done]
        for piece in todo:
            if piece.version != seen[piece.pk]:
                raise Stale(piece, piece.events.select_related("by").first())
        faults = [
            fault for piece in todo if (fault := _closed(piece) or why_not(piece))
        ]
        if faults:
            raise Refused(*faults)
        for piece in todo:
            move(piece)
            _keep(piece, seen[piece.pk])
        return locked


def _seen(pieces: Iterable[Piece], version: Versions) -> dict[int, int]:
    seen = {piece.pk: piece.version for piece in pieces}
    if not seen:
        raise Refused("No piece was chosen. Tick at least one.")
    if isinstance(version, int):
        if len(seen) > 1:
            raise ValueError("one version for several pieces: give one for each id")
        return dict.fromkeys(seen, version)
    if version is not None:
        seen = {pk: version.get(pk, known) for pk, known in seen.items()}
    return seen


def _locked(seen: Mapping[int, int]) -> list[Piece]:
    # Always in the same order, so that two people who tick the same pieces never wait
    # for each other. Where rows cannot be locked, _keep still lets only one win.
    rows = (
        Piece.objects.filter(pk__in=seen)
        .select_related("job")
        .order_by("pk")
        .select_for_update(of=("self",))
    )
    return list(rows)


def _keep(piece: Piece, seen: int) -> None:
    changed = Piece.objects.filter(pk=piece.pk, version=seen).update(
        state=piece.state,
        held=piece.held,
        held_because=piece.held_because,
        scrapped=piece.scrapped,
        scrapped_because=piece.scrapped_because,
        version=F("version") + 1,
    )
    if not changed:
        now = Piece.objects.get(pk=piece.pk)
        raise Stale(now, now.events.select_related("by").first())
    piece.version = seen + 1


def _done_before(
    key: str | None, pieces: list[Piece], same_act: tuple[str, str]
) -> set[int]:
    """Ids of the pieces this key has moved already."""
    if key is None:
        return set()
    keys = {_key(key, piece): piece for piece in pieces}
    events = list(Event.objects.filter(key__in=keys))
    field, value = same_act
    for event in events:
        if getattr(event, field) != value:
            raise Refused(
                f"{event.about}: this key was used before, for something else "
                f"({event.what}). Send a new key with a new act."
            )
    return {event.piece_id for event in events if event.piece_id is not None}


def _key(key: str | None, piece: Piece) -> str | None:
    return f"{key}/{piece.pk}" if key else None


def _closed(piece: Piece) -> str:
    if not piece.job.is_open():
        return f"{piece.job} is {piece.job.get_state_display()}. Open it again first."
    if piece.scrapped:
        return f"{piece} is scrapped and stays so. Work on its remake."
    return ""


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
