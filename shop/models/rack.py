from __future__ import annotations

from decimal import Decimal
from typing import Any

from django.conf import settings
from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import F, Q
from django.urls import reverse
from django.utils import timezone

from shop.models.metals import Metal, length_field


def money_field(**options: Any) -> models.DecimalField[Any, Any]:
    return models.DecimalField(
        max_digits=12,
        decimal_places=2,
        null=True,
        blank=True,
        validators=[MinValueValidator(Decimal(0))],
        **options,
    )


class RackItemQuerySet(models.QuerySet["RackItem"]):
    def there(self) -> RackItemQuerySet:
        """On the rack, free or reserved."""
        return self.filter(state__in=(RackItem.State.FREE, RackItem.State.RESERVED))

    def free(self) -> RackItemQuerySet:
        """With something nobody has reserved."""
        return self.filter(state=RackItem.State.FREE) | self.filter(
            state=RackItem.State.RESERVED,
            form=RackItem.Form.COIL,
            left_mm__gt=F("reserved_mm"),
        )

    def of(self, metal: Metal) -> RackItemQuerySet:
        return self.filter(metal=metal)

    def in_order(self) -> RackItemQuerySet:
        return self.select_related("metal").order_by(
            "metal__kind", "metal__thickness_mm", "metal__name", "finish", "number"
        )


class RackItem(models.Model):
    """One sheet, coil or offcut on the rack. Its state is read from its events."""

    class Form(models.TextChoices):
        SHEET = "sheet", "sheet"
        COIL = "coil", "coil"
        OFFCUT = "offcut", "offcut"

    class State(models.TextChoices):
        FREE = "free", "free"
        RESERVED = "reserved", "reserved"
        USED = "used", "used up"
        SPOILED = "spoiled", "spoiled"
        SOLD = "sold", "sold as scrap"

    number = models.PositiveIntegerField(
        unique=True, editable=False, help_text="Runs on in the shop; on the label."
    )
    metal = models.ForeignKey(Metal, models.PROTECT, related_name="rack_items")
    form = models.CharField(max_length=6, choices=Form.choices)
    finish = models.CharField(max_length=60, blank=True)
    lot = models.CharField(max_length=60, blank=True, help_text="As on the bundle.")
    width_mm = length_field(help_text="Across the rolling direction.")
    length_mm = length_field(
        help_text="Along the rolling direction; of a coil, as it came in."
    )
    outline = models.JSONField(
        null=True,
        blank=True,
        help_text="Corners in mm, [x, y] each, from the lower left of its rectangle."
        " Empty for a rectangle.",
    )
    weight_kg = models.DecimalField(
        max_digits=8,
        decimal_places=2,
        null=True,
        blank=True,
        validators=[MinValueValidator(Decimal("0.01"))],
        help_text="As weighed when it came in.",
    )
    place = models.CharField(max_length=60, blank=True, help_text="Where it leans.")
    paid = money_field(help_text="For the whole of it, in the shop's currency.")
    cut_from = models.ForeignKey(
        "self",
        models.PROTECT,
        null=True,
        blank=True,
        related_name="offcuts",
        editable=False,
    )
    state = models.CharField(
        max_length=8, choices=State.choices, default=State.FREE, editable=False
    )
    left_mm = length_field(
        validators=[MinValueValidator(Decimal(0))],
        editable=False,
        help_text="Length not yet cut off.",
    )
    reserved_mm = length_field(
        validators=[MinValueValidator(Decimal(0))],
        default=Decimal(0),
        editable=False,
        help_text="Length of it that is reserved.",
    )

    objects = RackItemQuerySet.as_manager()

    class Meta:
        ordering = ["number"]
        indexes = [models.Index(fields=["state", "metal"], name="rack_by_state")]
        constraints = [
            models.CheckConstraint(
                condition=Q(width_mm__gt=0, length_mm__gt=0), name="rack_size_positive"
            ),
            models.CheckConstraint(
                condition=Q(left_mm__gte=0), name="rack_never_below_nothing"
            ),
            models.CheckConstraint(
                condition=Q(reserved_mm__gte=0, reserved_mm__lte=F("left_mm")),
                name="rack_reserved_is_there",
            ),
            models.CheckConstraint(
                condition=Q(paid__isnull=True) | Q(paid__gte=0),
                name="rack_paid_not_negative",
            ),
            models.CheckConstraint(
                condition=Q(outline__isnull=True) | Q(form="offcut"),
                name="rack_outline_is_an_offcuts",
            ),
        ]

    def __str__(self) -> str:
        return f"R{self.number}"

    def get_absolute_url(self) -> str:
        return reverse("rack:item", args=[self.number])

    def is_coil(self) -> bool:
        return self.form == self.Form.COIL

    def is_there(self) -> bool:
        return self.state in (self.State.FREE, self.State.RESERVED)

    def free_mm(self) -> Decimal:
        return self.left_mm - self.reserved_mm

    def weight_left_kg(self) -> Decimal:
        """Of a rectangle of what is left, by the metal's own weight."""
        volume = self.width_mm * self.left_mm * self.metal.thickness_mm
        return volume * self.metal.density_kg_m3 / 1_000_000_000

    def paid_for_left(self) -> Decimal | None:
        """What was paid for what is left of it."""
        if self.paid is None:
            return None
        return (self.paid * self.left_mm / self.length_mm).quantize(Decimal("0.01"))


