"""A job is laid out: pieces to the bench, again where it changes, refused in words."""

from __future__ import annotations

from typing import Any

import pytest

from jobs import booking, progress
from jobs.models import Event, Job, Piece
from layout import laying, recording, run
from layout.faults import CannotBuild
from layout.laying import lay_out_job
from layout.models import LaidPiece, Layout
from layout.tasks import ask_for_layout
from shop.models import Errand, Standard
from shop.tables import PLAN_STANDARDS
from tests.layout.measured import measured_job, take

pytestmark = pytest.mark.usefixtures("opened")


def _marks(job: Job, **given: Any) -> set[str]:
    return set(job.pieces.living().filter(**given).values_list("mark", flat=True))


def _to(job: Job, mark: str, *states: str) -> Piece:
    piece = job.pieces.living().get(mark=mark)
    for state in states:
        (piece,) = progress.advance([piece], state, job.created_by)
    return piece


def test_a_measured_job_gets_its_pieces_laid_out() -> None:
    job = measured_job()
    layout = lay_out_job(job, job.created_by)
    assert (layout.state, layout.number, layout.reason) == ("done", 1, "")
    marks = {laid.mark for laid in layout.laid_pieces.all()}
    assert {"A", "PL", "PR", "BL", "BR", "CF", "K"} <= marks
    assert _marks(job, state="laid_out") == marks
    left = job.pieces.get(mark="PL")
    assert (left.family, left.hand, left.metal) == ("side_pan", "left", "copper 20 oz")
    assert job.pieces.get(mark="K").quantity > 1
    assert Event.objects.filter(piece=left, after="laid_out").exists()
    assert job.events.filter(what="laid out", piece=None).count() == 1


def test_nothing_changed_gives_the_same_layout_again() -> None:
    job = measured_job()
    first = lay_out_job(job, job.created_by)
    events = job.events.count()
    assert lay_out_job(job, job.created_by) == first
    assert job.layouts.count() == 1
    assert job.events.count() == events


def test_only_a_standard_that_layouts_go_by_lays_out_again() -> None:
    job = measured_job()
    first = lay_out_job(job, job.created_by)
    for key in PLAN_STANDARDS:
        Standard.objects.filter(key=key).update(value="7")
    assert lay_out_job(job, job.created_by) == first
    Standard.objects.filter(key="seam_play").update(value="1")
    second = lay_out_job(job, job.created_by)
    assert second.number == 2
    # Common practice, no source: play widens the covering leg's turn by itself.
    wider = (
        second.laid_pieces.get(mark="PL").width_mm
        - first.laid_pieces.get(mark="PL").width_mm
    )
    assert wider == 1


def test_a_second_layout_keeps_what_is_cut_and_says_where_it_differs() -> None:
    job = measured_job()
    first = lay_out_job(job, job.created_by)
    cut = _to(job, "PL", "cut")
    bent = _to(job, "CF", "cut", "bent")
    take(job.sites.get(), "roof.left_pan", "12", job.created_by)
    second = lay_out_job(job, job.created_by)
    assert second.number == 2
    kept = second.laid_pieces.get(mark="PL")
    assert (kept.kept, kept.differs) == (True, True)
    same = second.laid_pieces.get(mark="CF")
    assert (same.kept, same.differs) == (True, False)
    assert LaidPiece.objects.of(cut).layout == first
    assert LaidPiece.objects.of(bent).layout == first
    assert LaidPiece.objects.of(job.pieces.get(mark="PR")).layout == second
    cut.refresh_from_db()
    assert cut.state == "cut"
    assert "PL" not in {laid.mark for laid in second.laid_pieces.to_cut()}


def test_a_tap_from_the_page_before_a_new_layout_is_told() -> None:
    job = measured_job()
    lay_out_job(job, job.created_by)
    seen = job.pieces.get(mark="PR").version
    take(job.sites.get(), "roof.right_pan", "11", job.created_by)
    lay_out_job(job, job.created_by)
    piece = job.pieces.get(mark="PR")
    with pytest.raises(progress.Stale):
        progress.advance([piece], "cut", job.created_by, version=seen)


def test_a_piece_no_longer_asked_for_is_held_and_comes_back() -> None:
    job = measured_job()
    lay_out_job(job, job.created_by)
    take(job.sites.get(), "build.back", "flat", job.created_by)
    lay_out_job(job, job.created_by)
    gone = job.pieces.get(mark="BL")
    assert gone.held
    assert gone.held_because == "Not in layout 2: it is no longer asked for"
    assert "B" in _marks(job, state="laid_out", held=False)
    take(job.sites.get(), "build.back", "saddle", job.created_by)
    lay_out_job(job, job.created_by)
    gone.refresh_from_db()
    assert not gone.held
    assert LaidPiece.objects.of(gone).layout.number == 3
    assert job.pieces.get(mark="B").held


