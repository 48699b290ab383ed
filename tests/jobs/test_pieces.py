from __future__ import annotations

from typing import Any

import pytest

from jobs import booking, progress
from jobs.models import Event, Piece
from tests.world import make_job, make_piece

pytestmark = pytest.mark.django_db


def tap(piece: Piece, to: str, **more: Any) -> dict[str, Any]:
    return {"to": to, "version": piece.version, "key": "k1", **more}


def test_the_page_shows_the_stage_and_one_tap_forward(crew_client: Any) -> None:
    piece = make_piece(mark="SL", state="cut")
    page = crew_client.get(f"/pieces/{piece.pk}/").content.decode()
    assert "stage stage--cut stage--big" in page
    assert 'name="to" value="bent"' in page
    assert "Before you bend." in page
    assert "side pan, left" in page


def test_one_tap_moves_it_on_and_twice_the_same_tap_only_once(
    crew_client: Any, crew: Any
) -> None:
    piece = make_piece()
    address = f"/pieces/{piece.pk}/advance/"
    for _ in range(2):
        answer = crew_client.post(address, tap(piece, "cut"))
        assert answer.url == f"/pieces/{piece.pk}/"
    piece.refresh_from_db()
    assert piece.state == "cut"
    assert piece.events.get(after="cut").by == crew


@pytest.mark.parametrize(
    ("to", "place"), [("today", "/today/#piece-"), ("job", "#pieces"), ("", "/pieces/")]
)
def test_it_goes_back_to_where_the_tap_was(
    to: str, place: str, crew_client: Any
) -> None:
    piece = make_piece()
    sent = tap(piece, "cut", back_to=to)
    assert place in crew_client.post(f"/pieces/{piece.pk}/advance/", sent).url


def test_a_tap_too_late_is_told_who_was_first(crew_client: Any, office: Any) -> None:
    piece = make_piece(mark="SL")
    progress.advance([piece], "cut", office)
    answer = crew_client.post(f"/pieces/{piece.pk}/advance/", tap(piece, "bent"))
    assert answer.status_code == 409
    assert "SL: Wren changed it first, it is now cut." in answer.content.decode()


@pytest.mark.parametrize(
    "sent", [{}, {"to": "polished"}, {"to": "cut", "version": "x"}]
)
def test_a_tap_that_makes_no_sense_is_refused(
    sent: dict[str, str], crew_client: Any
) -> None:
    piece = make_piece()
    answer = crew_client.post(f"/pieces/{piece.pk}/advance/", sent)
    assert answer.status_code == 422
    assert 'role="alert"' in answer.content.decode()


def test_a_tap_with_script_swaps_only_its_row(crew_client: Any) -> None:
    piece = make_piece(mark="SL")
    answer = crew_client.post(
        f"/pieces/{piece.pk}/advance/", tap(piece, "cut"), HTTP_HX_REQUEST="true"
    )
    page = answer.content.decode()
    assert page.strip().startswith('<li class="tap"')
    assert "SL is cut." in page


@pytest.mark.parametrize(
    ("act", "state", "told"),
    [("undo", "laid_out", "is taken back"), ("hold", "cut", "SL is held")],
)
def test_undo_and_hold_want_a_reason(
    act: str, state: str, told: str, crew_client: Any
) -> None:
    piece = make_piece(mark="SL", state="cut")
    address = f"/pieces/{piece.pk}/{act}/"
    answer = crew_client.post(address, {f"{act}-version": piece.version})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert f'<a href="#id_{act}-reason">Reason: Reason: say it' in page
    sent = {f"{act}-version": piece.version, f"{act}-reason": "No metal"}
    answer = crew_client.post(address, sent, follow=True)
    piece.refresh_from_db()
    assert (piece.state, told in answer.content.decode()) == (state, True)


def test_release_puts_it_back_on_the_line(crew_client: Any, crew: Any) -> None:
    piece = progress.hold(make_piece(), crew, "No metal")
    page = crew_client.get(f"/pieces/{piece.pk}/").content.decode()
    assert "Held: No metal" in page
    crew_client.post(f"/pieces/{piece.pk}/release/", {"release-reason": ""})
    piece.refresh_from_db()
    assert (piece.held, piece.next_state()) == (False, "cut")


def test_scrap_leads_to_the_remake_and_both_point_at_each_other(
    crew_client: Any,
) -> None:
    old = make_piece(mark="SL", state="bent")
    sent = {"scrap-reason": "bent_wrong", "scrap-note": "Wrong hand", "scrap-key": "k"}
    answer = crew_client.post(f"/pieces/{old.pk}/scrap/", sent)
    new = Piece.objects.get(remake_of=old)
    assert answer.url == f"/pieces/{new.pk}/"
    assert f"/pieces/{old.pk}/" in crew_client.get(answer.url).content.decode()
    page = crew_client.get(f"/pieces/{old.pk}/").content.decode()
    assert "SL making 2 takes its place" in page
    assert "Wrong hand" in page


