"""Hours by the clock and by hand: what is odd is asked about, never silently taken."""

from __future__ import annotations

import datetime
from decimal import Decimal
from typing import Any

import pytest
from django.db import IntegrityError, transaction
from django.utils import timezone

from jobs import booking, clock
from jobs.hours import read_hours
from jobs.models import WorkTime
from tests.priced import price_all
from tests.world import make_job, make_piece

pytestmark = pytest.mark.django_db

HOUR = datetime.timedelta(hours=1)


def started(by: Any, ago: datetime.timedelta, **given: Any) -> WorkTime:
    """A clock that was started some time ago."""
    piece = given.pop("piece", None) or make_piece()
    time = clock.start(by, job=piece.job, piece=piece, stage="cutting", **given)
    began = timezone.now() - ago
    WorkTime.objects.filter(pk=time.pk).update(
        began_at=began, day=timezone.localdate(began)
    )
    return time


def written(by: Any, piece: Any = None, **given: Any) -> WorkTime:
    piece = piece or make_piece()
    row = {
        "person": by,
        "job": piece.job,
        "piece": piece,
        "stage": "cutting",
        "day": timezone.localdate() - datetime.timedelta(days=1),
        "minutes": Decimal(90),
    }
    return clock.write(by, **{**row, **given})


@pytest.mark.parametrize(
    ("typed", "minutes"),
    [
        ("1:30", 90),
        ("1.5", 90),
        ("1,5", 90),
        ("90 min", 90),
        ("1 h 30 min", 90),
        ("2h", 120),
        ("0:05", 5),
    ],
)
def test_hours_are_read_as_they_are_said(typed: str, minutes: int) -> None:
    assert read_hours(typed) == minutes


@pytest.mark.parametrize("typed", ["", "soon", "1:75", "0", "-2", "1::3", "999999"])
def test_what_is_no_hours_is_refused(typed: str) -> None:
    with pytest.raises(ValueError):
        read_hours(typed)


def test_start_and_stop_keep_minutes_price_and_events(
    crew: Any, owner: Any, opened: None
) -> None:
    price_all(owner)
    piece = make_piece(mark="SL")
    started(crew, HOUR, piece=piece)
    time = clock.stop(crew)
    assert time is not None and time.minutes is not None
    assert 60 <= time.minutes < Decimal("60.2")
    assert time.price is not None and time.price.amount == 60
    assert time.amount == time.minutes.quantize(Decimal("0.01"))
    said = set(piece.events.values_list("what", flat=True))
    assert {"started work", "stopped work"} <= said


def test_the_same_tap_starts_one_clock(crew: Any) -> None:
    piece = make_piece()
    given = {"job": piece.job, "piece": piece, "stage": "cutting", "key": "k"}
    assert clock.start(crew, **given) == clock.start(crew, **given)


def test_a_second_clock_is_asked_about_first(crew: Any) -> None:
    first = started(crew, HOUR)
    other = make_piece()
    with pytest.raises(clock.Asked, match="is running, 1 h 0 min so far"):
        clock.start(crew, job=other.job, piece=other, stage="bending")
    clock.start(crew, job=other.job, piece=other, stage="bending", stop_first=True)
    first.refresh_from_db()
    assert first.minutes and not first.is_running()
    assert WorkTime.objects.running().of(crew).get().piece == other


def test_the_database_allows_one_running_clock_a_person(crew: Any) -> None:
    first = started(crew, HOUR)
    with pytest.raises(IntegrityError), transaction.atomic():
        WorkTime.objects.create(
            job=first.job, person=crew, written_by=crew, stage="other",
            day=first.day, began_at=timezone.now(),
        )  # fmt: skip


def test_a_tap_and_a_tap_back_is_not_kept_as_work(crew: Any) -> None:
    started(crew, datetime.timedelta(seconds=5))
    time = clock.stop(crew)
    assert time is not None and time.struck_out
    assert clock.running(crew) is None


def test_a_clock_forgotten_overnight_is_asked_about(crew: Any) -> None:
    started(crew, 15 * HOUR)
    with pytest.raises(clock.Asked, match="in one go"):
        clock.stop(crew)
    time = clock.stop(crew, "Went home and forgot it.", Decimal(180))
    assert time is not None and time.minutes == 180
    assert time.because == "Went home and forgot it."


