from __future__ import annotations

from decimal import Decimal
from zoneinfo import ZoneInfo, available_timezones

from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator, RegexValidator
from django.db import models
from django.db.models import Q

from shop.tables import STANDARDS


class Standard(models.Model):
    """One figure or choice the shop holds to. The owner changes it, with its source."""

    class Unit(models.TextChoices):
        MM = "mm", "mm"
        DEG = "deg", "degrees"
        COUNT = "count", "number"
        WORD = "word", "choice"

    key = models.SlugField(unique=True, max_length=60, editable=False)
    value = models.CharField(max_length=60)
    unit = models.CharField(max_length=5, choices=Unit.choices, editable=False)
    words = models.TextField("what it is", editable=False)
    source = models.TextField(help_text="Printed wherever this standard decides.")

    class Meta:
        ordering = ["key"]

    def __str__(self) -> str:
        return self.key.replace("_", " ")

    @property
    def choices(self) -> tuple[str, ...]:
        return next((row.choices for row in STANDARDS if row.key == self.key), ())

    def read(self) -> float | str:
        """The value as layout takes it: a float in its unit, or a word."""
        return self.value if self.unit == self.Unit.WORD else float(self.value)

    def clean(self) -> None:
        if self.unit == self.Unit.WORD:
            if self.choices and self.value not in self.choices:
                raise ValidationError(
                    {"value": f"Give one of: {', '.join(self.choices)}."}
                )
            return
        try:
            figure = Decimal(self.value)
        except ArithmeticError:
            figure = Decimal("NaN")
        if not figure.is_finite() or figure < 0:
            raise ValidationError(
                {"value": f"{self.value} is not a number of {self.unit}, 0 or more."}
            )


def is_time_zone(name: str) -> None:
    if name not in available_timezones():
        raise ValidationError(
            f"{name} is not a time zone. Write one such as Europe/Riga."
        )


class ShopProfile(models.Model):
    """The shop itself: one row."""

    class Units(models.TextChoices):
        INCHES = "in", "inches"
        MILLIMETRES = "mm", "millimetres"

    class Paper(models.TextChoices):
        LETTER = "letter", "Letter"
        A4 = "a4", "A4"

    name = models.CharField(max_length=120, default="Our shop")
    address = models.TextField(blank=True, help_text="As it stands on papers.")
    units = models.CharField(max_length=2, choices=Units.choices, default=Units.INCHES)
    paper = models.CharField(max_length=6, choices=Paper.choices, default=Paper.LETTER)
    currency = models.CharField(
        max_length=3,
        default="USD",
        validators=[
            RegexValidator("^[A-Z]{3}$", "Write three capital letters, such as EUR.")
        ],
        help_text="Of all prices and costs. It stays once the first is written.",
    )
    money_since = models.DateTimeField(
        null=True,
        blank=True,
        editable=False,
        help_text="When the first price or cost was written.",
    )
    waste_percent = models.DecimalField(
        "metal lost beside the blanks, %",
        max_digits=4,
        decimal_places=1,
        default=Decimal("15"),
        validators=[MinValueValidator(0), MaxValueValidator(300)],
        help_text="For quotes where no cut plan says. Common practice, no source.",
    )
    quote_days = models.PositiveSmallIntegerField(
        "days a quote holds", default=30, validators=[MinValueValidator(1)]
    )
    quote_terms = models.TextField(
        "terms of a quote",
        blank=True,
        help_text="Printed on every quote: deposit, payment, what is not included.",
    )
    books_by_person = models.BooleanField(
        "books show each person's hours",
        default=False,
        help_text="Off: the books show the crew as a whole.",
    )
    time_zone = models.CharField(
        max_length=40, default="UTC", validators=[is_time_zone]
    )

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(pk=1), name="one_shop_profile")
        ]

    def __str__(self) -> str:
        return self.name

    @classmethod
    def current(cls) -> ShopProfile:
        """The shop's row, or one as a new shop starts, not yet saved."""
        return cls.objects.first() or cls(pk=1)

    def zone(self) -> ZoneInfo:
        return ZoneInfo(self.time_zone)

    def clean(self) -> None:
        before = ShopProfile.objects.filter(pk=1).first()
        if before and before.money_since and self.currency != before.currency:
            raise ValidationError(
                {
                    "currency": f"Prices and costs are written in {before.currency} "
                    f"since {before.money_since:%a %-d %b %Y}. They can't be read as "
                    f"{self.currency}. Leave it {before.currency}."
                }
            )
