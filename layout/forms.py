"""The measure sheet and the choices of a layout: forms over the schema's measures."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from jobs.forms.fields import KeyedForm, reason_field
from jobs.models import Measurement
from layout import measures
from layout.measures import CHOSEN, MEASURES, Measure, Taken
from shop.models import Metal
from shop.units import Unit

TAKEN_WITH = ("tape", "folding rule", "laser", "level and rule", "drawing", "by eye")


class MeasureField(forms.CharField):
    """One measure as the tape says it. Cleans to (as typed, what was read) or None."""

    def __init__(self, measure: Measure, unit: Unit, **more: Any) -> None:
        self.measure = measure
        self.unit: Unit = unit
        super().__init__(
            label=measure.title, help_text=measure.words, required=False, **more
        )

    def clean(self, value: Any) -> tuple[str, Taken] | None:
        words = super().clean(value)
        if not words:
            return None
        try:
            return words, measures.read(self.measure, words, self.unit)
        except ValueError as fault:
            raise ValidationError(str(fault), code="measure") from None


class SheetForm(KeyedForm):
    """Measures of a site, none of them required: a sheet may be filled in parts.

    counted: name -> the measure that counts now. Lists show it; lengths are typed
    afresh, because typing one is taking it again.
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
        only: Iterable[Measure] = MEASURES,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.counted = counted
        self.only = list(only)
        for measure in self.only:
            field = MeasureField(measure, unit, widget=_widget(measure, counted))
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
    """How a chimney is to be built. What was chosen before stands in the fields."""

    taken_with = None  # type: ignore[assignment]
    note = None  # type: ignore[assignment]

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        choices = [it for it in MEASURES if it.group in CHOSEN]
        super().__init__(*args, only=choices, **kwargs)
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


def _widget(measure: Measure, counted: Mapping[str, Measurement]) -> forms.Widget:
    if measure.name == "metal":
        return forms.Select(choices=_metals(counted.get("metal")))
    if measure.choices:
        blank = [("", "not chosen yet")]
        return forms.Select(choices=blank + [(it, it) for it in measure.choices])
    return forms.TextInput(
        attrs={
            "autocomplete": "off",
            "autocapitalize": "off",
            "spellcheck": "false",
            "placeholder": "",
        }
    )


def _metals(now: Measurement | None) -> list[tuple[str, str]]:
    """The metals of the shop, and the one that was chosen although no longer kept."""
    names = list(Metal.objects.active().values_list("name", flat=True))
    if now is not None and now.value_text not in names:
        names.append(now.value_text)
    return [("", "not chosen yet"), *((name, name) for name in names)]
