from __future__ import annotations

from typing import Any

from django import forms

from jobs.models import Site


class SiteForm(forms.ModelForm):
    class Meta:
        model = Site
        fields = ["kind", "name", "units", "roof_notes", "hazards"]
        widgets = {
            "roof_notes": forms.Textarea(attrs={"rows": 4}),
            "hazards": forms.Textarea(attrs={"rows": 4}),
        }

    def typed(self) -> dict[str, Any]:
        return dict(self.cleaned_data)


class PlaceForm(forms.ModelForm):
    """Another place on the same job."""

    class Meta:
        model = Site
        fields = ["kind", "name", "units"]
        widgets = {"kind": forms.RadioSelect}
        labels = {"kind": "What is there", "name": "Name of the place"}

    def typed(self) -> dict[str, Any]:
        return dict(self.cleaned_data)
