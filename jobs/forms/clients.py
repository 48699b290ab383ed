from __future__ import annotations

from typing import Any

from django import forms

from jobs.models import Client


class FindClientForm(forms.Form):
    words = forms.CharField(
        label="Search",
        required=False,
        max_length=100,
        help_text="Name, phone, e-mail or address.",
        widget=forms.TextInput(attrs={"type": "search"}),
    )


class ClientForm(forms.ModelForm):
    version = forms.IntegerField(required=False, widget=forms.HiddenInput)

    class Meta:
        model = Client
        fields = ["name", "phone", "email", "address", "note"]
        widgets = {
            "name": forms.TextInput(attrs={"autocomplete": "off"}),
            "phone": forms.TextInput(attrs={"type": "tel", "autocomplete": "off"}),
            "email": forms.EmailInput(attrs={"autocomplete": "off"}),
            "address": forms.Textarea(attrs={"rows": 3}),
            "note": forms.Textarea(attrs={"rows": 3}),
        }
        error_messages = {"name": {"required": "Write the client’s name."}}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["version"].initial = self.instance.version

    def typed(self) -> dict[str, Any]:
        return {field: self.cleaned_data[field] for field in self._meta.fields or ()}
