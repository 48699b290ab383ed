from __future__ import annotations

import json
from typing import Any

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.urls import reverse
from django.utils import timezone

from jobs.models import Job, Piece
from shop.units import Unit


class LayoutQuerySet(models.QuerySet["Layout"]):
    def of(self, job: Job) -> LayoutQuerySet:
        return self.filter(job=job)

    def newest_first(self) -> LayoutQuerySet:
        return self.order_by("-number")

    def done(self) -> LayoutQuerySet:
        return self.filter(state=Layout.State.DONE)

    def judged(self) -> LayoutQuerySet:
        """Laid out or refused: asking again with the same brief gives the same."""
        return self.exclude(state=Layout.State.FAILED)


class Layout(models.Model):
    """One dated laying out of a job. A new one is added, none is changed."""

    class State(models.TextChoices):
        DONE = "done", "laid out"
        REFUSED = "refused", "refused"
        FAILED = "failed", "failed"

    job = models.ForeignKey(Job, models.PROTECT, related_name="layouts")
    number = models.PositiveIntegerField(help_text="1, 2, ... within the job.")
    state = models.CharField(max_length=8, choices=State.choices)
    digest = models.CharField(
        max_length=64, help_text="SHA-256 of all that was handed to the layout."
    )
    record = models.JSONField(help_text="The site record, as the sheet said it.")
    frame = models.TextField(
        blank=True,
        help_text="The stored set without its pieces, as JSON text: a database would "
        "sort its keys. Empty where there is no set.",
    )
    findings = models.JSONField(default=list, blank=True)
    reason = models.TextField(
        blank=True, help_text="Why it was refused or failed, a line each."
    )
    asked_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="layouts_asked"
    )
    made_at = models.DateTimeField(default=timezone.now)

    objects = LayoutQuerySet.as_manager()

    class Meta:
        ordering = ["-number"]
        constraints = [
            models.UniqueConstraint(
                fields=["job", "number"], name="layout_numbered_once_in_a_job"
            ),
            models.CheckConstraint(
                condition=Q(state="done", reason="")
                | (Q(state__in=["refused", "failed"]) & ~Q(reason="")),
                name="layout_not_done_says_why",
            ),
        ]

    def __str__(self) -> str:
        return f"Layout {self.number} of {self.job}"

    def get_absolute_url(self) -> str:
        return reverse("layout:layout", args=[self.pk])

    @property
    def unit(self) -> Unit:
        """What its lengths are shown in: of several places, as the first was taped."""
        several = self.record.get("several") or [self.record]
        first = next(record for record in several if record)
        return "mm" if first.get("units") == "mm" else "in"

    def is_done(self) -> bool:
        return self.state == self.State.DONE

    def set_without_pieces(self) -> dict[str, Any]:
        """Empty where there is no set."""
        found: dict[str, Any] = json.loads(self.frame) if self.frame else {}
        return found

    def reasons(self) -> list[str]:
        return self.reason.splitlines()

    def pressing(self) -> list[dict[str, Any]]:
        """Findings that somebody should act on: blocking ones and warnings."""
        return [found for found in self.findings if found["level"] != "note"]

    def notes(self) -> list[dict[str, Any]]:
        return [found for found in self.findings if found["level"] == "note"]


class LaidPieceQuerySet(models.QuerySet["LaidPiece"]):
    def to_cut(self) -> LaidPieceQuerySet:
        """Without those that were cut from an earlier layout."""
        return self.filter(kept=False)

    def light(self) -> LaidPieceQuerySet:
        """Without the patterns, which are large."""
        return self.defer("pattern")

    def of(self, piece: Piece) -> LaidPiece | None:
        """What a piece is made from: the last one laid out for it."""
        return (
            self.filter(pieces=piece)
            .select_related("layout__job")
            .order_by("layout__number")
            .last()
        )


class LaidPiece(models.Model):
    """One piece of a layout, with all that its drawings need."""

    layout = models.ForeignKey(Layout, models.PROTECT, related_name="laid_pieces")
    position = models.PositiveSmallIntegerField(help_text="Its place in the set.")
    mark = models.CharField(max_length=20)
    family = models.SlugField(max_length=40)
    title = models.CharField(max_length=120)
    hand = models.CharField(max_length=5, choices=Piece.Hand.choices, blank=True)
    quantity = models.PositiveSmallIntegerField()
    metal = models.CharField(max_length=60)
    width_mm = models.FloatField(help_text="Of the blank, along the datum edge.")
    length_mm = models.FloatField(help_text="Of the blank, away from it.")
    weight_kg = models.FloatField(help_text="Of one piece.")
    pattern = models.JSONField(help_text="The piece as the core gave it.")
    pieces = models.ManyToManyField(
        Piece,
        related_name="laid_pieces",
        blank=True,
        help_text="The pieces made from it; a remake is made from the same one.",
    )
    kept = models.BooleanField(
        default=False,
        help_text="The piece under this mark was cut before, from an earlier layout.",
    )
    differs = models.BooleanField(
        default=False, help_text="What was cut is not what this layout asks for."
    )

    objects = LaidPieceQuerySet.as_manager()

    class Meta:
        ordering = ["layout", "position"]
        constraints = [
            models.UniqueConstraint(
                fields=["layout", "mark"], name="laid_piece_mark_once_in_a_layout"
            ),
            models.CheckConstraint(
                condition=Q(quantity__gt=0), name="laid_piece_quantity_positive"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.mark} of {self.layout}"

    def get_absolute_url(self) -> str:
        return reverse("layout:laid", args=[self.pk])

    def family_words(self) -> str:
        return self.family.replace("_", " ")

    def weight_in_all(self) -> float:
        return self.weight_kg * self.quantity

    def folds(self) -> int:
        return len(self.pattern["folds"])

    def proof(self) -> dict[str, Any]:
        proof: dict[str, Any] = self.pattern["proof"]
        return proof

    def worst_mm(self) -> float:
        """The largest distance by which the folded piece misses its place."""
        figures = self.proof()
        return max(figures[name] for name in ("closure", "seat", "overlap", "meeting"))
