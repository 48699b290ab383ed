from __future__ import annotations

from decimal import Decimal
from typing import NamedTuple

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q
from django.urls import reverse
from django.utils import timezone

from jobs.models import Job, Piece
from layout.models.layouts import LaidPiece
from shop.models import Errand, Metal, RackItem, Stock

SHORTEST, LONGEST = 2, 60  # seconds a plan may take


class ShownCut(NamedTuple):
    """One straight cut. Lengths in mm in the frame of the stock.

    tool: shear, slitter, or snips for the slanted cut of a pair head to tail
    gauge: from the edge of the part that is cut, to the cut
    across: it runs across the rolling direction
    blanks, offcuts: positions of those that come free with it
    """

    order: int
    tool: str
    across: bool
    gauge: float
    line: list[list[float]]
    part: list[float]
    blanks: list[int]
    offcuts: list[int]


class CutPlanQuerySet(models.QuerySet["CutPlan"]):
    def newest_first(self) -> CutPlanQuerySet:
        return self.select_related("metal", "asked_by", "errand").order_by("-number")

    def of(self, job: Job) -> CutPlanQuerySet:
        return self.filter(jobs=job)

    def running(self) -> CutPlanQuerySet:
        return self.filter(state__in=CutPlan.RUNNING)

    def living(self) -> CutPlanQuerySet:
        return self.exclude(state__in=CutPlan.ENDED)


class CutPlan(models.Model):
    """Which blanks come out of which stock, for jobs of one metal."""

    class State(models.TextChoices):
        ASKED = "asked", "waiting"
        PLANNING = "planning", "being planned"
        READY = "ready", "ready"
        ACCEPTED = "accepted", "accepted"
        DONE = "done", "all cut"
        REFUSED = "refused", "refused"
        FAILED = "failed", "failed"
        DROPPED = "dropped", "set aside"

    RUNNING = (State.ASKED, State.PLANNING)
    ENDED = (State.DONE, State.REFUSED, State.FAILED, State.DROPPED)

    number = models.PositiveIntegerField(unique=True, help_text="Runs on in the shop.")
    metal = models.ForeignKey(Metal, models.PROTECT, related_name="cut_plans")
    finish = models.CharField(max_length=60, blank=True)
    jobs = models.ManyToManyField(Job, related_name="cut_plans")
    state = models.CharField(max_length=8, choices=State.choices, default=State.ASKED)
    seconds = models.PositiveSmallIntegerField(
        validators=[MinValueValidator(SHORTEST), MaxValueValidator(LONGEST)],
        help_text="How long the search may take.",
    )
    seed = models.PositiveIntegerField(default=1)
    stop_asked = models.BooleanField(default=False)
    terms = models.JSONField(
        help_text="The shop's standards it was planned by: smallest offcut, its worth,"
        " trim, whether blanks may be turned."
    )
    figures = models.JSONField(default=dict, blank=True)
    found = models.PositiveIntegerField(
        default=0, help_text="How many plans were found, each better than the last."
    )
    reason = models.TextField(blank=True, help_text="Why there is none.")
    after = models.ForeignKey(
        "self",
        models.PROTECT,
        null=True,
        blank=True,
        related_name="replanned_as",
        help_text="The plan whose rest this one plans again.",
    )
    errand = models.OneToOneField(
        Errand, models.PROTECT, null=True, blank=True, related_name="cut_plan"
    )
    asked_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="cut_plans_asked"
    )
    asked_at = models.DateTimeField(default=timezone.now)
    key = models.CharField(max_length=120, null=True, blank=True, unique=True)

    objects = CutPlanQuerySet.as_manager()

    class Meta:
        ordering = ["-number"]
        constraints = [
            models.CheckConstraint(
                condition=Q(seconds__gte=SHORTEST, seconds__lte=LONGEST),
                name="cut_plan_time_in_bounds",
            ),
            models.CheckConstraint(
                condition=~Q(state__in=["refused", "failed"]) | ~Q(reason=""),
                name="cut_plan_not_made_says_why",
            ),
        ]

    def __str__(self) -> str:
        return f"Plan {self.number}"

    def get_absolute_url(self) -> str:
        return reverse("layout:plan", args=[self.pk])

    @property
    def holder(self) -> str:
        """The name under which the rack keeps its reservations."""
        return f"plan:{self.pk}"

    def standing(self) -> str:
        """Its state; failed too where its errand was given up."""
        gave_up = (
            self.state in self.RUNNING
            and self.errand is not None
            and self.errand.state == Errand.State.FAILED
        )
        return self.State.FAILED if gave_up else self.state

    def standing_words(self) -> str:
        return self.State(self.standing()).label

    def why(self) -> list[str]:
        words = self.reason
        if not words and self.standing() == self.State.FAILED and self.errand:
            words = self.errand.reason
        return words.splitlines()

    def is_running(self) -> bool:
        return self.standing() in self.RUNNING

    def is_ready(self) -> bool:
        return self.state == self.State.READY

    def is_accepted(self) -> bool:
        return self.state == self.State.ACCEPTED

    def has_plan(self) -> bool:
        return self.found > 0


class PlanStockQuerySet(models.QuerySet["PlanStock"]):
    def whole(self) -> PlanStockQuerySet:
        """With all that a drawing and the bench need."""
        return self.select_related("item", "buy").prefetch_related(
            "blanks__laid", "blanks__piece__job", "offcuts__item"
        )


