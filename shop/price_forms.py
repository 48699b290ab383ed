"""What is typed into the price book."""

from __future__ import annotations

import datetime
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from shop.forms import DayField
from shop.models import Stock
from shop.money import read_amount
from shop.price_items import Item


class AmountField(forms.CharField):
    """An amount of money or a percentage. Cleans to Decimal, or None."""

    def __init__(self, **kwargs: Any) -> None:
        self.least: Decimal | None = kwargs.pop("least", Decimal(0))
        self.decimals: int = kwargs.pop("decimals", 4)
        super().__init__(**kwargs)
        self.max_length = None

    def widget_attrs(self, widget: forms.Widget) -> dict[str, Any]:
        more = {"inputmode": "decimal", "autocomplete": "off"}
        return {**super().widget_attrs(widget), **more}

    def clean(self, value: Any) -> Decimal | None:
        words = super().clean(value)
        if not words:
            return None
        try:
            amount = read_amount(words)
        except ValueError as fault:
            raise ValidationError(str(fault), code="amount") from None
        if self.least is not None and amount < self.least:
            raise ValidationError(f"{words} is too little. Give {self.least} or more.")
        if amount != amount.quantize(Decimal(1).scaleb(-self.decimals)):
            raise ValidationError(
                f"{words} has too many decimals. Give at most {self.decimals}."
            )
        return amount


class PriceForm(forms.Form):
    amount = AmountField(error_messages={"required": "Give the amount."})
    unit = forms.ChoiceField(label="By")
    stock = forms.ModelChoiceField(
        label="Which sheet",
        queryset=Stock.objects.none(),
        required=False,
        empty_label="not by the sheet",
    )
    from_day = DayField(
        label="Counts from",
        error_messages={"required": "A price counts from a day. Give it."},
    )
    source = forms.CharField(
        label="Where it comes from",
        max_length=300,
        required=False,
        help_text="A list, a bill, a call.",
    )

    def __init__(self, *args: Any, item: Item, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.item = item
        self.fields["unit"].choices = item.units()  # type: ignore[attr-defined]
        sheets = item.sheets()
        if not sheets:
            del self.fields["stock"]
        else:
            queryset = Stock.objects.filter(pk__in=[sheet.pk for sheet in sheets])
            self.fields["stock"].queryset = queryset  # type: ignore[attr-defined]
        if len(item.units()) == 1:
            self.fields["unit"].widget = forms.HiddenInput()
            self.fields["unit"].initial = item.units()[0][0]
            self.fields["amount"].label = f"Amount, {item.units()[0][1]}"
        elif not sheets:
            self.fields["unit"].choices = item.units()[:2]  # type: ignore[attr-defined]

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        if cleaned.get("unit") == "sheet" and not cleaned.get("stock"):
            self.add_error("stock", "Choose the sheet that this is the price of.")
        if cleaned.get("unit") in ("kg", "lb") and cleaned.get("stock"):
            self.add_error(
                "stock", "A price by weight is of no sheet. Leave this empty."
            )
        return cleaned


class HoursForm(forms.Form):
    minutes = AmountField(
        label="Minutes for one",
        decimals=1,
        error_messages={"required": "Give the minutes."},
    )
    from_day = DayField(
        label="Counts from",
        error_messages={"required": "Standard hours count from a day. Give it."},
    )
    source = forms.CharField(
        label="Where it comes from",
        max_length=300,
        error_messages={"required": "Say where these minutes come from."},
    )

    def clean_minutes(self) -> Decimal:
        minutes: Decimal = self.cleaned_data["minutes"]
        if minutes > 10_000:
            raise ValidationError(f"{minutes} min is more than a week. Give less.")
        return minutes


def day_asked(words: str | None, today: datetime.date) -> datetime.date:
    """The day in the address, or today where there is none that makes sense."""
    try:
        day = datetime.date.fromisoformat(words or "")
    except ValueError:
        return today
    return day if 1900 < day.year < 2200 else today
