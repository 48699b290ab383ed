from __future__ import annotations

from typing import Any

from django import forms
from django.utils import timezone

from jobs.forms.fields import DayField, LengthField
from jobs.models import LooksRule
from shop.units import Unit

COUNTERFLASHINGS = ("stepped", "raked")


class RuleForm(forms.Form):
    """One demand of the client's eye."""

    kind = forms.ChoiceField(label="What it is about", choices=LooksRule.Kind.choices)
    words = forms.CharField(
        label="In the client’s words",
        max_length=1000,
        widget=forms.Textarea(attrs={"rows": 2}),
        error_messages={"required": "Write what is wanted, as the client says it."},
    )
    number = LengthField(
        label="Length, if there is one",
        required=False,
        help_text="For a seam’s height or spacing, or the highest visible upstand.",
    )
    who_asked = forms.CharField(
        label="Who asked",
        max_length=120,
        error_messages={"required": "Name the person who asked for it."},
    )

    def __init__(self, *args: Any, unit: Unit = "in", **kwargs: Any) -> None:
        super().__init__(*args, **{"prefix": "rule", **kwargs})
        self.fields["number"].unit = unit  # type: ignore[attr-defined]

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        kind, words = cleaned.get("kind"), cleaned.get("words", "")
        # A faulty length has its own message already; the key is missing then.
        if kind in LooksRule.WITH_LENGTH and cleaned.get("number", 0) is None:
            self.add_error("number", "This kind is checked against a length. Give it.")
        if kind not in LooksRule.WITH_LENGTH and cleaned.get("number") is not None:
            self.add_error(
                "number",
                "This kind has no length to check. Leave it empty and say it in words.",
            )
        if (
            kind == LooksRule.Kind.COUNTERFLASHING
            and words
            and sum(word in words.lower() for word in COUNTERFLASHINGS) != 1
        ):
            self.add_error("words", f"“{words}”: say stepped or raked, one of the two.")
        return cleaned

    def typed(self) -> dict[str, Any]:
        return {
            "kind": self.cleaned_data["kind"],
            "words": self.cleaned_data["words"],
            "number_mm": self.cleaned_data["number"],
            "who_asked": self.cleaned_data["who_asked"],
        }


class SettleForm(forms.Form):
    """The client's word on a rule."""

    standing = forms.ChoiceField(
        choices=[
            (LooksRule.Standing.AGREED, "agreed: we hold to it"),
            (LooksRule.Standing.WAIVED, "waived: it need not be so"),
        ],
        widget=forms.RadioSelect,
        label="The client’s word",
        error_messages={"required": "Choose agreed or waived."},
    )
    settled_by = forms.CharField(
        label="Whose word",
        max_length=120,
        error_messages={"required": "Name the person on the client’s side."},
    )
    settled_on = DayField(label="On which day")

    def clean_settled_on(self) -> Any:
        day = self.cleaned_data["settled_on"]
        if day > timezone.localdate():
            raise forms.ValidationError(
                f"{day:%a} {day.day} {day:%b %Y} is still to come. "
                "Give the day on which the word was given."
            )
        return day
