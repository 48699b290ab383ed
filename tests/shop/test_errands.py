from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from typing import Any

import pytest
from django.db import transaction
from django.utils import timezone

from shop import errands
from shop.models import Errand
from shop.tasks import carry

pytestmark = pytest.mark.django_db


@pytest.fixture
def carried(monkeypatch: pytest.MonkeyPatch) -> Iterator[list[dict[str, Any]]]:
    seen: list[dict[str, Any]] = []

    def note(errand: Errand, beat: errands.Beat) -> None:
        beat()
        with errands.held(errand):
            seen.append(errand.payload)

    monkeypatch.setitem(errands.CARRIERS, "note", note)
    yield seen


def lapse(errand: Errand) -> None:
    long_ago = timezone.now() - timedelta(minutes=5)
    Errand.objects.filter(pk=errand.pk).update(
        heartbeat=long_ago, lease_until=long_ago, sent_at=long_ago
    )


def test_an_errand_is_carried_after_the_commit(
    carried: list[dict[str, Any]], django_capture_on_commit_callbacks: Any
) -> None:
    with django_capture_on_commit_callbacks(execute=True):
        errand = errands.ask("note", document=7)
        assert carried == []
    errand.refresh_from_db()
    assert carried == [{"document": 7}]
    assert (errand.state, errand.attempt, errand.reason) == ("done", 1, "")


def test_a_second_ring_does_nothing(carried: list[dict[str, Any]]) -> None:
    errand = errands.ask("note")
    carry(errand.pk)
    carry(errand.pk)
    assert len(carried) == 1


def test_a_ring_for_a_row_that_never_was_does_nothing() -> None:
    carry(999_999)


def test_an_errand_in_good_hands_is_not_taken() -> None:
    errand = errands.ask("note")
    assert errands.claim(errand.pk)
    assert errands.claim(errand.pk) is None


def test_a_lapsed_errand_is_taken_by_another_and_the_first_writes_nothing() -> None:
    errand = errands.ask("note")
    first = errands.claim(errand.pk)
    assert first
    lapse(first)
    second = errands.claim(errand.pk)
    assert second and second.attempt == 2
    with pytest.raises(errands.Lost), transaction.atomic(), errands.held(first):
        raise AssertionError("it wrote")
    with pytest.raises(errands.Lost):
        errands.beat(first)
    errands.fail(first, "too late")
    with errands.held(second):
        pass
    errand.refresh_from_db()
    assert (errand.state, errand.reason) == ("done", "")


def test_a_result_that_breaks_leaves_the_errand_undone() -> None:
    mine = errands.claim(errands.ask("note").pk)
    assert mine
    with pytest.raises(ZeroDivisionError), errands.held(mine):
        Errand.objects.create(kind="result")
        raise ZeroDivisionError
    assert not Errand.objects.filter(kind="result").exists()
    mine.refresh_from_db()
    assert mine.state == "running"


def test_a_refusal_is_kept_in_words(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(errand: Errand, beat: errands.Beat) -> None:
        raise errands.Refused("The site has no measures. Take them first.")

    monkeypatch.setitem(errands.CARRIERS, "refuse", refuse)
    errand = errands.ask("refuse")
    carry(errand.pk)
    errand.refresh_from_db()
    assert errand.state == "failed"
    assert errand.reason == "The site has no measures. Take them first."


def test_a_fault_of_ours_is_told_and_raised(
    monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def break_down(errand: Errand, beat: errands.Beat) -> None:
        raise KeyError("ear")

    monkeypatch.setitem(errands.CARRIERS, "break", break_down)
    errand = errands.ask("break")
    with pytest.raises(KeyError):
        carry(errand.pk)
    errand.refresh_from_db()
    assert errand.state == "failed"
    assert "KeyError" in errand.reason
    assert f"Errand {errand.pk} failed" in caplog.text


def test_an_unknown_kind_is_refused_in_words() -> None:
    errand = errands.ask("unheard of")
    carry(errand.pk)
    errand.refresh_from_db()
    assert errand.state == "failed" and "unheard of" in errand.reason


def test_the_sweep_rings_for_what_was_never_rung(
    carried: list[dict[str, Any]],
) -> None:
    errands.ask("note")
    assert errands.sweep() == 1
    assert len(carried) == 1
    assert errands.sweep() == 0


def test_the_sweep_takes_up_what_lapsed(carried: list[dict[str, Any]]) -> None:
    errand = errands.claim(errands.ask("note").pk)
    assert errand
    assert errands.sweep() == 0
    lapse(errand)
    assert errands.sweep() == 1
    errand.refresh_from_db()
    assert (errand.state, errand.attempt, len(carried)) == ("done", 2, 1)


def test_the_sweep_does_not_ring_twice_for_a_long_queue() -> None:
    errand = errands.ask("note")
    Errand.objects.filter(pk=errand.pk).update(sent_at=timezone.now())
    assert errands.sweep() == 0


def test_the_sweep_gives_up_what_kills_its_workers() -> None:
    errand = errands.ask("note")
    for _ in range(errands.MOST_ATTEMPTS):
        assert errands.claim(errand.pk)
        lapse(errand)
    assert errands.sweep() == 0
    errand.refresh_from_db()
    assert errand.state == "failed" and "5 times" in errand.reason


def test_a_bell_that_is_down_is_no_fault(monkeypatch: pytest.MonkeyPatch) -> None:
    def down(pk: int) -> None:
        raise ConnectionError("refused")

    monkeypatch.setattr(carry, "delay", down)
    errand = errands.ask("note")
    assert errands.ring(errand.pk) is False
    errand.refresh_from_db()
    assert errand.state == "queued"


def test_a_kind_is_carried_by_one_function() -> None:
    @errands.carries("once")
    def first(errand: Errand, beat: errands.Beat) -> None: ...

    with pytest.raises(ValueError, match="once"):
        errands.carries("once")(first)
    del errands.CARRIERS["once"]
