from __future__ import annotations

from decimal import Decimal

from django.core.exceptions import ValidationError
from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import Q
from django.db.models.functions import Greatest, Least

from shop.models.metals import ActiveQuerySet, Metal, length_field

CLOSE = Decimal("0.5")  # mm; legs and loss are printed to 1/16 in or to a millimetre


class MetalPair(models.Model):
    """Two kinds of metal that must not meet, and why."""

    class Meeting(models.TextChoices):
        CONTACT = "contact", "touch"
        RUN_OFF = "run-off", "run-off, from the first on to the second"

    first = models.CharField(max_length=10, choices=Metal.Kind.choices)
    second = models.CharField(max_length=10, choices=Metal.Kind.choices)
    meeting = models.CharField(max_length=7, choices=Meeting.choices)
    why = models.CharField(
        max_length=160, help_text="What happens, as it is said in a finding."
    )
    source = models.TextField(help_text="Printed beside the finding.")
    active = models.BooleanField(
        default=True, help_text="Off: the two may meet; no finding is made."
    )

    objects = ActiveQuerySet.as_manager()

    class Meta:
        ordering = ["meeting", "first", "second"]
        constraints = [
            models.CheckConstraint(
                condition=~Q(first=models.F("second")),
                name="metal_pair_is_two",
                violation_error_message="Give two different metals.",
            ),
            models.UniqueConstraint(
                fields=["first", "second", "meeting"],
                name="metal_pair_listed_once",
            ),
            models.UniqueConstraint(
                Least("first", "second"),
                Greatest("first", "second"),
                condition=Q(meeting="contact"),
                name="metal_contact_listed_once",
                violation_error_message="These two are listed already: touching has"
                " no direction.",
            ),
        ]

    def __str__(self) -> str:
        between = "on to" if self.meeting == self.Meeting.RUN_OFF else "against"
        return f"{self.first} {between} {self.second}"


class SeamKind(models.Model):
    """One standing seam as a source prints it for a kind of metal."""

    class Made(models.TextChoices):
        HAND = "hand", "by hand, legs folded up"
        MACHINE = "machine", "by machine, bays rolled to shape"

    class Fold(models.TextChoices):
        SINGLE = "single"
        DOUBLE = "double"

    metal_kind = models.CharField(max_length=10, choices=Metal.Kind.choices)
    made = models.CharField(max_length=7, choices=Made.choices)
    fold = models.CharField(max_length=6, choices=Fold.choices)
    receiving_mm = length_field(
        "receiving leg, mm",
        null=True,
        blank=True,
        help_text="From its crease to the cut edge. Empty: the source prints no legs.",
    )
    covering_mm = length_field("covering leg, mm", null=True, blank=True)
    height_mm = length_field("finished height, mm")
    lost_mm = length_field(
        "metal lost a bay, mm", help_text="What one bay loses to its two edges."
    )
    play_mm = length_field(
        "play, mm",
        default=Decimal(0),
        validators=[MinValueValidator(Decimal(0))],
        help_text="Gap at the seam's foot for movement. 0 where none is printed.",
    )
    source = models.TextField(help_text="Printed beside the finding.")
    active = models.BooleanField(default=True, help_text="Off: not used here.")

    objects = ActiveQuerySet.as_manager()

    class Meta:
        ordering = ["metal_kind", "made", "fold", "height_mm", "lost_mm"]
        constraints = [
            models.CheckConstraint(
                condition=Q(receiving_mm=None, covering_mm=None)
                | Q(
                    receiving_mm__isnull=False,
                    covering_mm__isnull=False,
                    receiving_mm__gte=models.F("height_mm"),
                    covering_mm__gt=models.F("receiving_mm"),
                ),
                name="seam_legs_stand_over_it",
                violation_error_message="Give both legs or neither. The receiving leg"
                " is as high as the seam or higher, the covering leg longer still.",
            ),
            models.UniqueConstraint(
                fields=["metal_kind", "made", "fold", "height_mm", "lost_mm"],
                name="seam_listed_once",
            ),
        ]

    def __str__(self) -> str:
        return (
            f"{self.metal_kind}, {self.made}, {self.fold} fold, "
            f"{self.height_mm.normalize():f} mm high"
        )

    def clean(self) -> None:
        """Legs folded up straight lose what they measure; rolled bays may not."""
        legs = (self.receiving_mm, self.covering_mm)
        if self.made != self.Made.HAND or None in legs or self.lost_mm is None:
            return
        whole = sum(leg for leg in legs if leg is not None)
        if abs(whole - self.lost_mm) > CLOSE:
            raise ValidationError(
                {
                    "lost_mm": f"{self.lost_mm} mm is not what the two legs take"
                    f" together, {whole} mm. Correct the legs or the loss."
                }
            )
