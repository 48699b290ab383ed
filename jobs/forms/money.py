from __future__ import annotations

from decimal import Decimal
from typing import Any

from django import forms
from django.utils import timezone

from jobs.costing import Asked, Extra
from jobs.forms.fields import DayField, reason_field
from jobs.models import Quote
from shop.price_forms import AmountField

EXTRAS = 3


class QuoteForm(forms.Form):
    """What the office adds to the layout."""

    visits = forms.IntegerField(
        label="Visits",
        min_value=0,
        max_value=99,
        initial=2,
        help_text="Journeys to the site, the one to measure included.",
    )
    people = forms.IntegerField(
        label="People on a visit", min_value=1, max_value=30, initial=2
    )
    setting_up = AmountField(
        label="Hours for access",
        required=False,
        decimals=2,
        help_text="Ladders, scaffold, protection and clearing, all people together. "
        "Empty: the standard.",
    )
    prices_on = DayField(label="With the prices of")
    key = forms.CharField(required=False, max_length=64, widget=forms.HiddenInput)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for number in range(1, EXTRAS + 1):
            self.fields[f"words_{number}"] = forms.CharField(
                label=f"Extra {number}, what it is", max_length=180, required=False
            )
            self.fields[f"amount_{number}"] = AmountField(
                label=f"Extra {number}, what it costs us", required=False
            )

    def extras(self) -> list[tuple[Any, Any]]:
        return [
            (self[f"words_{number}"], self[f"amount_{number}"])
            for number in range(1, EXTRAS + 1)
        ]

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        for number in range(1, EXTRAS + 1):
            words, amount = f"words_{number}", f"amount_{number}"
            if amount in self.errors:
                continue
            if cleaned.get(words) and cleaned.get(amount) is None:
                self.add_error(amount, f"“{cleaned[words]}” costs how much?")
            if cleaned.get(amount) is not None and not cleaned.get(words):
                self.add_error(words, "Say what this amount is for.")
        return cleaned

    def asked(self) -> Asked:
        typed = self.cleaned_data
        hours: Decimal | None = typed["setting_up"]
        return Asked(
            visits=typed["visits"],
            people=typed["people"],
            setting_up=None if hours is None else hours * 60,
            extras=tuple(
                Extra(typed[f"words_{number}"], typed[f"amount_{number}"])
                for number in range(1, EXTRAS + 1)
                if typed[f"words_{number}"]
            ),
        )


class SettleQuoteForm(forms.Form):
    state = forms.ChoiceField(
        label="The client’s word",
        choices=[
            (Quote.State.ACCEPTED, "accepted: we build it"),
            (Quote.State.REFUSED, "refused"),
        ],
        widget=forms.RadioSelect,
        error_messages={"required": "Choose accepted or refused."},
    )
    whose_word = forms.CharField(
        label="Whose word",
        max_length=120,
        error_messages={"required": "Name the person on the client’s side."},
    )
    on = DayField(label="On which day")
    reason = reason_field("Why, if it was said", required=False)

    def clean_on(self) -> Any:
        day = self.cleaned_data["on"]
        if day > timezone.localdate():
            raise forms.ValidationError(
                f"{day:%a} {day.day} {day:%b %Y} is still to come. "
                "Give the day on which the word was given."
            )
        return day

    def typed(self) -> dict[str, Any]:
        return dict(self.cleaned_data)
