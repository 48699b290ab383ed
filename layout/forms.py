"""The measure sheet and the choices of a layout: forms over the schema's measures."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from jobs.forms.fields import KeyedForm, reason_field
from jobs.models import Measurement
from jobs.models.sites import LONGEST
from layout import measures
from layout.measures import Measure, Taken
from shop.models import Metal
from shop.units import Unit

TAKEN_WITH = ("tape", "folding rule", "laser", "level and rule", "drawing", "by eye")


class MeasureField(forms.CharField):
    """One measure as the tape says it. Cleans to (as typed, what was read) or None."""

    def __init__(self, measure: Measure, unit: Unit, **more: Any) -> None:
        self.measure = measure
        self.unit: Unit = unit
        super().__init__(
            label=measure.title,
            help_text=measure.words,
            required=False,
            max_length=LONGEST,
            **more,
        )

    def clean(self, value: Any) -> tuple[str, Taken] | None:
        words = "\n".join(super().clean(value).splitlines())
        if not words:
            return None
        try:
            return words, measures.read(self.measure, words, self.unit)
        except ValueError as fault:
            raise ValidationError(str(fault), code="measure") from None


class SheetForm(KeyedForm):
    """Measures of a site, none of them required: a sheet may be filled in parts.

    counted: name -> the measure that counts now. Lists show it; lengths are typed
    afresh, because typing one is taking it again. metals: names of those the shop
    keeps; fetched where they are not given.
    """

    taken_with = forms.ChoiceField(
        label="Taken with", choices=[(it, it) for it in TAKEN_WITH]
    )
    note = forms.CharField(
        label="Note on these measures",
        required=False,
        max_length=300,
        help_text="For example: taken again, the tape had slipped.",
    )

    def __init__(
        self,
        *args: Any,
        unit: Unit,
        counted: Mapping[str, Measurement],
        only: Iterable[Measure],
        metals: Sequence[str] | None = None,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.counted = counted
        self.only = list(only)
        for measure in self.only:
            widget = _widget(measure, counted, metals)
            field = MeasureField(measure, unit, widget=widget)
            self.fields[measure.slug] = field
            now = counted.get(measure.name)
            if isinstance(field.widget, forms.Select) and now is not None:
                self.initial.setdefault(measure.slug, now.value_text)

    def typed(self) -> dict[str, tuple[str, Taken]]:
        """Name -> (as typed, what was read) of those filled in or chosen otherwise."""
        found: dict[str, tuple[str, Taken]] = {}
        for measure in self.only:
            given = self.cleaned_data.get(measure.slug)
            if given is not None and not self._stands(measure, given[1]):
                found[measure.name] = given
        return found

    def _stands(self, measure: Measure, taken: Taken) -> bool:
        """A list left as it was is not taken again."""
        now = self.counted.get(measure.name)
        chosen = isinstance(self.fields[measure.slug].widget, forms.Select)
        return chosen and now is not None and now.value_text == taken.text


class ChoicesForm(SheetForm):
    """How a place is to be built. What was chosen before stands in the fields."""

    taken_with = None  # type: ignore[assignment]
    note = None  # type: ignore[assignment]

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for measure in self.only:
            now = self.counted.get(measure.name)
            self.fields[measure.slug].required = measure.required
            self.fields[measure.slug].error_messages["required"] = (
                f"{measure.title} is not chosen yet."
            )
            if now is not None:
                self.initial.setdefault(measure.slug, now.as_typed)

    def _stands(self, measure: Measure, taken: Taken) -> bool:
        now = self.counted.get(measure.name)
        if now is None:
            return False
        if taken.mm is not None and now.value_mm is not None:
            return abs(float(taken.mm) - float(now.value_mm)) < 1e-6
        return now.value_text == taken.text


class ChooseForm(forms.Form):
    """Lets an older measure count, with a reason."""

    reason = reason_field("Why this one counts")


def _widget(
    measure: Measure,
    counted: Mapping[str, Measurement],
    metals: Sequence[str] | None,
) -> forms.Widget:
    if measure.name == "metal":
        kept = metals_kept() if metals is None else metals
        return forms.Select(choices=_metals(kept, counted.get("metal")))
    if measure.choices:
        offered = [*measure.choices, *([measures.NONE] if measure.nullable else [])]
        blank = [("", "not chosen yet")]
        return forms.Select(choices=blank + [(it, it) for it in offered])
    if measure.reads == "section":
        return forms.Textarea(
            attrs={
                "rows": 8,
                "autocapitalize": "off",
                "spellcheck": "false",
                "maxlength": LONGEST,
            }
        )
    return forms.TextInput(
        attrs={
            "autocomplete": "off",
            "autocapitalize": "off",
            "spellcheck": "false",
            "placeholder": "",
        }
    )


def metals_kept() -> list[str]:
    """Names of the metals the shop keeps."""
    return list(Metal.objects.active().values_list("name", flat=True))


def _metals(kept: Sequence[str], now: Measurement | None) -> list[tuple[str, str]]:
    """The metals of the shop, and the one that was chosen although no longer kept."""
    names = list(kept)
    if now is not None and now.value_text not in names:
        names.append(now.value_text)
    return [("", "not chosen yet"), *((name, name) for name in names)]
