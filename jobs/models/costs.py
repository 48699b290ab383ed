from __future__ import annotations

from typing import Any

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.utils import timezone

from jobs.models.events import EventsStay
from jobs.models.jobs import Job
from jobs.models.pieces import Piece
from jobs.models.quotes import sum_field


class CostQuerySet(models.QuerySet["Cost"]):
    def standing(self) -> CostQuerySet:
        """Those that count: neither taken back nor a taking back."""
        return self.filter(takes_back__isnull=True, taken_back__isnull=True)

    def with_names(self) -> CostQuerySet:
        return self.select_related("by", "piece", "takes_back", "taken_back").order_by(
            "on_day", "pk"
        )


class Cost(models.Model):
    """Money a job took, beside the hours of the clock. Only added; a wrong one is taken
    back by another."""

    class Part(models.TextChoices):
        METAL = "metal", "metal"
        TRAVEL = "travel", "travel"
        CONSUMABLES = "consumables", "consumables"
        HIRE = "hire", "hire: scaffold, lift, tools"
        BOUGHT_IN = "bought_in", "work bought in"
        OTHER = "other", "something else"

    job = models.ForeignKey(Job, models.PROTECT, related_name="costs")
    piece = models.ForeignKey(
        Piece, models.PROTECT, null=True, blank=True, related_name="costs"
    )
    part = models.CharField("what for", max_length=11, choices=Part.choices)
    words = models.CharField("what it was", max_length=200)
    amount = sum_field(help_text="Before tax, in the shop's currency.")
    on_day = models.DateField("on which day")
    from_rack = models.CharField(
        max_length=60, blank=True, help_text="What it was taken from, such as R12."
    )
    takes_back = models.OneToOneField(
        "self", models.PROTECT, null=True, blank=True, related_name="taken_back"
    )
    reason = models.TextField(blank=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="costs_written"
    )
    at = models.DateTimeField(default=timezone.now)
    key = models.CharField(max_length=120, null=True, blank=True, unique=True)

    objects = CostQuerySet.as_manager()

    class Meta:
        ordering = ["on_day", "pk"]
        indexes = [models.Index(fields=["job", "on_day"], name="costs_by_job")]
        constraints = [
            models.CheckConstraint(condition=~Q(words=""), name="cost_says_what"),
            models.CheckConstraint(
                condition=Q(takes_back__isnull=True, amount__gte=0)
                | Q(takes_back__isnull=False, amount__lte=0) & ~Q(reason=""),
                name="cost_below_nought_takes_another_back",
            ),
            models.CheckConstraint(
                condition=Q(takes_back__isnull=True) | ~Q(takes_back=F("id")),
                name="cost_does_not_take_itself_back",
            ),
        ]

    def __str__(self) -> str:
        return self.words

    def taken_back_by(self, key: str) -> Cost | None:
        """The row that took it back under that key."""
        return Cost.objects.filter(takes_back=self, key=key).first()

    def save(self, *args: Any, **kwargs: Any) -> None:
        if not self._state.adding:
            raise EventsStay
        super().save(*args, **kwargs)

    def delete(self, *args: Any, **kwargs: Any) -> tuple[int, dict[str, int]]:
        raise EventsStay
