from __future__ import annotations

from datetime import datetime

from django.db import models
from django.db.models import F, Q
from django.utils import timezone


class ErrandQuerySet(models.QuerySet["Errand"]):
    def waiting(self) -> ErrandQuerySet:
        return self.filter(state=Errand.State.QUEUED)

    def lapsed(self, now: datetime) -> ErrandQuerySet:
        """Under way, but no beat came for as long as its lease: its worker is gone."""
        return self.filter(state=Errand.State.RUNNING, lease_until__lt=now)

    def open(self) -> ErrandQuerySet:
        return self.filter(state__in=(Errand.State.QUEUED, Errand.State.RUNNING))


class Errand(models.Model):
    """One piece of slow work: asked for in a row, done once, however often rung for."""

    class State(models.TextChoices):
        QUEUED = "queued", "waiting"
        RUNNING = "running", "under way"
        DONE = "done", "done"
        FAILED = "failed", "failed"

    kind = models.CharField(max_length=40)
    payload = models.JSONField(default=dict)
    state = models.CharField(max_length=8, choices=State.choices, default=State.QUEUED)
    attempt = models.PositiveIntegerField(
        default=0,
        help_text="Counts the workers that took it up, the last one holds it.",
    )
    asked_at = models.DateTimeField(default=timezone.now)
    sent_at = models.DateTimeField(null=True, help_text="When the bell last rang.")
    heartbeat = models.DateTimeField(null=True)
    lease_until = models.DateTimeField(null=True)
    ended_at = models.DateTimeField(null=True)
    reason = models.TextField(blank=True, help_text="Why it failed, for a person.")

    objects = ErrandQuerySet.as_manager()

    class Meta:
        ordering = ["pk"]
        indexes = [
            models.Index(
                fields=["state", "sent_at"],
                condition=Q(state__in=["queued", "running"]),
                name="errands_open",
            )
        ]
        constraints = [
            models.CheckConstraint(
                condition=~Q(state="failed") | ~Q(reason=""), name="errand_failed_why"
            ),
            models.CheckConstraint(
                condition=~Q(state="running")
                | Q(lease_until__isnull=False, lease_until__gte=F("heartbeat")),
                name="errand_running_is_leased",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.pk}"
