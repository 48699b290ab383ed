from __future__ import annotations

import datetime
from decimal import Decimal
from typing import Any

from django.conf import settings
from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import Q
from django.utils import timezone

from shop.models.metals import Metal, Stock


class RowsStay(TypeError):
    """Someone tried to change or remove a dated row."""

    def __init__(self) -> None:
        super().__init__("Dated rows are only added. Add one that counts from a day.")


class DatedQuerySet(models.QuerySet[Any]):
    """Rows that count from a day on, until a newer one does."""

    def on(self, day: datetime.date) -> DatedQuerySet:
        """Those that count or have counted by that day, the newest first."""
        return self.filter(from_day__lte=day).order_by("-from_day", "-pk")

    def update(self, **kwargs: Any) -> int:
        raise RowsStay

    def delete(self) -> tuple[int, dict[str, int]]:
        raise RowsStay


class Dated(models.Model):
    """Counts from a day on. Of two from the same day the later written counts."""

    from_day = models.DateField(
        "counts from", help_text="The first day on which it counts."
    )
    source = models.TextField(
        blank=True, help_text="Where it comes from: a list, a bill, a reckoning."
    )
    set_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, related_name="+"
    )
    set_at = models.DateTimeField(default=timezone.now)

    objects = DatedQuerySet.as_manager()

    class Meta:
        abstract = True

    def save(self, *args: Any, **kwargs: Any) -> None:
        if not self._state.adding:
            raise RowsStay
        super().save(*args, **kwargs)

    def delete(self, *args: Any, **kwargs: Any) -> tuple[int, dict[str, int]]:
        raise RowsStay


class Price(Dated):
    """What one thing costs from a day on."""

    class Kind(models.TextChoices):
        METAL = "metal", "metal"
        LABOUR = "labour", "labour"
        TRAVEL = "travel", "travel"
        CONSUMABLES = "consumables", "consumables"
        OVERHEAD = "overhead", "overhead"
        MARGIN = "margin", "margin"
        TAX = "tax", "tax"

    class Unit(models.TextChoices):
        KG = "kg", "kg"
        LB = "lb", "lb"
        SHEET = "sheet", "sheet"
        HOUR = "hour", "hour"
        VISIT = "visit", "visit"
        PERCENT = "percent", "%"

    kind = models.CharField(max_length=11, choices=Kind.choices)
    metal = models.ForeignKey(
        Metal, models.PROTECT, null=True, blank=True, related_name="prices"
    )
    stock = models.ForeignKey(
        Stock,
        models.PROTECT,
        null=True,
        blank=True,
        related_name="prices",
        help_text="Which one, for a price by the sheet.",
    )
    role = models.CharField(max_length=10, blank=True, help_text="Whose hour it is.")
    unit = models.CharField(max_length=7, choices=Unit.choices)
    amount = models.DecimalField(
        max_digits=13, decimal_places=4, validators=[MinValueValidator(Decimal(0))]
    )

    class Meta:
        ordering = ["-from_day", "-pk"]
        indexes = [
            models.Index(
                fields=["kind", "metal", "role", "-from_day"], name="prices_by_day"
            )
        ]
        constraints = [
            models.CheckConstraint(
                condition=Q(amount__gte=0), name="price_not_negative"
            ),
            models.CheckConstraint(
                condition=Q(kind="metal", metal__isnull=False, role="")
                & (
                    Q(unit="sheet", stock__isnull=False)
                    | Q(unit__in=["kg", "lb"], stock__isnull=True)
                )
                | Q(kind="labour", unit="hour", metal__isnull=True, stock__isnull=True)
                & ~Q(role="")
                | Q(kind="travel", unit="visit")
                & Q(metal__isnull=True, stock__isnull=True, role="")
                | Q(
                    kind__in=["consumables", "overhead", "margin", "tax"],
                    unit="percent",
                    metal__isnull=True,
                    stock__isnull=True,
                    role="",
                ),
                name="price_is_of_one_thing",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.what()}, from {self.from_day}"

    def what(self) -> str:
        """What it is the price of, in words."""
        if self.metal is not None:
            return self.metal.name
        if self.role:
            return f"an hour of {self.role}"
        return {"travel": "a visit"}.get(self.kind, self.kind)


class StandardHours(Dated):
    """How long one piece of a family takes at one stage, as the shop reckons."""

    family = models.SlugField(
        max_length=40, blank=True, help_text="Empty: any other piece, or the job."
    )
    stage = models.CharField(max_length=12)
    minutes = models.DecimalField(
        max_digits=7, decimal_places=1, validators=[MinValueValidator(Decimal(0))]
    )

    class Meta:
        verbose_name_plural = "standard hours"
        ordering = ["family", "stage", "-from_day", "-pk"]
        indexes = [
            models.Index(fields=["family", "stage", "-from_day"], name="hours_by_day")
        ]
        constraints = [
            models.CheckConstraint(
                condition=Q(minutes__gte=0), name="standard_hours_not_negative"
            ),
            models.CheckConstraint(
                condition=~Q(source=""), name="standard_hours_have_a_source"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.family or 'any'}, {self.stage}: {self.minutes} min"
