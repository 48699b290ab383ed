from __future__ import annotations

from typing import Any

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone

from jobs.models.jobs import Job
from jobs.models.pieces import Piece

BY_ITSELF = "Seambook"


class EventsStay(TypeError):
    """Someone tried to change or remove an event."""

    def __init__(self) -> None:
        super().__init__("Events are only added. Add another one that says what is so.")


class EventQuerySet(models.QuerySet["Event"]):
    def newest_first(self) -> EventQuerySet:
        return self.order_by("-at", "-pk")

    def with_names(self) -> EventQuerySet:
        return self.select_related("by", "piece").newest_first()

    def update(self, **kwargs: Any) -> int:
        raise EventsStay

    def delete(self) -> tuple[int, dict[str, int]]:
        raise EventsStay


class Event(models.Model):
    """One thing that happened to a job or a piece. Events are only added."""

    job = models.ForeignKey(Job, models.PROTECT, related_name="events")
    piece = models.ForeignKey(
        Piece, models.PROTECT, null=True, blank=True, related_name="events"
    )
    what = models.CharField(
        max_length=40, help_text="A verb in the past: cut, measured, waived."
    )
    about = models.CharField(max_length=200, blank=True)
    before = models.TextField(blank=True)
    after = models.TextField(blank=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        models.PROTECT,
        null=True,
        blank=True,
        related_name="events",
        help_text="Empty: nobody, it came about by itself, such as a day gone by.",
    )
    at = models.DateTimeField(default=timezone.now)
    reason = models.TextField(blank=True)
    key = models.CharField(max_length=120, null=True, blank=True, unique=True)

    objects = EventQuerySet.as_manager()

    class Meta:
        ordering = ["-at", "-pk"]
        indexes = [
            models.Index(fields=["job", "-at"], name="events_by_job"),
            models.Index(fields=["piece", "-at"], name="events_by_piece"),
            models.Index(fields=["-at", "-id"], name="events_newest_first"),
        ]
        constraints = [
            models.CheckConstraint(condition=~Q(what=""), name="event_says_what"),
            models.CheckConstraint(
                condition=Q(key__isnull=True) | ~Q(key=""), name="event_key_not_blank"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.what} {self.about}".strip()

    def who(self) -> str:
        return str(self.by) if self.by else BY_ITSELF

    def save(self, *args: Any, **kwargs: Any) -> None:
        if not self._state.adding:
            raise EventsStay
        super().save(*args, **kwargs)

    def delete(self, *args: Any, **kwargs: Any) -> tuple[int, dict[str, int]]:
        raise EventsStay
