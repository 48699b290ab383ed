from __future__ import annotations

import datetime
from decimal import Decimal

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.utils import timezone

from jobs.models.jobs import Job
from jobs.models.pieces import Piece
from jobs.models.quotes import sum_field
from shop.hours_table import STAGE_WORDS
from shop.models import Person, Price


class WorkTimeQuerySet(models.QuerySet["WorkTime"]):
    def counting(self) -> WorkTimeQuerySet:
        """Not struck out."""
        return self.filter(struck_out=False)

    def running(self) -> WorkTimeQuerySet:
        return self.counting().filter(minutes__isnull=True)

    def of(self, person: Person) -> WorkTimeQuerySet:
        return self.filter(person=person)

    def with_names(self) -> WorkTimeQuerySet:
        return self.select_related("person", "piece", "job").order_by("-day", "-pk")

    def meeting(
        self, begins: datetime.datetime, ends: datetime.datetime
    ) -> WorkTimeQuerySet:
        """Those whose clock time shares some of the span; a running one reaches on."""
        return self.counting().filter(
            Q(ended_at__gt=begins) | Q(ended_at__isnull=True, minutes__isnull=True),
            began_at__lt=ends,
        )


class WorkTime(models.Model):
    """Time one person worked on a piece at a stage, or on a job.

    Running: it began and has no minutes yet. Written later: it may have minutes and a
    day, and no time of the clock.
    """

    class Stage(models.TextChoices):
        CUTTING = "cutting", STAGE_WORDS["cutting"]
        BENDING = "bending", STAGE_WORDS["bending"]
        INSTALLING = "installing", STAGE_WORDS["installing"]
        MEASURING = "measuring", STAGE_WORDS["measuring"]
        SETTING_UP = "setting_up", STAGE_WORDS["setting_up"]
        TRAVELLING = "travelling", STAGE_WORDS["travelling"]
        OTHER = "other", STAGE_WORDS["other"]

    OF_A_PIECE = (Stage.CUTTING, Stage.BENDING, Stage.INSTALLING)
    # What is worked at on the way to a stage.
    TOWARDS = {
        Piece.State.CUT: Stage.CUTTING,
        Piece.State.BENT: Stage.BENDING,
        Piece.State.INSTALLED: Stage.INSTALLING,
    }

    job = models.ForeignKey(Job, models.PROTECT, related_name="times")
    piece = models.ForeignKey(
        Piece, models.PROTECT, null=True, blank=True, related_name="times"
    )
    stage = models.CharField(max_length=12, choices=Stage.choices)
    person = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="times"
    )
    day = models.DateField()
    began_at = models.DateTimeField(null=True, blank=True)
    ended_at = models.DateTimeField(null=True, blank=True)
    minutes = models.DecimalField(max_digits=8, decimal_places=2, null=True, blank=True)
    by_hand = models.BooleanField(
        default=False, help_text="Written later, not by the clock."
    )
    because = models.TextField(
        blank=True, help_text="Said when it was asked about and is so all the same."
    )
    price = models.ForeignKey(
        Price, models.PROTECT, null=True, blank=True, related_name="+"
    )
    amount = sum_field(
        null=True, blank=True, help_text="Empty while it runs, or an hour has no price."
    )
    struck_out = models.BooleanField(default=False)
    struck_because = models.TextField(blank=True)
    written_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="times_written"
    )
    written_at = models.DateTimeField(default=timezone.now)
    key = models.CharField(max_length=120, null=True, blank=True, unique=True)

    objects = WorkTimeQuerySet.as_manager()

    class Meta:
        ordering = ["-day", "-pk"]
        indexes = [
            models.Index(fields=["job", "day"], name="times_by_job"),
            models.Index(fields=["person", "day"], name="times_by_person"),
            models.Index(fields=["day"], name="times_by_day"),
            # What the books ask of people: each piece's hours lie together.
            models.Index(
                fields=["piece", "person", "stage", "minutes", "day"],
                condition=Q(
                    struck_out=False, minutes__isnull=False, piece__isnull=False
                ),
                name="times_of_pieces",
            ),
        ]
        constraints = [
            models.UniqueConstraint(
                fields=["person"],
                condition=Q(minutes__isnull=True, struck_out=False),
                name="time_one_running_per_person",
            ),
            models.CheckConstraint(
                condition=Q(minutes__isnull=True, began_at__isnull=False)
                | Q(minutes__gt=0),
                name="time_runs_or_has_minutes",
            ),
            models.CheckConstraint(
                condition=Q(ended_at__isnull=True) | Q(ended_at__gt=F("began_at")),
                name="time_ends_after_it_begins",
            ),
            models.CheckConstraint(
                condition=Q(struck_out=False, struck_because="")
                | (Q(struck_out=True) & ~Q(struck_because="")),
                name="time_struck_out_with_a_reason",
            ),
        ]

    def __str__(self) -> str:
        of = str(self.piece) if self.piece else str(self.job)
        return f"{of}, {self.get_stage_display()}"

    def is_running(self) -> bool:
        return self.minutes is None and not self.struck_out

    def minutes_by(self, moment: datetime.datetime) -> Decimal:
        """How long it has run, exact to a hundredth of a minute."""
        assert self.began_at is not None
        seconds = Decimal(str((moment - self.began_at).total_seconds()))
        return (seconds / 60).quantize(Decimal("0.01"))