def test_a_clock_longer_than_a_day_wants_the_real_hours(crew: Any) -> None:
    started(crew, 40 * HOUR)
    with pytest.raises(clock.Asked, match="How long was it really"):
        clock.stop(crew, "It is so.")
    with pytest.raises(clock.Refused, match="at most 40 h"):
        clock.stop(crew, "Longer", Decimal(41 * 60))
    assert clock.stop(crew, "Forgot", Decimal(60)) is not None


def test_nothing_running_stops_nothing(crew: Any) -> None:
    assert clock.stop(crew) is None


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"minutes": Decimal(0)}, "more than nothing"),
        ({"minutes": Decimal(25 * 60)}, "do not fit in a day"),
        ({"day": datetime.date(2999, 1, 1)}, "still to come"),
        ({"stage": "polishing"}, "not one we know"),
        ({"piece": None}, "is of a piece"),
    ],
)
def test_hours_that_cant_be_are_refused(
    crew: Any, change: dict[str, Any], words: str
) -> None:
    piece = make_piece()
    row: dict[str, Any] = {
        "person": crew, "job": piece.job, "piece": piece, "stage": "cutting",
        "day": timezone.localdate(), "minutes": Decimal(30), **change,
    }  # fmt: skip
    with pytest.raises(clock.Refused, match=words):
        clock.write(crew, **row)
    assert not WorkTime.objects.exists()


def test_hours_of_another_jobs_piece_are_refused(crew: Any) -> None:
    with pytest.raises(clock.Refused, match="is not of"):
        written(crew, job=make_job())


def test_overlapping_hours_are_asked_about_and_taken_with_a_reason(crew: Any) -> None:
    written(crew, begins=datetime.time(8))
    late = {"begins": datetime.time(9), "minutes": Decimal(60)}
    with pytest.raises(clock.Asked, match="It overlaps P.*08:00 to 09:30"):
        written(crew, **late)
    assert WorkTime.objects.count() == 1
    time = written(crew, **late, because="Two brakes at once.")
    assert time.because == "Two brakes at once."


def test_hours_that_only_touch_do_not_overlap(crew: Any) -> None:
    written(crew, begins=datetime.time(8))
    assert written(crew, begins=datetime.time(9, 30)).because == ""


def test_hours_over_a_running_clock_are_asked_about(crew: Any) -> None:
    started(crew, 3 * HOUR)
    began = timezone.localtime() - 2 * HOUR
    with pytest.raises(clock.Asked, match="still running"):
        written(
            crew, day=began.date(), begins=began.time().replace(microsecond=0),
            minutes=Decimal(30),
        )  # fmt: skip


def test_another_persons_hours_do_not_overlap_mine(crew: Any, office: Any) -> None:
    written(crew, begins=datetime.time(8))
    assert written(office, begins=datetime.time(8)).because == ""


def test_a_long_day_is_asked_about_and_one_of_25_hours_refused(crew: Any) -> None:
    written(crew, minutes=Decimal(540))
    with pytest.raises(clock.Asked, match="has 16 h 0 min on"):
        written(crew, minutes=Decimal(420))
    written(crew, minutes=Decimal(420), because="Storm damage.")
    with pytest.raises(clock.Refused, match="A day has 24"):
        written(crew, minutes=Decimal(540), because="So it was.")


def test_struck_out_hours_stay_and_no_longer_count(crew: Any) -> None:
    time = written(crew, begins=datetime.time(8))
    with pytest.raises(clock.Refused, match="Reason"):
        clock.strike(time, crew, " ")
    clock.strike(time, crew, "Wrong day.")
    assert WorkTime.objects.get().struck_because == "Wrong day."
    assert written(crew, begins=datetime.time(8)).because == ""
    with pytest.raises(clock.Refused, match="already"):
        clock.strike(time, crew, "Again.")


def test_without_a_price_hours_are_kept_and_priced_later(
    crew: Any, owner: Any, opened: None
) -> None:
    time = written(crew)
    assert time.amount is None
    price_all(owner)
    clock.price_unpriced(time.job)
    time.refresh_from_db()
    assert time.amount == 90


