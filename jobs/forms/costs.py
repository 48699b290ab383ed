from __future__ import annotations

from typing import Any

from django import forms
from django.utils import timezone

from jobs.forms.fields import DayField, reason_field
from jobs.models import Cost, Job, Piece
from shop.price_forms import AmountField


class CostForm(forms.Form):
    """A cost written by hand."""

    part = forms.ChoiceField(label="What for", choices=Cost.Part.choices)
    words = forms.CharField(
        label="What it was",
        max_length=200,
        error_messages={"required": "Say what it was."},
    )
    amount = AmountField(
        label="Amount before tax",
        error_messages={"required": "Give the amount."},
    )
    on_day = DayField(label="On which day")
    piece = forms.ModelChoiceField(
        label="For which piece",
        queryset=Piece.objects.none(),
        required=False,
        empty_label="no one piece",
    )
    key = forms.CharField(required=False, max_length=64, widget=forms.HiddenInput)

    def __init__(self, *args: Any, job: Job, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        pieces = job.pieces.in_order()
        self.fields["piece"].queryset = pieces  # type: ignore[attr-defined]

    def clean_on_day(self) -> Any:
        day = self.cleaned_data["on_day"]
        if day > timezone.localdate():
            raise forms.ValidationError(
                f"{day:%a} {day.day} {day:%b %Y} is still to come."
            )
        return day

    def typed(self) -> dict[str, Any]:
        return {
            name: value
            for name, value in self.cleaned_data.items()
            if name in ("part", "words", "amount", "on_day", "piece")
        }


class TakeBackForm(forms.Form):
    reason = reason_field("Why")
