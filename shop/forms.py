"""Fields that read what a person writes: a tape's length, a day."""

from __future__ import annotations

import datetime
from decimal import Decimal
from fractions import Fraction
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from shop.models import ShopProfile
from shop.units import Unit, as_decimal, read_length, show_length

PLACES = Decimal("0.0001")
FINEST = {"in": Fraction(1, 64), "mm": Fraction(1, 10)}
# Days are only read where day and month can't be mistaken for each other.
DAYS = ["%Y-%m-%d", "%d %b %Y", "%d %B %Y", "%a %d %b %Y", "%b %d, %Y", "%B %d, %Y"]


def _in_places(length: Fraction) -> Decimal:
    return as_decimal(length).quantize(PLACES)


def shop_unit() -> Unit:
    """What a number without a unit is in, in this shop."""
    return "mm" if ShopProfile.current().units == "mm" else "in"


class LengthField(forms.CharField):
    """A length as the tape says it. Cleans to mm as Decimal, or None."""

    def __init__(self, *, unit: Unit = "in", **kwargs: Any) -> None:
        self.unit: Unit = unit
        super().__init__(**kwargs)
        self.max_length = None

    def widget_attrs(self, widget: forms.Widget) -> dict[str, Any]:
        return {**super().widget_attrs(widget), "autocomplete": "off"}

    def clean(self, value: Any) -> Decimal | None:
        words = super().clean(value)
        if not words:
            return None
        try:
            length = read_length(words, self.unit)
        except ValueError as fault:
            raise ValidationError(str(fault), code="length") from None
        if length == 0:
            raise ValidationError(
                f"{words} is nothing. Give a length above zero, or leave it empty."
            )
        return _in_places(length)

    def prepare_value(self, value: Any) -> Any:
        if not isinstance(value, Decimal):
            return value
        words = show_length(value, self.unit, FINEST[self.unit])
        # What is shown must read back the same, or saving unchanged would change it.
        if _in_places(read_length(words, self.unit)) == value.quantize(PLACES):
            return words
        return f"{value.normalize():f} mm"

    def has_changed(self, initial: Any, value: Any) -> bool:
        return bool(self.prepare_value(initial) != value)


class DayInput(forms.DateInput):
    input_type = "date"

    def format_value(self, value: Any) -> str | None:
        if isinstance(value, datetime.date):
            return value.isoformat()
        return None if value is None else str(value)


class DayField(forms.DateField):
    widget = DayInput

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(input_formats=DAYS, **kwargs)

    def to_python(self, value: Any) -> datetime.date | None:
        try:
            return super().to_python(value)
        except ValidationError:
            raise ValidationError(
                f"“{value}” is not a day we can read for sure. Write it as 2026-11-25 "
                "or 25 Nov 2026.",
                code="invalid",
            ) from None


class KeyedForm(forms.Form):
    """A form whose second sending does no harm: it carries its own key."""

    key = forms.CharField(required=False, max_length=64, widget=forms.HiddenInput)
    version = forms.IntegerField(
        required=False, min_value=1, max_value=2**31 - 1, widget=forms.HiddenInput
    )


def reason_field(label: str = "Reason", required: bool = True) -> forms.CharField:
    return forms.CharField(
        label=label,
        required=required,
        max_length=300,
        error_messages={"required": f"{label}: say it in a few words."},
    )
