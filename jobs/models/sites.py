from __future__ import annotations

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone

from jobs.models.jobs import Job

LONGEST = 2000
"""Signs of one measure: a section has a line for each leg, fold and hem."""


class SiteQuerySet(models.QuerySet["Site"]):
    def laid_out(self) -> SiteQuerySet:
        """Without those that are left out."""
        return self.filter(left_out_because="")

    def with_last_measure(self) -> SiteQuerySet:
        """Each with `names_measured` and `last_measured`, for a line of summary."""
        return self.annotate(
            names_measured=models.Count("measurements__name", distinct=True),
            last_measured=models.Max("measurements__taken_at"),
        )


class Site(models.Model):
    """One place on a roof to be measured. A job may have any number, of any kind."""

    class Kind(models.TextChoices):
        CHIMNEY = "chimney", "chimney"
        CURB = "curb", "curb"
        PIPE = "pipe", "pipe"
        WALL = "wall", "side wall or head wall"
        STEPS = "steps", "step flashing"
        VALLEY = "valley", "valley"
        CAP = "cap", "ridge or hip cap"
        PITCH_CHANGE = "pitch_change", "change of pitch"
        PAN = "pan", "roof pan"
        END_CAP = "end_cap", "end cap"
        PROFILE = "profile", "bent profile"

    class Units(models.TextChoices):
        INCH = "in", "inches"
        MM = "mm", "millimetres"

    job = models.ForeignKey(Job, models.PROTECT, related_name="sites")
    kind = models.CharField(max_length=20, choices=Kind.choices, default=Kind.CHIMNEY)
    name = models.CharField(
        "name of the place",
        max_length=60,
        blank=True,
        help_text="What tells it from the others: kitchen vent, north wall.",
    )
    units = models.CharField(
        max_length=2,
        choices=Units.choices,
        default=Units.INCH,
        help_text="What the tape says: numbers without a unit are read in this one.",
    )
    roof_notes = models.TextField("notes on the roof", blank=True)
    hazards = models.TextField(
        blank=True, help_text="What can hurt someone up there: lines, rot, wasps, lead."
    )
    left_out_because = models.CharField(
        "left out because",
        max_length=300,
        blank=True,
        editable=False,
        help_text="Why it is not laid out. Empty: it is.",
    )

    objects = SiteQuerySet.as_manager()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(units__in=["in", "mm"]), name="site_units_are_known"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.words()} of {self.job}"

    @property
    def left_out(self) -> bool:
        """True for a place that stays on record but is not laid out. It keeps its
        number, so that no mark of another place changes."""
        return bool(self.left_out_because)

    def words(self) -> str:
        """What it is called on the page: its name, or else its kind."""
        return self.name or str(self.get_kind_display())


class MeasurementQuerySet(models.QuerySet["Measurement"]):
    def named(self, name: str) -> MeasurementQuerySet:
        return self.filter(name=name)

    def newest_first(self) -> MeasurementQuerySet:
        return self.order_by("-taken_at", "-pk")


class Measurement(models.Model):
    """One number or word taken on site, by whom, when and with what."""

    site = models.ForeignKey(Site, models.PROTECT, related_name="measurements")
    name = models.CharField(
        max_length=60, help_text="Path in the site record, such as penetration.front."
    )
    as_typed = models.CharField(max_length=LONGEST)
    units = models.CharField(max_length=2, choices=Site.Units.choices)
    value_mm = models.DecimalField(
        max_digits=14, decimal_places=6, null=True, blank=True
    )
    value_deg = models.DecimalField(
        max_digits=11, decimal_places=8, null=True, blank=True
    )
    value_text = models.CharField(max_length=LONGEST, blank=True)
    taken_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="measurements"
    )
    taken_at = models.DateTimeField(default=timezone.now)
    taken_with = models.CharField(max_length=60, blank=True)
    note = models.TextField(blank=True)
    chosen = models.BooleanField(
        default=False, help_text="Counts although a newer one was taken."
    )
    chosen_because = models.TextField(blank=True)
    key = models.CharField(
        max_length=120,
        null=True,
        blank=True,
        unique=True,
        help_text="Set by whoever sends it, so that sending it twice adds one row.",
    )

    objects = MeasurementQuerySet.as_manager()

    class Meta:
        ordering = ["name", "-taken_at", "-pk"]
        indexes = [
            models.Index(fields=["site", "name", "-taken_at"], name="measures_by_name"),
        ]
        constraints = [
            models.CheckConstraint(
                condition=Q(
                    value_mm__isnull=False, value_deg__isnull=True, value_text=""
                )
                | Q(value_mm__isnull=True, value_deg__isnull=False, value_text="")
                | (
                    Q(value_mm__isnull=True, value_deg__isnull=True) & ~Q(value_text="")
                ),
                name="measurement_is_one_length_angle_or_word",
            ),
            models.UniqueConstraint(
                fields=["site", "name"],
                condition=Q(chosen=True),
                name="measurement_one_chosen_per_name",
            ),
            models.CheckConstraint(
                condition=Q(chosen=False, chosen_because="")
                | (Q(chosen=True) & ~Q(chosen_because="")),
                name="measurement_chosen_with_a_reason",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.name} {self.as_typed}"