class Claim(models.Model):
    """One item, or a length of coil, that somebody has reserved. Let go, it stays."""

    item = models.ForeignKey(RackItem, models.PROTECT, related_name="claims")
    holder = models.CharField(
        max_length=60, help_text="Who holds it, for programs: plan:12."
    )
    words = models.CharField(max_length=120, help_text="What it is for, for people.")
    length_mm = length_field()
    whole = models.BooleanField(help_text="All of it: a sheet or an offcut.")
    open = models.BooleanField(default=True)
    at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["item"],
                condition=Q(open=True, whole=True),
                name="rack_reserved_once",
            ),
            models.UniqueConstraint(
                fields=["item", "holder"],
                condition=Q(open=True),
                name="rack_reserved_once_by_a_holder",
            ),
            models.CheckConstraint(
                condition=Q(length_mm__gt=0), name="rack_claim_positive"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.item} for {self.words}"


class RackEvent(models.Model):
    """One thing that happened to one item. Only added, never changed."""

    class What(models.TextChoices):
        CAME_IN = "came_in", "came in"
        RESERVED = "reserved", "reserved"
        LET_GO = "let_go", "let go"
        CUT = "cut", "cut"
        PUT_BACK = "put_back", "put back"
        SPOILED = "spoiled", "spoiled"
        SOLD = "sold", "sold as scrap"
        MEASURED = "measured", "measured again"
        MOVED = "moved", "moved"

    item = models.ForeignKey(RackItem, models.PROTECT, related_name="events")
    what = models.CharField(max_length=10, choices=What.choices)
    length_mm = length_field(
        validators=[MinValueValidator(Decimal(0))],
        help_text="How much of it: came in, reserved, let go, cut, put back, or"
        " what was measured.",
    )
    holder = models.CharField(max_length=60, blank=True)
    words = models.CharField(max_length=120, blank=True, help_text="What it was for.")
    place = models.CharField(max_length=60, blank=True)
    money = money_field(help_text="What the scrap dealer paid.")
    reason = models.TextField(blank=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, related_name="rack_events"
    )
    at = models.DateTimeField(default=timezone.now)
    key = models.CharField(max_length=160, null=True, blank=True, unique=True)

    class Meta:
        ordering = ["-pk"]
        constraints = [
            models.CheckConstraint(
                condition=~Q(what__in=["spoiled", "sold", "put_back", "measured"])
                | ~Q(reason=""),
                name="rack_event_says_why",
            ),
            models.CheckConstraint(
                condition=Q(length_mm__gte=0), name="rack_event_not_negative"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.item} {self.get_what_display()}"
