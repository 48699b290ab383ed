from __future__ import annotations

import datetime
from decimal import Decimal
from typing import Any

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.urls import reverse
from django.utils import timezone

from jobs.models.jobs import Job
from shop.models import Price, StandardHours

HALF_STEP = Decimal("0.00005")


def sum_field(**options: Any) -> models.DecimalField[Any, Any]:
    """Money in the shop's currency, kept with four decimals, rounded when written."""
    return models.DecimalField(max_digits=14, decimal_places=4, **options)


class QuoteQuerySet(models.QuerySet["Quote"]):
    def newest_first(self) -> QuoteQuerySet:
        return self.order_by("-number")

    def accepted(self) -> QuoteQuerySet:
        return self.filter(state=Quote.State.ACCEPTED)

    def past(self, day: datetime.date) -> QuoteQuerySet:
        """Offered, and no longer held on that day."""
        return self.filter(state=Quote.State.OFFERED, valid_until__lt=day)


class Quote(models.Model):
    """One reckoning of a job and what is asked for it. A new one is added, the figures
    of none are changed."""

    class State(models.TextChoices):
        DRAWN_UP = "drawn_up", "drawn up"
        OFFERED = "offered", "offered"
        ACCEPTED = "accepted", "accepted"
        REFUSED = "refused", "refused"
        LAPSED = "lapsed", "lapsed"
        REPLACED = "replaced", "replaced"

    NEXT = {
        State.DRAWN_UP: (State.OFFERED, State.REPLACED),
        State.OFFERED: (State.ACCEPTED, State.REFUSED, State.LAPSED, State.REPLACED),
        # A word given in time may be written down late.
        State.LAPSED: (State.ACCEPTED, State.REFUSED, State.REPLACED),
    }

    job = models.ForeignKey(Job, models.PROTECT, related_name="quotes")
    number = models.PositiveSmallIntegerField(help_text="1, 2, ... within the job.")
    state = models.CharField(
        max_length=8, choices=State.choices, default=State.DRAWN_UP
    )
    layout_number = models.PositiveIntegerField(
        null=True, help_text="Of the layout it was reckoned from."
    )
    currency = models.CharField(max_length=3)
    prices_on = models.DateField(help_text="The day whose prices were used.")
    valid_until = models.DateField()
    asked = models.JSONField(
        default=dict, help_text="What was given by hand: visits, waste, extras."
    )
    metal = sum_field()
    labour = sum_field()
    other = sum_field(help_text="Travel, consumables and extras.")
    overhead = sum_field()
    margin = sum_field()
    net = sum_field(help_text="The price before tax.")
    tax = sum_field()
    total = sum_field()
    minutes = models.DecimalField(max_digits=9, decimal_places=1)
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="quotes_made"
    )
    made_at = models.DateTimeField(default=timezone.now)
    settled_on = models.DateField(null=True, blank=True)
    settled_by = models.CharField(
        max_length=120, blank=True, help_text="Whose word it is."
    )
    key = models.CharField(max_length=120, null=True, blank=True, unique=True)

    objects = QuoteQuerySet.as_manager()

    class Meta:
        ordering = ["-number"]
        indexes = [
            models.Index(
                fields=["valid_until"],
                condition=Q(state="offered"),
                name="quotes_offered_by_day",
            )
        ]
        constraints = [
            models.UniqueConstraint(
                fields=["job", "number"], name="quote_numbered_once_in_a_job"
            ),
            models.UniqueConstraint(
                fields=["job"],
                condition=Q(state="accepted"),
                name="quote_one_accepted_in_a_job",
            ),
            models.CheckConstraint(
                # The embedded database reckons in floats: to half a step.
                condition=Q(
                    total__gt=F("net") + F("tax") - HALF_STEP,
                    total__lt=F("net") + F("tax") + HALF_STEP,
                ),
                name="quote_adds_up",
            ),
        ]

    def __str__(self) -> str:
        return f"Quote {self.number} of {self.job}"

    def get_absolute_url(self) -> str:
        return reverse("jobs:quote", args=[self.pk])

    def can_become(self, state: str) -> bool:
        return state in self.NEXT.get(self.State(self.state), ())

    def is_past(self, day: datetime.date) -> bool:
        """Whether it is no longer held on that day."""
        return self.valid_until < day

    def costs(self) -> Decimal:
        """What the job should cost the shop, without overhead and margin."""
        return self.metal + self.labour + self.other


class QuoteLine(models.Model):
    """One figure of a quote, with where it comes from."""

    class Part(models.TextChoices):
        METAL = "metal", "metal"
        LABOUR = "labour", "labour"
        TRAVEL = "travel", "travel"
        CONSUMABLES = "consumables", "consumables"
        EXTRA = "extra", "extra"
        OVERHEAD = "overhead", "overhead"
        MARGIN = "margin", "margin"
        TAX = "tax", "tax"

    quote = models.ForeignKey(Quote, models.PROTECT, related_name="lines")
    position = models.PositiveSmallIntegerField()
    part = models.CharField(max_length=11, choices=Part.choices)
    mark = models.CharField(max_length=20, blank=True)
    family = models.SlugField(max_length=40, blank=True)
    stage = models.CharField(max_length=12, blank=True)
    pieces = models.PositiveIntegerField(default=0)
    words = models.CharField(max_length=200)
    quantity = models.DecimalField(max_digits=14, decimal_places=4)
    unit = models.CharField(max_length=10)
    unit_price = models.DecimalField(
        max_digits=14, decimal_places=4, help_text="Of one; of an hour for minutes."
    )
    amount = sum_field()
    price = models.ForeignKey(Price, models.PROTECT, null=True, related_name="+")
    standard = models.ForeignKey(
        StandardHours, models.PROTECT, null=True, related_name="+"
    )
    source = models.TextField(help_text="How the quantity came about.")

    class Meta:
        ordering = ["quote", "position"]
        constraints = [
            models.UniqueConstraint(
                fields=["quote", "position"], name="quote_line_has_its_place"
            )
        ]

    def __str__(self) -> str:
        return self.words
