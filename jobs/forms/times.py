from __future__ import annotations

from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.db.models import QuerySet

from jobs.forms.fields import DayField, reason_field
from jobs.hours import read_hours
from jobs.models import Job, Piece, WorkTime
from shop.models import Person


class HoursField(forms.CharField):
    """Hours as they are said. Cleans to minutes as Decimal, or None."""

    def widget_attrs(self, widget: forms.Widget) -> dict[str, Any]:
        return {**super().widget_attrs(widget), "autocomplete": "off"}

    def clean(self, value: Any) -> Decimal | None:
        words = super().clean(value)
        if not words:
            return None
        try:
            return read_hours(words)
        except ValueError as fault:
            raise ValidationError(str(fault), code="hours") from None


class StartForm(forms.Form):
    """One tap: the clock starts."""

    stage = forms.ChoiceField(choices=WorkTime.Stage.choices)
    stop_first = forms.BooleanField(required=False, widget=forms.HiddenInput)
    key = forms.CharField(required=False, max_length=64, widget=forms.HiddenInput)
    back_to = forms.ChoiceField(
        choices=[(it, it) for it in ("", "today", "job", "piece")],
        required=False,
        widget=forms.HiddenInput,
    )


class StopForm(forms.Form):
    """The clock stops; asked about, it wants a word and perhaps the real hours."""

    worked = HoursField(
        label="How long it really was",
        required=False,
        max_length=30,
        help_text="Only if the clock is wrong. Write 1:30, 1.5 or 90 min.",
    )
    because = reason_field("Why it is so", required=False)
    back_to = forms.CharField(required=False, max_length=10, widget=forms.HiddenInput)


class HoursForm(forms.Form):
    """Hours written later."""

    person = forms.ModelChoiceField(
        label="Who", queryset=Person.objects.none(), empty_label=None
    )
    stage = forms.ChoiceField(label="Doing what", choices=WorkTime.Stage.choices)
    piece = forms.ModelChoiceField(
        label="On which piece",
        queryset=Piece.objects.none(),
        required=False,
        empty_label="no one piece",
    )
    day = DayField(label="On which day")
    minutes = HoursField(
        label="How long",
        max_length=30,
        help_text="1:30, 1.5 or 90 min.",
        error_messages={"required": "Say how long."},
    )
    begins = forms.TimeField(
        label="From, by the clock",
        required=False,
        widget=forms.TimeInput(attrs={"type": "time"}, format="%H:%M"),
        help_text="If you know it.",
        error_messages={"invalid": "Write a time such as 07:30."},
    )
    because = reason_field("Why it is so", required=False)
    key = forms.CharField(required=False, max_length=64, widget=forms.HiddenInput)

    def __init__(
        self, *args: Any, job: Job, people: QuerySet[Person], **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        pieces = job.pieces.in_order()
        self.fields["person"].queryset = people  # type: ignore[attr-defined]
        self.fields["piece"].queryset = pieces  # type: ignore[attr-defined]

    def typed(self) -> dict[str, Any]:
        return {
            name: value for name, value in self.cleaned_data.items() if name != "key"
        }


class StrikeForm(forms.Form):
    reason = reason_field("Why")
