"""Several people, one piece: locks the rows, checks them all, then changes them all.

What was seen is handed in as versions. Whoever comes second is told who was first, and
nothing of theirs is changed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from django.db import transaction
from django.db.models import F

from jobs.models import Event, Piece

Versions = int | Mapping[int, int] | None


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
        who = f"{last.who()} changed it first" if last else "It was changed"
        super().__init__(
            f"{piece}: {who}, it is now {piece.stage_words()}. "
            "Nothing of yours was changed. Look again, then decide."
        )


def change(
    pieces: Iterable[Piece],
    version: Versions,
    key: str | None,
    why_not: Callable[[Piece], str],
    move: Callable[[Piece], None],
    same_act: tuple[str, str],
) -> list[Piece]:
    """Moves every piece, all or none, in one transaction. Gives them as they are then.

    version: one number for one piece, or id -> number; else what the pieces bear
    why_not: a sentence if a piece may not move, else nothing
    move: changes the piece and writes its event, under the key if there is one
    same_act: field and value of the event by which this act is known again
    Raises Stale, or Refused with every piece's fault.
    """
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
    keys = {key_of(key, piece): piece for piece in pieces}
    events = list(Event.objects.filter(key__in=keys))
    field, value = same_act
    for event in events:
        if getattr(event, field) != value:
            raise Refused(
                f"{event.about}: this key was used before, for something else "
                f"({event.what}). Send a new key with a new act."
            )
    return {event.piece_id for event in events if event.piece_id is not None}


def key_of(key: str | None, piece: Piece) -> str | None:
    return f"{key}/{piece.pk}" if key else None


def _closed(piece: Piece) -> str:
    if not piece.job.is_open():
        return f"{piece.job} is {piece.job.get_state_display()}. Open it again first."
    if piece.scrapped:
        return f"{piece} is scrapped and stays so. Work on its remake."
    return ""
