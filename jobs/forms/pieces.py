from __future__ import annotations

import re
from typing import Any

from django import forms

from jobs.forms.fields import KeyedForm, reason_field
from jobs.models import Piece


class PieceForm(KeyedForm):
    """One tap: the stage a piece goes to."""

    to = forms.CharField(max_length=20, widget=forms.HiddenInput)
    back_to = forms.ChoiceField(
        choices=[(it, it) for it in ("", "today", "job", "piece")],
        required=False,
        widget=forms.HiddenInput,
    )


class UndoForm(KeyedForm):
    """Taking back and holding: both want a reason."""

    reason = reason_field()


class ReleaseForm(KeyedForm):
    reason = reason_field("Reason, if there is one", required=False)


class ScrapForm(KeyedForm):
    reason = forms.ChoiceField(
        label="What went wrong",
        choices=Piece.Spoiled.choices,
        widget=forms.RadioSelect,
        error_messages={"required": "Choose what went wrong."},
    )
    note = reason_field("More words", required=False)


class AskForm(forms.Form):
    """A piece asked for by hand."""

    mark = forms.CharField(
        max_length=20,
        help_text="Short, as it will be scribed on the metal: A, SL, C2.",
        error_messages={"required": "Give the piece a mark."},
    )
    family = forms.CharField(
        label="Kind of piece",
        max_length=40,
        widget=forms.TextInput(attrs={"list": "kinds", "autocomplete": "off"}),
        help_text="In the shop’s words: apron, side pan, back pan.",
        error_messages={"required": "Say what kind of piece it is."},
    )
    hand = forms.ChoiceField(
        required=False, choices=[("", "neither"), *Piece.Hand.choices]
    )
    quantity = forms.IntegerField(min_value=1, max_value=9999, initial=1)
    metal = forms.CharField(max_length=60, required=False)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **{"prefix": "ask", **kwargs})

    def clean_mark(self) -> str:
        mark = self.cleaned_data["mark"].strip()
        if not re.fullmatch(r"[\w.-]+", mark):
            raise forms.ValidationError(
                f"“{mark}”: use letters, digits, dot and hyphen only, no blanks."
            )
        return mark

    def clean_family(self) -> str:
        words = self.cleaned_data["family"].strip().lower()
        if not re.fullmatch(r"[a-z][a-z0-9 _-]*", words):
            raise forms.ValidationError(f"“{words}”: use plain letters and digits.")
        return re.sub(r"[ -]+", "_", words)
