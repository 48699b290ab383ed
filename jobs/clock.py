"""Hours of work: started and stopped by a tap, or written later.

What can't be is refused. What is unlikely, such as two works at once or a day of
sixteen hours, is asked about: Asked carries the questions, and the same call with
`because` takes it. Each change is an event that stays.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from decimal import Decimal

from django.db import IntegrityError, transaction
from django.utils import timezone

from jobs import closing, log
from jobs.models import Job, Piece, WorkTime
from jobs.models.times import WorkTimeQuerySet
from jobs.refused import Refused
from shop.models import Person, ShopProfile
from shop.money import rounded
from shop.prices import NoPrice, PriceBook, money_begins

Stage = WorkTime.Stage

LONG = Decimal(10 * 60)  # minutes in one go
LONG_DAY = Decimal(14 * 60)
WHOLE_DAY = Decimal(24 * 60)
SHORT = Decimal("0.5")  # a tap and a tap back
FAR_BACK = datetime.timedelta(days=60)
TOO_FAR_BACK = datetime.timedelta(days=20 * 365)


class Asked(ValueError):
    """These hours are unlikely. `questions` says what is odd, a sentence each."""

    def __init__(self, questions: list[str]) -> None:
        self.questions = questions
        super().__init__(" ".join(questions))


def running(person: Person) -> WorkTime | None:
    return WorkTime.objects.running().of(person).select_related("job", "piece").first()


def start(
    by: Person,
    *,
    job: Job,
    stage: str,
    piece: Piece | None = None,
    stop_first: bool = False,
    key: str | None = None,
) -> WorkTime:
    """Starts the clock. The same key again gives what it started.

    stop_first: stop what this person has running; else that is asked about
    Raises Refused, Asked.
    """
    if key and (earlier := WorkTime.objects.filter(key=key).first()):
        return earlier
    _fits(job, stage, piece)
    now = timezone.now()
    with transaction.atomic():
        _in_turn(by)
        if key and (earlier := WorkTime.objects.filter(key=key).first()):
            return earlier  # sent twice at once: the other one came first
        other = running(by)
        if other is not None:
            if not stop_first:
                raise Asked([_still_running(other, now)])
            stop(by)
        try:
            with transaction.atomic():
                time = WorkTime.objects.create(
                    job=job,
                    piece=piece,
                    stage=stage,
                    person=by,
                    day=timezone.localdate(now),
                    began_at=now,
                    written_by=by,
                    key=key,
                )
        except IntegrityError:
            raise Asked(["Your clock was started on another screen."]) from None
        _tell(time, "started work", by)
        return time


def stop(
    by: Person, because: str = "", worked: Decimal | None = None
) -> WorkTime | None:
    """Stops what this person has running; None where nothing runs.

    A tap and a tap back within half a minute is struck out, not kept as work.
    worked: the real minutes, where the clock was forgotten
    Raises Asked for a clock that ran too long, unless it is said why; one that ran
    longer than a day wants the real minutes.
    """
    now = timezone.now()
    with transaction.atomic():
        time = _running_locked(by)
        if time is None:
            return None
        ran = time.minutes_by(now)
        if ran < SHORT:
            return _strike(time, by, "Stopped at once.")
        minutes = ran if worked is None else worked
        if not 0 < minutes <= ran:
            raise Refused(
                f"Hours: give more than nothing and at most {_told(ran)}.", "worked"
            )
        if minutes > WHOLE_DAY:
            raise Asked([_still_running(time, now), "How long was it really?"])
        questions = _odd(by, time.day, minutes, without=time)
        if worked is not None:
            questions.append("The clock ran longer.")
        if questions and not because.strip():
            raise Asked([_still_running(time, now), *questions])
        assert time.began_at is not None
        time.minutes = minutes
        time.ended_at = time.began_at + datetime.timedelta(minutes=float(minutes))
        time.because = because.strip() if questions else ""
        _price(time)
        time.save()
        _tell(time, "stopped work", by, reason=time.because)
        closing.again(time.job)
        return time


def _running_locked(person: Person) -> WorkTime | None:
    times = WorkTime.objects.running().of(person).select_for_update(of=("self",))
    return times.select_related("job", "piece", "person").first()


def write(
    by: Person,
    *,
    person: Person,
    job: Job,
    stage: str,
    day: datetime.date,
    minutes: Decimal,
    piece: Piece | None = None,
    begins: datetime.time | None = None,
    because: str = "",
    key: str | None = None,
) -> WorkTime:
    """Writes hours worked earlier. The same key again gives what it wrote.

    begins: the time of the clock, where it is known; then it may meet no other
    because: why it is so, where it was asked about
    Raises Refused, or Asked unless it is said why.
    """
    if key and (earlier := WorkTime.objects.filter(key=key).first()):
        return earlier
    _fits(job, stage, piece, late=True)
    _can_be(day, minutes)
    began_at = ended_at = None
    if begins is not None:
        zone = timezone.get_current_timezone()
        began_at = datetime.datetime.combine(day, begins, zone)
        ended_at = began_at + datetime.timedelta(minutes=float(minutes))
        if ended_at > timezone.now():
            raise Refused(
                f"Hours: from {begins:%H:%M} they end after now. Give those already"
                " worked.",
                "begins",
            )
    with transaction.atomic():
        _in_turn(person)
        if key and (earlier := WorkTime.objects.filter(key=key).first()):
            return earlier  # sent twice at once: the other one came first
        questions = _odd(person, day, minutes)
        if began_at and ended_at:
            questions += _meets(person, began_at, ended_at)
        if questions and not because.strip():
            raise Asked(questions)
        time = WorkTime(
            job=job,
            piece=piece,
            stage=stage,
            person=person,
            day=day,
            began_at=began_at,
            ended_at=ended_at,
            minutes=minutes,
            by_hand=True,
            because=because.strip() if questions else "",
            written_by=by,
            key=key,
        )
        _price(time)
        time.save()
        _tell(time, "wrote hours", by, reason=time.because)
        closing.again(job)
        return time


def strike(time: WorkTime, by: Person, reason: str) -> WorkTime:
    """Strikes hours out; they stay, and no longer count.

    Raises Refused without a reason, or where they are struck out already.
    """
    reason = " ".join(reason.split())
    if not reason:
        raise Refused(
            "Reason: say in a few words why these hours are struck out.", "reason"
        )
    with transaction.atomic():
        locked = (
            WorkTime.objects.select_for_update(of=("self",))
            .select_related("job", "piece")
            .get(pk=time.pk)
        )
        if locked.struck_out:
            raise Refused("These hours are struck out already.")
        return _strike(locked, by, reason)


def price_unpriced(job: Job) -> int:
    """Prices hours that had no price when they were worked, where there is one now.

    Gives how many were priced.
    """
    times = job.times.counting().filter(minutes__isnull=False, amount__isnull=True)
    number = 0
    with transaction.atomic():
        for time in times.select_related("person"):
            _price(time)
            if time.amount is not None:
                time.save(update_fields=["price", "amount"])
                number += 1
        closing.again(job)
    return number


# --- what is odd --------------------------------------------------------------------


def _can_be(day: datetime.date, minutes: Decimal) -> None:
    today = timezone.localdate()
    if minutes <= 0:
        raise Refused("Hours: give more than nothing.", "minutes")
    if minutes > WHOLE_DAY:
        raise Refused(f"Hours: {_told(minutes)} do not fit in a day.", "minutes")
    if day > today:
        raise Refused(
            "Day: it is still to come. Give the day on which it was worked.", "day"
        )
    if today - day > TOO_FAR_BACK:
        raise Refused(f"Day: {_day(day)} is more than 20 years back.", "day")


def _fits(job: Job, stage: str, piece: Piece | None, late: bool = False) -> None:
    if stage not in Stage.values:
        raise Refused(f"Stage: “{stage}” is not one we know.", "stage")
    if piece is None and stage in WorkTime.OF_A_PIECE:
        raise Refused(
            f"Piece: {Stage(stage).label} is of a piece. Choose which.", "piece"
        )
    if piece is not None and piece.job_id != job.pk:
        raise Refused(f"Piece: {piece} is not of {job}.", "piece")
    if not job.is_open() and not late:
        raise Refused(f"{job} is {job.get_state_display()}. Open it again first.")


def _odd(
    person: Person,
    day: datetime.date,
    minutes: Decimal,
    without: WorkTime | None = None,
) -> list[str]:
    questions = []
    if minutes > LONG:
        questions.append(f"{_told(minutes)} in one go. Is that so?")
    others = WorkTime.objects.counting().of(person).filter(day=day)
    if without is not None:
        others = others.exclude(pk=without.pk)
    in_all = sum((time.minutes or Decimal(0) for time in others), minutes)
    if in_all > WHOLE_DAY:
        raise Refused(
            f"Hours: {person} would have {_told(in_all)} on {_day(day)}. A day has 24."
            " Strike out what is wrong first."
        )
    if in_all > LONG_DAY:
        questions.append(
            f"With these {person} has {_told(in_all)} on {_day(day)}. Is that so?"
        )
    if timezone.localdate() - day > FAR_BACK:
        questions.append(f"{_day(day)} is more than 60 days back. Is that the day?")
    return questions


def _meets(
    person: Person, begins: datetime.datetime, ends: datetime.datetime
) -> list[str]:
    met = WorkTime.objects.of(person).meeting(begins, ends).with_names()
    return [f"It overlaps {_span(time)}. Did both run at once?" for time in met]


def _span(time: WorkTime) -> str:
    assert time.began_at is not None
    begins = timezone.localtime(time.began_at)
    until = (
        f" to {timezone.localtime(time.ended_at):%H:%M}"
        if time.ended_at
        else ", still running"
    )
    return f"{time}, {_day(time.day)}, {begins:%H:%M}{until}"


def _still_running(time: WorkTime, now: datetime.datetime) -> str:
    ran = _told(time.minutes_by(now))
    return f"{_span(time).removesuffix(', still running')} is running, {ran} so far."


def _told(minutes: Decimal) -> str:
    whole = int(minutes.quantize(Decimal(1)))
    return f"{whole // 60} h {whole % 60} min" if whole >= 60 else f"{whole} min"


def _day(day: datetime.date) -> str:
    return f"{day:%a} {day.day} {day:%b %Y}"


# --- rows ---------------------------------------------------------------------------


def _in_turn(person: Person) -> None:
    """Two screens of one person wait for each other."""
    Person.objects.select_for_update().get(pk=person.pk)


def _price(time: WorkTime) -> None:
    """What the time costs by the price of its day; nothing where there is none."""
    if time.minutes is None:
        return
    try:
        price = PriceBook.on(time.day).of_hour(time.person.role)
    except NoPrice:
        return
    currency = ShopProfile.current().currency
    time.price = price
    time.amount = rounded(time.minutes * price.amount / 60, currency)
    money_begins()


def _strike(time: WorkTime, by: Person, reason: str) -> WorkTime:
    time.struck_out, time.struck_because = True, reason
    time.save(update_fields=["struck_out", "struck_because"])
    _tell(time, "struck out hours", by, reason=reason)
    closing.again(time.job)
    return time


def _tell(time: WorkTime, what: str, by: Person, reason: str = "") -> None:
    about = str(time)
    if time.person_id != by.pk:
        about += f", by {time.person}"
    log.write(
        time.job,
        what,
        by,
        piece=time.piece,
        about=about,
        after=_told(time.minutes) if time.minutes is not None else "",
        reason=reason,
    )


def minutes_of(times: Iterable[WorkTime] | WorkTimeQuerySet) -> Decimal:
    return sum((time.minutes or Decimal(0) for time in times), Decimal(0))
