from __future__ import annotations

from typing import Any

import pytest
from django.db import IntegrityError, transaction

from jobs import booking, progress
from jobs.models import Event, Piece
from tests.world import make_job, make_piece

pytestmark = pytest.mark.django_db


def test_advance_goes_the_whole_line_one_stage_at_a_time(crew: Any) -> None:
    piece = make_piece(state="asked")
    for to in ("measured", "laid_out", "cut", "bent", "installed"):
        (piece,) = progress.advance([piece], to, crew)
    assert Piece.objects.get().state == "installed"
    assert [event.after for event in piece.events.order_by("pk")] == [
        "asked",
        "measured",
        "laid_out",
        "cut",
        "bent",
        "installed",
    ]
    assert piece.next_state() is None


@pytest.mark.parametrize("to", ["laid_out", "bent", "installed", "measured", "asked"])
def test_advance_refuses_to_skip_a_step_or_to_go_back(to: str, crew: Any) -> None:
    piece = make_piece(state="laid_out", mark="SL")
    with pytest.raises(progress.Refused, match="SL is laid out"):
        progress.advance([piece], to, crew)
    assert Piece.objects.get().state == "laid_out"


def test_advance_moves_all_or_none(crew: Any) -> None:
    job = make_job()
    ready, late = make_piece(job), make_piece(job, "asked", mark="LATE")
    events = Event.objects.count()
    with pytest.raises(progress.Refused, match="LATE is asked"):
        progress.advance([ready, late], "cut", crew)
    assert set(Piece.objects.values_list("state", flat=True)) == {"laid_out", "asked"}
    assert Event.objects.count() == events


def test_advance_tells_every_fault_at_once(crew: Any) -> None:
    job = make_job()
    pieces = [make_piece(job, "asked", mark=mark) for mark in ("A", "B")]
    with pytest.raises(progress.Refused) as refused:
        progress.advance(pieces, "cut", crew)
    assert len(refused.value.faults) == 2


def test_the_second_of_two_is_told_who_was_first(crew: Any, office: Any) -> None:
    seen_by_both = make_piece(mark="SL")
    progress.advance([Piece.objects.get()], "cut", office, version=1)
    with pytest.raises(progress.Stale) as stale:
        progress.advance([seen_by_both], "cut", crew, version=1)
    assert str(stale.value).startswith("SL: Wren changed it first, it is now cut.")
    assert seen_by_both.events.filter(after="cut").count() == 1


def test_a_stale_piece_stops_all_the_others(crew: Any, office: Any) -> None:
    job = make_job()
    first, second = make_piece(job), make_piece(job)
    progress.hold(second, office, "no metal")
    with pytest.raises(progress.Stale):
        progress.advance(
            [first, second], "cut", crew, version={first.pk: 1, second.pk: 1}
        )
    first.refresh_from_db()
    assert first.state == "laid_out"


def test_the_same_key_acts_once(crew: Any) -> None:
    piece = make_piece()
    progress.advance([piece], "cut", crew, version=1, key="tap")
    (again,) = progress.advance([piece], "cut", crew, version=1, key="tap")
    assert again.state == "cut"
    assert piece.events.filter(after="cut").count() == 1


def test_a_key_is_not_good_for_another_act(crew: Any) -> None:
    piece = make_piece()
    progress.advance([piece], "cut", crew, key="tap")
    with pytest.raises(progress.Refused, match="used before"):
        progress.hold(piece, crew, "a reason", key="tap")


def test_one_version_for_several_pieces_is_a_mistake(crew: Any) -> None:
    job = make_job()
    with pytest.raises(ValueError, match="one for each"):
        progress.advance([make_piece(job), make_piece(job)], "cut", crew, version=1)


def test_no_piece_is_refused(crew: Any) -> None:
    with pytest.raises(progress.Refused, match="No piece was chosen"):
        progress.advance([], "cut", crew)


def test_an_unknown_stage_is_refused_with_the_ones_there_are(crew: Any) -> None:
    with pytest.raises(progress.Refused, match="“polished”.*installed"):
        progress.advance([make_piece()], "polished", crew)


def test_undo_goes_one_stage_back_and_says_why(crew: Any) -> None:
    piece = progress.undo(make_piece(state="bent"), crew, "Tapped the wrong one")
    event = piece.events.first()
    assert event is not None
    assert (piece.state, event.reason) == ("cut", "Tapped the wrong one")