def test_a_closed_job_starts_no_clock_but_takes_late_hours(crew: Any) -> None:
    piece = make_piece()
    booking.close(piece.job, crew, "done", "")
    piece.job.refresh_from_db()
    with pytest.raises(clock.Refused, match="Open it again"):
        clock.start(crew, job=piece.job, piece=piece, stage="cutting")
    written(crew, piece)
    assert piece.job.account.minutes == 90


# --- pages -------------------------------------------------------------------------


def test_one_tap_starts_and_one_stops(crew_client: Any, crew: Any) -> None:
    piece = make_piece(mark="SL", state="laid_out")
    sent = {"stage": "cutting", "key": "k", "back_to": "today"}
    assert crew_client.post(f"/pieces/{piece.pk}/clock/", sent).url == "/today/"
    page = crew_client.get("/today/").content.decode()
    assert "The clock runs." in page and "SL, marking out and cutting" in page
    WorkTime.objects.update(began_at=timezone.now() - HOUR)
    assert crew_client.post("/clock/stop/", {"back_to": "piece"}).status_code == 302
    assert WorkTime.objects.get().minutes


def test_the_piece_page_offers_the_stage_it_is_at(crew_client: Any) -> None:
    piece = make_piece(state="cut")
    page = crew_client.get(f"/pieces/{piece.pk}/").content.decode()
    assert "Start the clock: bending" in page


def test_the_pages_ask_and_take_the_answer(crew_client: Any, crew: Any) -> None:
    started(crew, 15 * HOUR)
    piece = make_piece()
    asked = crew_client.post(f"/pieces/{piece.pk}/clock/", {"stage": "cutting"})
    assert (
        asked.status_code == 422
        and "Stop that and start this" in asked.content.decode()
    )
    stop = crew_client.post("/clock/stop/", {})
    assert stop.status_code == 422 and "in one go" in stop.content.decode()
    sent = {"worked": "2:00", "because": "Forgot it."}
    assert crew_client.post("/clock/stop/", sent).status_code == 302
    assert WorkTime.objects.get(because="Forgot it.").minutes == 120


def test_hours_are_written_later_on_the_jobs_page(
    crew_client: Any, crew: Any, office: Any
) -> None:
    piece = make_piece()
    day = (timezone.localdate() - datetime.timedelta(days=1)).isoformat()
    sent = {
        "person": crew.pk, "stage": "bending", "piece": piece.pk, "day": day,
        "minutes": "1:30", "begins": "07:30", "key": "k",
    }  # fmt: skip
    address = f"/jobs/{piece.job_id}/hours/"
    for _ in range(2):
        assert crew_client.post(address, sent).status_code == 302
    assert WorkTime.objects.get().minutes == 90
    sent |= {"key": "k2", "begins": "08:00"}
    asked = crew_client.post(address, sent)
    assert asked.status_code == 422
    page = asked.content.decode()
    assert (
        "It overlaps" in page and "Say why it is so" in page and 'value="1:30"' in page
    )
    sent["because"] = "Two at once."
    assert crew_client.post(address, sent).status_code == 302
    sent |= {"person": office.pk, "key": "k3"}
    assert crew_client.post(address, sent).status_code == 422


def test_the_crew_sees_hours_and_no_money(
    crew_client: Any, office_client: Any, crew: Any, owner: Any, opened: None
) -> None:
    price_all(owner)
    time = written(crew)
    address = f"/jobs/{time.job_id}/hours/"
    assert "90.00" not in crew_client.get(address).content.decode()
    assert "90.00\u00a0USD" in office_client.get(address).content.decode()


def test_hours_are_struck_out_by_whose_they_are(
    crew_client: Any, crew: Any, office: Any
) -> None:
    mine, other = written(crew), written(office)
    crew_client.post(f"/hours/{mine.pk}/strike/", {"reason": "Wrong piece."})
    mine.refresh_from_db()
    assert mine.struck_out
    answer = crew_client.post(f"/hours/{other.pk}/strike/", {"reason": "Not mine."})
    assert answer.status_code == 404


def test_strangers_have_no_clock(stranger_client: Any) -> None:
    piece = make_piece()
    for address in (f"/pieces/{piece.pk}/clock/", "/clock/stop/"):
        answer = stranger_client.post(address, {"stage": "cutting"})
        assert answer.status_code == 302 and "sign-in" in answer.url