def test_a_piece_asked_by_hand_is_left_alone() -> None:
    from jobs.asking import ask_for

    job = measured_job()
    extra = ask_for(job, job.created_by, mark="X1", family="pan")
    wanted = ask_for(job, job.created_by, mark="A", family="front piece")
    lay_out_job(job, job.created_by)
    extra.refresh_from_db()
    wanted.refresh_from_db()
    assert (extra.state, extra.held) == ("asked", False)
    assert (wanted.state, wanted.family) == ("laid_out", "apron")


def test_a_held_piece_waits_and_is_laid_out_after_its_release() -> None:
    from jobs.asking import ask_for

    job = measured_job()
    piece = ask_for(job, job.created_by, mark="A", family="apron")
    progress.hold(piece, job.created_by, "the client thinks")
    lay_out_job(job, job.created_by)
    piece.refresh_from_db()
    assert (piece.state, piece.held) == ("asked", True)
    progress.release(piece, job.created_by)
    lay_out_job(job, job.created_by)
    piece.refresh_from_db()
    assert piece.state == "laid_out"
    assert job.layouts.count() == 1


def test_a_remake_is_made_from_the_same_layout() -> None:
    job = measured_job()
    layout = lay_out_job(job, job.created_by)
    old = _to(job, "PL", "cut")
    new = progress.scrap(old, job.created_by, "measured_wrong")
    lay_out_job(job, job.created_by)
    new.refresh_from_db()
    assert new.state == "laid_out"
    assert LaidPiece.objects.of(new) == LaidPiece.objects.of(old)
    assert job.layouts.get() == layout


def test_what_cannot_be_built_is_refused_and_kept_with_its_reasons(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def refuse(*given: Any) -> None:
        raise CannotBuild(["the leg can't be folded", "the pocket has no metal"])

    job = measured_job()
    monkeypatch.setattr(run, "lay_out", refuse)
    layout = lay_out_job(job, job.created_by)
    assert layout.state == "refused"
    assert layout.reasons() == ["the leg can't be folded", "the pocket has no metal"]
    assert not job.pieces.exists()
    assert lay_out_job(job, job.created_by) == layout


def test_a_blocking_finding_keeps_the_pieces_from_the_bench() -> None:
    job = measured_job(walls_reglet="5", build_counterflashing="level and raked")
    layout = lay_out_job(job, job.created_by)
    assert layout.state == "refused"
    assert any("groove" in reason for reason in layout.reasons())
    assert not job.pieces.exists()
    assert job.events.filter(what="layout refused").count() == 1


def test_a_breakdown_is_kept_and_tried_again(monkeypatch: pytest.MonkeyPatch) -> None:
    def break_down(*given: Any) -> None:
        raise ZeroDivisionError

    job = measured_job()
    with monkeypatch.context() as broken:
        broken.setattr(run, "lay_out", break_down)
        broken.setattr(laying.log, "exception", lambda *given: None)
        assert lay_out_job(job, job.created_by).state == "failed"
    layout = lay_out_job(job, job.created_by)
    assert (layout.state, layout.number) == ("done", 2)


def test_a_closed_job_is_not_laid_out() -> None:
    job = measured_job()
    booking.close(job, job.created_by, "off", "sold the house")
    with pytest.raises(recording.Closed, match="Open it again"):
        lay_out_job(job, job.created_by)
    assert not Layout.objects.exists()


def test_all_or_nothing_is_recorded(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*given: Any, **more: Any) -> None:
        raise progress.Refused("somebody was faster")

    job = measured_job()
    events = job.events.count()
    monkeypatch.setattr(progress, "advance", refuse)
    with pytest.raises(progress.Refused):
        lay_out_job(job, job.created_by)
    assert not Layout.objects.exists()
    assert not job.pieces.exists()
    assert job.events.count() == events


def test_an_errand_lays_out_as_well(
    django_capture_on_commit_callbacks: Any,
) -> None:
    job = measured_job()
    with django_capture_on_commit_callbacks(execute=True):
        errand = ask_for_layout(job, job.created_by)
    errand.refresh_from_db()
    assert errand.state == Errand.State.DONE
    assert job.layouts.get().is_done()


def test_an_errand_on_an_unmeasured_job_is_refused_in_words(
    django_capture_on_commit_callbacks: Any,
) -> None:
    job = measured_job(roof_pitch=None)
    with django_capture_on_commit_callbacks(execute=True):
        errand = ask_for_layout(job, job.created_by)
    errand.refresh_from_db()
    assert errand.state == Errand.State.FAILED
    assert "roof.pitch" in errand.reason