def test_undo_needs_a_reason_and_a_stage_before(crew: Any) -> None:
    piece = make_piece(state="asked")
    with pytest.raises(progress.Refused, match="say in a few words"):
        progress.undo(piece, crew, "   ")
    with pytest.raises(progress.Refused, match="no stage before"):
        progress.undo(piece, crew, "why not")


def test_held_pieces_stand_beside_the_line(crew: Any) -> None:
    piece = progress.hold(make_piece(state="cut"), crew, "Wait for the coil")
    for act in (
        lambda: progress.advance([piece], "bent", crew),
        lambda: progress.undo(piece, crew, "no"),
        lambda: progress.hold(piece, crew, "again"),
    ):
        with pytest.raises(progress.Refused, match="held"):
            act()
    piece = progress.release(piece, crew)
    assert (piece.state, piece.held, piece.held_because) == ("cut", False, "")
    with pytest.raises(progress.Refused, match="not held"):
        progress.release(piece, crew)


@pytest.mark.parametrize(
    ("reason", "begins"),
    [
        ("measured_wrong", "asked"),
        ("site_changed", "asked"),
        ("cut_wrong", "laid_out"),
        ("bent_wrong", "laid_out"),
        ("metal_flawed", "laid_out"),
    ],
)
def test_scrap_makes_a_new_piece_that_points_back(
    reason: str, begins: str, crew: Any
) -> None:
    old = make_piece(state="bent", mark="SL", quantity=3)
    new = progress.scrap(old, crew, reason, "Slipped")
    old.refresh_from_db()
    assert (old.scrapped, old.state, old.scrapped_because) == (True, "bent", reason)
    assert (new.state, new.remake_of, new.mark) == (begins, old, "SL")
    assert (new.making, new.quantity, new.family) == (2, 3, "side_pan")
    assert str(new) == "SL making 2"


def test_a_remake_begins_no_further_on_than_the_old_one_was(crew: Any) -> None:
    new = progress.scrap(make_piece(state="measured"), crew, "metal_flawed")
    assert new.state == "measured"


def test_scrapping_twice_with_one_key_makes_one_remake(crew: Any) -> None:
    piece = make_piece()
    first = progress.scrap(piece, crew, "cut_wrong", key="tap")
    second = progress.scrap(piece, crew, "cut_wrong", key="tap")
    assert first == second
    assert Piece.objects.count() == 2


def test_a_scrapped_piece_stays_scrapped(crew: Any) -> None:
    piece = make_piece()
    progress.scrap(piece, crew, "cut_wrong")
    piece.refresh_from_db()
    for act in (
        lambda: progress.advance([piece], "cut", crew),
        lambda: progress.undo(piece, crew, "no"),
        lambda: progress.hold(piece, crew, "no"),
        lambda: progress.scrap(piece, crew, "bent_wrong"),
    ):
        with pytest.raises(progress.Refused, match="scrapped and stays so"):
            act()


def test_scrap_wants_one_of_the_reasons(crew: Any) -> None:
    with pytest.raises(progress.Refused, match="measured wrong, cut wrong"):
        progress.scrap(make_piece(), crew, "bad luck")


def test_pieces_of_a_closed_job_stay_as_they_are(crew: Any, office: Any) -> None:
    piece = make_piece()
    booking.close(piece.job, office, "off", "Client sold the house")
    with pytest.raises(progress.Refused, match="called off"):
        progress.advance([piece], "cut", crew)


def test_the_database_keeps_one_living_piece_for_a_mark(crew: Any) -> None:
    piece = make_piece(mark="SL")
    with pytest.raises(IntegrityError), transaction.atomic():
        Piece.objects.create(job=piece.job, mark="SL", making=2, family="apron")


@pytest.mark.parametrize(
    "broken",
    [
        {"held": True},
        {"scrapped": True},
        {"state": "polished"},
        {"quantity": 0},
        {"mark": ""},
    ],
)
def test_the_database_keeps_its_promises(broken: dict[str, Any]) -> None:
    piece = make_piece()
    with pytest.raises(IntegrityError), transaction.atomic():
        Piece.objects.filter(pk=piece.pk).update(**broken)
