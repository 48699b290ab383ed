from __future__ import annotations

from decimal import Decimal
from typing import Any

from django.core.exceptions import ValidationError
from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import Q

from shop import brake_section

_AT_LEAST_ZERO = [MinValueValidator(Decimal(0))]
_MORE_THAN_ZERO = [MinValueValidator(Decimal("0.001"))]


def length_field(
    name: str | None = None, **options: Any
) -> models.DecimalField[Any, Any]:
    return models.DecimalField(
        name,
        max_digits=9,
        decimal_places=3,
        validators=options.pop("validators", _MORE_THAN_ZERO),
        **options,
    )


class ActiveQuerySet(models.QuerySet[Any]):
    def active(self) -> ActiveQuerySet:
        return self.filter(active=True)


class Metal(models.Model):
    """One metal in one thickness, as the trade sells it."""

    class Kind(models.TextChoices):
        COPPER = "copper"
        ZINC = "zinc"
        STEEL = "steel"
        STAINLESS = "stainless"
        ALUMINIUM = "aluminium"
        LEAD = "lead"

    slug = models.SlugField(unique=True)
    name = models.CharField(
        max_length=60,
        unique=True,
        help_text='As it is said and written on a site record, such as "copper 20 oz".',
    )
    kind = models.CharField(max_length=10, choices=Kind.choices)
    thickness_mm = models.DecimalField(
        max_digits=6, decimal_places=4, validators=[MinValueValidator(Decimal("0.05"))]
    )
    density_kg_m3 = models.DecimalField(
        max_digits=7, decimal_places=1, validators=[MinValueValidator(Decimal(1000))]
    )
    smallest_radius_mm = length_field(
        validators=_AT_LEAST_ZERO,
        help_text="The tightest inside radius it may be folded to.",
    )
    sides = models.CharField(
        max_length=80,
        blank=True,
        help_text="What the two sides are called, the weather side first.",
    )
    stretch = models.DecimalField(
        max_digits=4,
        decimal_places=3,
        default=Decimal(0),
        validators=_AT_LEAST_ZERO,
        help_text="Share it stretches before it tears, for sweeps. 0 is not known.",
    )
    source = models.TextField(help_text="Where these figures come from.")
    expansion_along_mm_m = models.DecimalField(
        "expansion along the rolling",
        max_digits=6,
        decimal_places=5,
        default=Decimal(0),
        validators=_AT_LEAST_ZERO,
        help_text="Movement with warmth in mm per metre per °C. 0 is not known.",
    )
    expansion_across_mm_m = models.DecimalField(
        "expansion across the rolling",
        max_digits=6,
        decimal_places=5,
        default=Decimal(0),
        validators=_AT_LEAST_ZERO,
        help_text="The same across the rolling direction; it differs for zinc.",
    )
    expansion_source = models.TextField(
        blank=True, help_text="Where the expansion comes from."
    )
    fold_from_c = models.DecimalField(
        "lowest folding temperature, °C",
        max_digits=4,
        decimal_places=1,
        null=True,
        blank=True,
        help_text="Of the metal, not of the air. Empty: no bound.",
    )
    fold_source = models.TextField(
        blank=True, help_text="Where the folding temperature comes from."
    )
    active = models.BooleanField(
        default=True, help_text="Off: no longer offered, still shown on old jobs."
    )

    objects = ActiveQuerySet.as_manager()

    class Meta:
        ordering = ["kind", "thickness_mm", "name"]
        constraints = [
            models.CheckConstraint(
                condition=Q(thickness_mm__gt=0, density_kg_m3__gt=0),
                name="metal_is_there",
            ),
            models.CheckConstraint(
                condition=Q(smallest_radius_mm__gte=0), name="metal_radius_not_negative"
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def clean(self) -> None:
        """A figure is printed beside a finding, so it needs its source."""
        faults = {}
        if self.expansion_along_mm_m and not self.expansion_source.strip():
            faults["expansion_source"] = "Say where the expansion comes from."
        if self.fold_from_c is not None and not self.fold_source.strip():
            faults["fold_source"] = "Say where the folding temperature comes from."
        if faults:
            raise ValidationError(faults)


def section_field(words: str) -> models.JSONField[Any, Any]:
    return models.JSONField(default=list, blank=True, help_text=words)


class Brake(models.Model):
    """One folding machine of the shop."""

    name = models.CharField(max_length=60, unique=True)
    length_mm = length_field(help_text="The longest fold it makes.")
    throat_mm = length_field(help_text="The most metal that fits behind the jaws.")
    smallest_flange_mm = length_field(help_text="The narrowest leg it folds.")
    largest_angle_deg = models.DecimalField(
        max_digits=4,
        decimal_places=1,
        validators=[MinValueValidator(Decimal(1))],
        help_text="The farthest it turns metal from flat.",
    )
    radius_mm = length_field(
        validators=_AT_LEAST_ZERO, help_text="Inside radius its nose leaves."
    )
    smallest_clamp_mm = length_field(
        null=True,
        blank=True,
        help_text="The least metal the jaws must hold. Empty: as the narrowest leg.",
    )
    jaw = section_field(
        "Its section in mm: convex shapes, corners counter-clockwise, the fold line at"
        " [0, 0], the clamped metal along -x. Empty: the usual section."
    )
    bed = section_field("The same for the bed, below the metal. Empty: the usual one.")
    leaf = section_field(
        "The same for the leaf, below the metal in front, along +x. Empty: the usual"
        " one."
    )
    active = models.BooleanField(default=True)

    objects = ActiveQuerySet.as_manager()

    class Meta:
        ordering = ["-length_mm", "name"]
        constraints = [
            models.CheckConstraint(
                condition=Q(smallest_clamp_mm=None) | Q(smallest_clamp_mm__gt=0),
                name="brake_clamp_positive",
            ),
            models.CheckConstraint(
                condition=Q(largest_angle_deg__gt=0, largest_angle_deg__lte=180),
                name="brake_angle_in_range",
            ),
            models.CheckConstraint(
                condition=Q(length_mm__gt=0, throat_mm__gt=0, smallest_flange_mm__gt=0),
                name="brake_sizes_positive",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def clean(self) -> None:
        found = {
            part: faults
            for part in brake_section.PARTS
            if (faults := brake_section.faults(part, getattr(self, part)))
        }
        if found:
            raise ValidationError(found)


class Stock(models.Model):
    """One form in which the shop buys a metal."""

    class Form(models.TextChoices):
        SHEET = "sheet"
        COIL = "coil"

    metal = models.ForeignKey(Metal, models.PROTECT, related_name="stocks")
    form = models.CharField(max_length=5, choices=Form.choices)
    width_mm = length_field()
    length_mm = length_field(
        null=True, blank=True, help_text="Leave empty for coil: it is cut to length."
    )

    class Meta:
        verbose_name_plural = "stock"
        ordering = ["metal__name", "form", "width_mm", "length_mm"]
        constraints = [
            models.CheckConstraint(
                condition=Q(form="sheet", length_mm__isnull=False)
                | Q(form="coil", length_mm__isnull=True),
                name="stock_sheets_have_a_length",
                violation_error_message="A sheet has a length. A coil has none.",
            ),
            models.UniqueConstraint(
                fields=["metal", "form", "width_mm", "length_mm"],
                name="stock_listed_once",
                nulls_distinct=None,
            ),
        ]

    def __str__(self) -> str:
        return f"{self.metal} {self.form}"
