"""Quotes of a job: kept with every line, offered, then accepted, refused or lapsed.

Each step is an event that stays; it names no sum, for everybody reads the log. A newer
quote replaces those before it that are still open; an accepted one stands.
"""

from __future__ import annotations

import datetime
from typing import Any

from django.db import IntegrityError, transaction
from django.db.models import Max
from django.utils import timezone

from jobs import log
from jobs.costing import Asked, Reckoning
from jobs.models import Event, Job, Quote, QuoteLine
from jobs.models.quotes import QuoteQuerySet
from jobs.refused import Refused
from shop.models import Person, ShopProfile

Part = QuoteLine.Part
State = Quote.State
_TRIES = 5


def keep(
    job: Job,
    by: Person,
    made: Reckoning,
    *,
    asked: Asked,
    prices_on: datetime.date,
    layout_number: int | None,
    key: str | None = None,
) -> Quote:
    """Keeps a reckoning as the job's next quote. The same key gives the one kept.

    Raises Refused for a job that is not open.
    """
    if key and (earlier := Quote.objects.filter(key=key).first()):
        return earlier
    if not job.is_open():
        raise Refused(f"{job} is {job.get_state_display()}. Open it again first.")
    for _ in range(_TRIES):
        try:
            with transaction.atomic():
                return _kept(job, by, made, asked, prices_on, layout_number, key)
        except IntegrityError as error:
            if key and (earlier := Quote.objects.filter(key=key).first()):
                return earlier
            if "number" not in str(error):
                raise
    raise RuntimeError("no free quote number after several tries")


def _kept(
    job: Job,
    by: Person,
    made: Reckoning,
    asked: Asked,
    prices_on: datetime.date,
    layout_number: int | None,
    key: str | None,
) -> Quote:
    last = job.quotes.aggregate(last=Max("number"))["last"] or 0
    tax = made.sum(Part.TAX)
    days = ShopProfile.current().quote_days
    quote = Quote.objects.create(
        job=job,
        number=last + 1,
        layout_number=layout_number,
        currency=made.currency,
        prices_on=prices_on,
        valid_until=timezone.localdate() + datetime.timedelta(days=days),
        asked=as_json(asked),
        metal=made.sum(Part.METAL),
        labour=made.sum(Part.LABOUR),
        other=made.sum(Part.TRAVEL, Part.CONSUMABLES, Part.EXTRA),
        overhead=made.sum(Part.OVERHEAD),
        margin=made.sum(Part.MARGIN),
        net=made.net,
        tax=tax,
        total=made.net + tax,
        minutes=made.minutes,
        made_by=by,
        key=key,
    )
    for line in made.lines:
        line.quote = quote
    QuoteLine.objects.bulk_create(made.lines)
    log.write(
        job,
        "drew up a quote",
        by,
        about=_name(quote),
        reason=f"Prices of {prices_on:%a} {prices_on.day} {prices_on:%b %Y}",
    )
    return quote


def as_json(asked: Asked) -> dict[str, Any]:
    return {
        "visits": asked.visits,
        "people": asked.people,
        "setting_up": None if asked.setting_up is None else str(asked.setting_up),
        "extras": [[extra.words, str(extra.amount)] for extra in asked.extras],
    }


def offer(quote: Quote, by: Person) -> Quote:
    """The client has it now. Those of the job before it that are open are replaced.

    Raises Refused for one whose last day is past, or that can't become so.
    """
    with transaction.atomic():
        locked = _locked(quote)
        if locked.state == State.OFFERED:
            return locked
        if locked.is_past(timezone.localdate()):
            raise Refused(f"{_held(locked)}. Draw up a new one.")
        earlier = Quote.objects.select_for_update().filter(
            job=quote.job,
            number__lt=quote.number,
            state__in=(State.DRAWN_UP, State.OFFERED, State.LAPSED),
        )
        for old in earlier:
            _move(old, by, State.REPLACED, f"By quote {quote.number}")
        return _move(locked, by, State.OFFERED)


def settle(
    quote: Quote, by: Person, state: str, whose_word: str, on: datetime.date,
    reason: str = "", key: str | None = None,
) -> Quote:  # fmt: skip
    """Accepted or refused, by the word of somebody on the client's side.

    The same key again changes nothing and gives the quote as it is.
    Raises Refused where nobody is named, the day is still to come, or the quote
    can't become so.
    """
    whose_word = " ".join(whose_word.split())
    if not whose_word:
        raise Refused(
            "Whose word: name the person who accepted or refused.", "whose_word"
        )
    if on > timezone.localdate():
        raise Refused("On which day: that day is still to come.", "on")
    with transaction.atomic():
        locked = _locked(quote)
        if key and _done_before(locked, state, key):
            return locked
        other = locked.job.quotes.accepted().exclude(pk=locked.pk).first()
        if state == State.ACCEPTED and other:
            raise Refused(f"{other} is accepted already. Only one can be.")
        locked.settled_by, locked.settled_on = whose_word, on
        words = f"Word of {whose_word}"
        words = f"{words}. {reason}" if reason else words
        return _move(locked, by, state, words, key)


def lapse(
    by: Person | None, day: datetime.date, among: QuoteQuerySet | None = None
) -> int:
    """Marks what was offered and is no longer held on a day; gives how many.

    by: who marks them; None where the day alone does
    among: of these quotes only
    """
    past = (Quote.objects.all() if among is None else among).past(day)
    if not past.exists():  # asked every few seconds: no lock where there is nothing
        return 0
    with transaction.atomic():
        # Who comes second waits here, and then finds them lapsed already.
        quotes = list(past.select_for_update(of=("self",)).select_related("job"))
        for quote in quotes:
            _move(quote, by, State.LAPSED, _held(quote))
        return len(quotes)


def _held(quote: Quote) -> str:
    until = quote.valid_until
    return f"It held until {until:%a} {until.day} {until:%b %Y}"


def _locked(quote: Quote) -> Quote:
    return (
        Quote.objects.select_for_update(of=("self",))
        .select_related("job")
        .get(pk=quote.pk)
    )


def _done_before(quote: Quote, state: str, key: str) -> bool:
    """Whether this key settled this quote so. Raises Refused if it did other things."""
    event = Event.objects.filter(key=key).first()
    if event is None:
        return False
    if (event.job_id, event.about, event.after) != (quote.job_id, _name(quote), state):
        raise Refused(
            f"{event.about}: this key was used before, for something else "
            f"({event.what}). Send a new key with a new act."
        )
    return True


def _name(quote: Quote) -> str:
    return f"Quote {quote.number}"


def _move(
    quote: Quote,
    by: Person | None,
    state: str,
    reason: str = "",
    key: str | None = None,
) -> Quote:
    if not quote.can_become(state):
        raise Refused(
            f"{_name(quote)} is {quote.get_state_display()}. "
            f"It can't become {State(state).label}."
        )
    before, quote.state = quote.state, state
    quote.save(update_fields=["state", "settled_by", "settled_on"])
    log.write(
        quote.job,
        f"quote {State(state).label}",
        by,
        about=_name(quote),
        before=before,
        after=state,
        reason=reason,
        key=key,
    )
    return quote