def test_scrap_wants_to_know_what_went_wrong(crew_client: Any) -> None:
    piece = make_piece()
    answer = crew_client.post(f"/pieces/{piece.pk}/scrap/", {"scrap-note": "Oh well"})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "Choose what went wrong." in page and "Oh well" in page
    assert Piece.objects.count() == 1


def test_words_typed_too_late_stay_in_the_form(crew_client: Any, office: Any) -> None:
    piece = make_piece(state="cut")
    progress.advance([piece], "bent", office)
    sent = {"undo-version": 1, "undo-reason": "Tapped the wrong one"}
    answer = crew_client.post(f"/pieces/{piece.pk}/undo/", sent)
    assert answer.status_code == 409
    assert 'value="Tapped the wrong one"' in answer.content.decode()


def test_several_pieces_move_at_once(crew_client: Any) -> None:
    job = make_job()
    pieces = [make_piece(job) for _ in range(3)]
    sent = {
        "pieces": [piece.pk for piece in pieces[:2]],
        "to": "cut",
        "key": "k",
        **{f"version-{piece.pk}": piece.version for piece in pieces},
    }
    answer = crew_client.post(f"/jobs/{job.pk}/pieces/advance/", sent)
    assert answer.url == f"/jobs/{job.pk}/#pieces"
    assert list(Piece.objects.order_by("pk").values_list("state", flat=True)) == [
        "cut",
        "cut",
        "laid_out",
    ]


def test_several_pieces_move_all_or_none_and_stay_ticked(
    crew_client: Any, office: Any
) -> None:
    job = make_job()
    pieces = [make_piece(job, mark=mark) for mark in ("A", "B")]
    sent = {
        "pieces": [piece.pk for piece in pieces],
        "to": "cut",
        **{f"version-{piece.pk}": piece.version for piece in pieces},
    }
    progress.hold(pieces[1], office, "No metal")
    answer = crew_client.post(f"/jobs/{job.pk}/pieces/advance/", sent)
    page = answer.content.decode()
    assert answer.status_code == 409
    assert "B: Wren changed it first, it is now held." in page
    assert "None of the ticked pieces was moved." in page
    assert f'value="{pieces[0].pk}" checked' in page
    assert not Event.objects.filter(after="cut").exists()


@pytest.mark.parametrize("ticked", [[], ["x"], ["999999"], ["9" * 30]])
def test_ticking_none_or_one_of_another_job_is_told(
    ticked: list[str], crew_client: Any
) -> None:
    job = make_job()
    sent = {"pieces": ticked, "to": "cut"}
    answer = crew_client.post(f"/jobs/{job.pk}/pieces/advance/", sent)
    assert answer.status_code == 422
    assert 'role="alert"' in answer.content.decode()


def test_a_piece_of_a_closed_job_has_no_buttons(crew_client: Any, office: Any) -> None:
    piece = make_piece()
    booking.close(piece.job, office, "done", "")
    page = crew_client.get(f"/pieces/{piece.pk}/").content.decode()
    assert "Its pieces stay as they are" in page
    assert 'name="to"' not in page


def test_a_piece_is_asked_for_by_hand(crew_client: Any) -> None:
    job = make_job()
    sent = {
        "ask-mark": "X1",
        "ask-family": "Side pan",
        "ask-hand": "left",
        "ask-quantity": "2",
    }
    crew_client.post(f"/jobs/{job.pk}/pieces/", sent)
    piece = Piece.objects.get()
    assert (piece.family, piece.quantity, piece.state) == ("side_pan", 2, "asked")
    answer = crew_client.post(f"/jobs/{job.pk}/pieces/", sent)
    assert answer.status_code == 422
    assert "X1 is in use on Job" in answer.content.decode()


VERBS = ("advance", "undo", "hold", "release", "scrap")


@pytest.mark.parametrize("verb", VERBS)
def test_verbs_are_posted_by_people_of_the_shop(
    verb: str, crew_client: Any, stranger_client: Any
) -> None:
    piece = make_piece()
    address = f"/pieces/{piece.pk}/{verb}/"
    assert crew_client.get(address).status_code == 405
    assert stranger_client.post(address).status_code == 302
    assert crew_client.post(f"/pieces/999999/{verb}/").status_code == 404
    piece.refresh_from_db()
    assert piece.version == 1


def test_a_token_is_wanted_with_every_post(crew: Any) -> None:
    from django.test import Client

    client = Client(enforce_csrf_checks=True)
    client.force_login(crew, backend="django.contrib.auth.backends.ModelBackend")
    piece = make_piece()
    answer = client.post(f"/pieces/{piece.pk}/advance/", tap(piece, "cut"))
    assert answer.status_code == 403
    assert "opened too long ago" in answer.content.decode()
