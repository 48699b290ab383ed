from __future__ import annotations

from decimal import Decimal
from typing import Any

from django import forms

from jobs.books.history import Filter
from jobs.forms.fields import DayField
from jobs.models import Job


class FilterForm(forms.Form):
    """Which jobs the history shows."""

    words = forms.CharField(
        label="Search",
        required=False,
        max_length=100,
        help_text="Number, title, client or address.",
        widget=forms.TextInput(attrs={"type": "search"}),
    )
    state = forms.ChoiceField(
        label="State", choices=[("", "any"), *Job.State.choices], required=False
    )
    since = DayField(label="Closed from", required=False)
    until = DayField(label="Closed until", required=False)
    over = forms.ChoiceField(
        label="Cost more than quoted by",
        required=False,
        choices=[("", "any"), ("0", "anything"), ("0.1", "10 %"), ("0.25", "25 %")],
    )
    family = forms.SlugField(
        label="With pieces of",
        required=False,
        max_length=40,
        help_text="Such as apron.",
    )
    remade = forms.BooleanField(label="Only with pieces made again", required=False)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        since, until = cleaned.get("since"), cleaned.get("until")
        if since and until and until < since:
            self.add_error("until", "This is before the first day. Change one.")
        return cleaned

    def clean_over(self) -> Decimal | None:
        words = self.cleaned_data["over"]
        return Decimal(words) if words else None

    def asked(self) -> Filter:
        """What was asked for; a faulty field asks for nothing."""
        self.is_valid()
        return Filter(**self.cleaned_data)
