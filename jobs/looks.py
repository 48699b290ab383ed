"""What the client's house demands: asked, then agreed or waived by their word."""

from __future__ import annotations

import datetime
from decimal import Decimal

from django.db import transaction

from jobs import log
from jobs.models import Job, LooksRule
from shop.models import Person


def ask(
    job: Job,
    by: Person,
    *,
    kind: str,
    words: str,
    who_asked: str,
    number_mm: Decimal | None = None,
) -> LooksRule:
    """Adds a rule to a job. It binds until it is waived."""
    with transaction.atomic():
        rule = LooksRule.objects.create(
            job=job, kind=kind, words=words, who_asked=who_asked, number_mm=number_mm
        )
        log.write(
            job,
            "asked for a look",
            by,
            about=rule.get_kind_display(),
            after=words,
            reason=f"Asked by {who_asked}",
        )
        return rule


def settle(
    rule: LooksRule, by: Person, standing: str, whose_word: str, on: datetime.date
) -> LooksRule:
    """Writes down the client's word: agreed or waived, whose word it is and the day.

    Raises ValueError if nobody is named, or the standing is already so.
    """
    whose_word = " ".join(whose_word.split())
    if not whose_word:
        raise ValueError("Whose word: name the person who agreed or waived.")
    if standing not in (LooksRule.Standing.AGREED, LooksRule.Standing.WAIVED):
        raise ValueError("Standing: a rule is either agreed or waived.")
    with transaction.atomic():
        now = LooksRule.objects.select_for_update(of=("self",)).get(pk=rule.pk)
        if now.standing == standing:
            raise ValueError(
                f"This rule is {standing} already, by the word of {now.settled_by}."
            )
        LooksRule.objects.filter(pk=now.pk).update(
            standing=standing, settled_by=whose_word, settled_on=on
        )
        log.write(
            now.job,
            standing,
            by,
            about=now.get_kind_display(),
            before=now.standing,
            after=standing,
            reason=f"Word of {whose_word}",
        )
    return LooksRule.objects.get(pk=rule.pk)