class PlanStock(models.Model):
    """One sheet, offcut or length of coil of a plan, with the cuts that part it."""

    plan = models.ForeignKey(CutPlan, models.CASCADE, related_name="stocks")
    position = models.PositiveSmallIntegerField()
    item = models.ForeignKey(
        RackItem,
        models.PROTECT,
        null=True,
        blank=True,
        related_name="planned",
        help_text="Empty: it must be ordered.",
    )
    buy = models.ForeignKey(
        Stock,
        models.SET_NULL,
        null=True,
        blank=True,
        related_name="planned",
        help_text="What is ordered for it.",
    )
    form = models.CharField(max_length=6, choices=RackItem.Form.choices)
    width_mm = models.FloatField()
    length_mm = models.FloatField(help_text="Of a coil, the length cut off.")
    outline = models.JSONField(null=True, blank=True)
    cuts = models.JSONField(default=list)
    cuts_done = models.PositiveSmallIntegerField(default=0)
    damaged = models.TextField(blank=True, help_text="What happened to it.")
    set_aside = models.BooleanField(
        default=False, help_text="Not cut: its blanks are planned again."
    )

    objects = PlanStockQuerySet.as_manager()

    class Meta:
        ordering = ["plan", "position"]
        constraints = [
            models.UniqueConstraint(
                fields=["plan", "position"], name="plan_stock_position_once"
            ),
            models.CheckConstraint(
                condition=Q(width_mm__gt=0, length_mm__gt=0),
                name="plan_stock_size_positive",
            ),
        ]

    def __str__(self) -> str:
        return str(self.item) if self.item else f"{self.form} to order"

    def shown_cuts(self) -> list[ShownCut]:
        return [ShownCut(**cut) for cut in self.cuts]

    def is_begun(self) -> bool:
        return self.cuts_done > 0

    def is_done(self) -> bool:
        return self.cuts_done >= len(self.cuts)

    def is_over(self) -> bool:
        return bool(self.damaged) or self.set_aside or self.is_done()

    def to_order(self) -> bool:
        return self.item_id is None and not self.is_over()

    def size(self) -> tuple[Decimal, Decimal]:
        places = Decimal("0.001")
        return tuple(  # type: ignore[return-value]
            Decimal(it).quantize(places) for it in (self.width_mm, self.length_mm)
        )


class PlannedBlank(models.Model):
    """One copy of one piece in its place on a stock."""

    stock = models.ForeignKey(PlanStock, models.CASCADE, related_name="blanks")
    position = models.PositiveSmallIntegerField()
    laid = models.ForeignKey(LaidPiece, models.PROTECT, related_name="planned_blanks")
    piece = models.ForeignKey(Piece, models.PROTECT, related_name="planned_blanks")
    copy = models.PositiveSmallIntegerField(help_text="1, 2, ... of its quantity.")
    x_mm = models.FloatField(help_text="Across the stock, from its left edge.")
    y_mm = models.FloatField(help_text="Along the stock, from its foot.")
    width_mm = models.FloatField(help_text="As it lies.")
    length_mm = models.FloatField(help_text="As it lies.")
    turn = models.PositiveSmallIntegerField(
        default=0, help_text="Quarter turns counter-clockwise from the bench frame."
    )
    live = models.BooleanField(
        default=False, help_text="Of an accepted plan, or cut from one."
    )
    cut = models.BooleanField(default=False)

    class Meta:
        ordering = ["stock", "position"]
        constraints = [
            models.UniqueConstraint(
                fields=["piece", "copy"],
                condition=Q(live=True),
                name="blank_cut_from_one_stock_only",
            ),
            models.CheckConstraint(
                condition=Q(cut=False) | Q(live=True), name="blank_cut_is_live"
            ),
        ]

    def __str__(self) -> str:
        if self.piece.quantity == 1:
            return str(self.piece)
        return f"{self.piece} {self.copy} of {self.piece.quantity}"

    def box(self) -> tuple[float, float, float, float]:
        return self.x_mm, self.y_mm, self.width_mm, self.length_mm


class KeptOffcut(models.Model):
    """What is left of a stock and worth keeping."""

    stock = models.ForeignKey(PlanStock, models.CASCADE, related_name="offcuts")
    position = models.PositiveSmallIntegerField()
    x_mm = models.FloatField()
    y_mm = models.FloatField()
    width_mm = models.FloatField()
    length_mm = models.FloatField()
    item = models.OneToOneField(
        RackItem,
        models.PROTECT,
        null=True,
        blank=True,
        related_name="kept_by",
        help_text="On the rack, once it is cut off.",
    )

    class Meta:
        ordering = ["stock", "position"]

    def __str__(self) -> str:
        return str(self.item) if self.item else "offcut to keep"


class PlanEvent(models.Model):
    """One thing that happened to a plan. Only added, never changed."""

    plan = models.ForeignKey(CutPlan, models.PROTECT, related_name="events")
    stock = models.ForeignKey(
        PlanStock, models.PROTECT, null=True, blank=True, related_name="events"
    )
    what = models.CharField(max_length=40)
    reason = models.TextField(blank=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="plan_events"
    )
    at = models.DateTimeField(default=timezone.now)
    key = models.CharField(max_length=160, null=True, blank=True, unique=True)

    class Meta:
        ordering = ["-pk"]

    def __str__(self) -> str:
        return f"{self.plan} {self.what}"
