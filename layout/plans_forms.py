from __future__ import annotations

from typing import Any

from django import forms

from jobs.forms.fields import KeyedForm, reason_field
from jobs.models import Job
from layout.models.plans import LONGEST, SHORTEST
from shop.models import Metal


class PlanForm(forms.Form):
    """What a cut plan is asked for."""

    key = forms.CharField(required=False, max_length=64, widget=forms.HiddenInput)
    metal = forms.ModelChoiceField(
        Metal.objects.none(),
        empty_label=None,
        error_messages={"required": "Choose the metal."},
    )
    jobs = forms.ModelMultipleChoiceField(
        Job.objects.none(),
        label="Jobs",
        widget=forms.CheckboxSelectMultiple,
        error_messages={"required": "Choose at least one job."},
    )
    finish = forms.CharField(
        required=False,
        max_length=60,
        help_text="As on the rack. Empty: metal without a finish of its own.",
    )
    seconds = forms.IntegerField(
        label="Seconds to search",
        min_value=SHORTEST,
        max_value=LONGEST,
        help_text="A first plan is there at once. It gets better, and you may stop it.",
    )
    rolled = forms.BooleanField(
        required=False,
        label="Keep every blank to the rolling direction",
        help_text="For a finish that shows which way it lies.",
    )
    may_order = forms.BooleanField(
        required=False,
        initial=True,
        label="Metal may be ordered where the rack is short",
    )

    def __init__(self, *args: Any, jobs: Any, metals: Any, **given: Any) -> None:
        super().__init__(*args, **given)
        self.fields["jobs"].queryset = jobs  # type: ignore[attr-defined]
        self.fields["metal"].queryset = metals  # type: ignore[attr-defined]


class CutForm(KeyedForm):
    """One tap at the bench: the next cut, or all that are left."""

    seen = forms.IntegerField(min_value=0, max_value=9999)
    many = forms.ChoiceField(choices=[("one", "one"), ("all", "all")], required=False)


class ReasonForm(KeyedForm):
    reason = reason_field()


class DropForm(KeyedForm):
    reason = reason_field("Reason, if there is one", required=False)
