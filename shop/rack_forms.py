"""What people write about the rack: sizes as a tape says them, weights, money."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from shop.forms import KeyedForm, LengthField, reason_field
from shop.models import Metal, RackItem
from shop.rack import MOST_AT_ONCE
from shop.rack_shape import Corners
from shop.units import POUND, Unit, read_length

_WEIGHT = re.compile(r"([0-9]{1,6}(?:[.,][0-9]{1,3})?) ?(kg|lb|lbs|pounds?)?")
AMOUNT: dict[str, Any] = {
    "max_digits": 12,
    "decimal_places": 2,
    "min_value": 0,
    "required": False,
}


class WeightField(forms.CharField):
    """A weight with its unit. Cleans to kg as Decimal, or None."""

    def __init__(self, *, unit: Unit = "in", **given: Any) -> None:
        self.usual = "lb" if unit == "in" else "kg"
        super().__init__(**given)

    def clean(self, value: Any) -> Decimal | None:
        words = super().clean(value)
        if not words:
            return None
        read = _WEIGHT.fullmatch(words.strip().lower())
        if read is None:
            raise ValidationError(f"{words} is not a weight. Write 85 kg or 187 lb.")
        number = Decimal(read[1].replace(",", "."))
        if number == 0:
            raise ValidationError(f"{words} is nothing. Leave it empty if not known.")
        pounds = (read[2] or self.usual)[0] in "lp"
        return (number * (POUND if pounds else 1)).quantize(Decimal("0.01"))


class CornersField(forms.CharField):
    """Corners of an outline, one a line. Cleans to corners in mm, or None."""

    widget = forms.Textarea

    def __init__(self, *, unit: Unit = "in", **given: Any) -> None:
        self.unit: Unit = unit
        super().__init__(**given)

    def clean(self, value: Any) -> Corners | None:
        words = super().clean(value)
        lines = [line.strip() for line in words.splitlines() if line.strip()]
        return tuple(self._corner(n, line) for n, line in enumerate(lines, 1)) or None

    def _corner(self, number: int, line: str) -> tuple[float, float]:
        parts = [it.strip() for it in line.split(";" if ";" in line else ",")]
        if len(parts) != 2:
            raise ValidationError(
                f"Corner {number} is “{line[:40]}”. Write two lengths with a semicolon"
                " between: to the right; up."
            )
        try:
            x, y = (float(read_length(part, self.unit)) for part in parts)
        except ValueError as fault:
            raise ValidationError(f"Corner {number}: {fault}") from None
        return x, y


class TakeInForm(forms.Form):
    """What comes on the rack."""

    key = forms.CharField(required=False, max_length=64, widget=forms.HiddenInput)
    metal = forms.ModelChoiceField(
        Metal.objects.none(),
        error_messages={"required": "Choose the metal."},
    )
    form = forms.ChoiceField(
        label="What it is", choices=RackItem.Form.choices, widget=forms.RadioSelect
    )
    width = LengthField(
        required=False, help_text="Across the rolling direction: of coil, its width."
    )
    length = LengthField(
        required=False, help_text="Along the rolling direction: of coil, what is on it."
    )
    alike = forms.IntegerField(
        label="How many alike",
        min_value=1,
        max_value=MOST_AT_ONCE,
        initial=1,
        help_text="Each gets a number and a label of its own.",
    )
    weight = WeightField(required=False, help_text="Of one, as weighed.")
    finish = forms.CharField(required=False, max_length=60)
    lot = forms.CharField(required=False, max_length=60, help_text="As on the bundle.")
    place = forms.CharField(label="Where it leans", required=False, max_length=60)
    paid = forms.DecimalField(label="Paid for each", help_text="Without tax.", **AMOUNT)
    corners = CornersField(
        label="Corners of an offcut",
        required=False,
        help_text="Only where it is no rectangle. One corner a line, in order round"
        " it: to the right; up, both from its lower left. Width and length are then"
        " taken from them.",
    )

    def __init__(
        self, *args: Any, unit: Unit, currency: str, money: bool, **given: Any
    ) -> None:
        super().__init__(*args, **given)
        self.fields["metal"].queryset = Metal.objects.active()  # type: ignore[attr-defined]
        for name in ("width", "length", "weight", "corners"):
            self.fields[name].unit = unit  # type: ignore[attr-defined]
        self.fields["weight"].usual = "lb" if unit == "in" else "kg"  # type: ignore[attr-defined]
        self.fields["paid"].help_text = f"In {currency}, without tax."
        if not money:
            del self.fields["paid"]

    def clean(self) -> dict[str, Any]:
        asked = super().clean() or {}
        if not asked.get("corners"):
            for name in ("width", "length"):
                if name not in self.errors and asked.get(name) is None:
                    self.add_error(name, f"Give its {name}.")
        return asked


class FindItemsForm(forms.Form):
    """Which items the rack shows."""

    metal = forms.ModelChoiceField(
        Metal.objects.none(), required=False, empty_label="every metal"
    )
    form = forms.ChoiceField(
        label="What",
        required=False,
        choices=[("", "sheets, coil and offcuts"), *RackItem.Form.choices],
    )
    show = forms.ChoiceField(
        required=False,
        choices=[
            ("", "on the rack"),
            ("free", "free"),
            ("reserved", "reserved"),
            ("gone", "used, spoiled or sold"),
        ],
    )
    words = forms.CharField(
        label="Number, lot, finish or place", required=False, max_length=60
    )

    def __init__(self, *args: Any, **given: Any) -> None:
        super().__init__(*args, **given)
        kept = Metal.objects.filter(rack_items__isnull=False).distinct()
        self.fields["metal"].queryset = kept  # type: ignore[attr-defined]


class MoveForm(KeyedForm):
    place = forms.CharField(
        label="Where it leans now",
        max_length=60,
        error_messages={"required": "Say where it leans now."},
    )


class ReserveForm(KeyedForm):
    words = forms.CharField(
        label="Reserved for",
        max_length=80,
        help_text="Job and what of it, such as Job 12.",
        error_messages={"required": "Say what it is reserved for."},
    )


class LetGoForm(KeyedForm):
    holder = forms.CharField(max_length=60, widget=forms.HiddenInput)


class WhyForm(KeyedForm):
    reason = reason_field()


class UseForm(WhyForm):
    length = LengthField(
        label="Length cut off a coil",
        required=False,
        help_text="Empty: all that is left of it.",
    )


class MeasureForm(WhyForm):
    length = LengthField(label="Length left on it")


class SellForm(WhyForm):
    money = forms.DecimalField(label="The dealer paid", **AMOUNT)
