from __future__ import annotations

from typing import Any

from django import forms

from jobs.booking import TYPED
from jobs.forms.fields import DayField, LengthField, reason_field
from jobs.forms.picking import ClientField, FindField, as_words
from jobs.models import Client, Job
from jobs.models.clients import ClientQuerySet
from shop.units import Unit

NEW_CLIENT = {
    "client_name": "name",
    "client_phone": "phone",
    "client_email": "email",
    "client_address": "address",
}


class ChangeForm(forms.ModelForm):
    """All that is written down about a job while the client is on the phone."""

    find = FindField()
    client = ClientField(label="Client")
    present_seam_height_mm = LengthField(label="Height of that seam", required=False)
    present_pan_width_mm = LengthField(
        label="Width of a pan, seam to seam", required=False
    )
    wished_from = DayField(label="Wished, from", required=False)
    wished_until = DayField(label="Wished, until", required=False)
    visit_on = DayField(label="Site visit", required=False)
    install_from = DayField(label="First install day", required=False)
    install_until = DayField(
        label="Last install day",
        required=False,
        help_text="Leave it empty when one day is enough.",
    )
    version = forms.IntegerField(required=False, widget=forms.HiddenInput)

    class Meta:
        model = Job
        fields = list(TYPED)
        widgets = {
            field: forms.Textarea(attrs={"rows": 3})
            for field in ("site_address", "leaks", "access")
        }
        error_messages = {
            "title": {"required": "Give the job a few words to be known by."},
        }

    def __init__(
        self, *args: Any, clients: ClientQuerySet, unit: Unit = "in", **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self._clients = clients
        self._offer()
        for name in ("present_seam_height_mm", "present_pan_width_mm"):
            self.fields[name].unit = unit  # type: ignore[attr-defined]
        self.fields["version"].initial = self.instance.version
        self.fields["present_seam_kind"].choices = [  # type: ignore[attr-defined]
            ("", "not said"),
            *Job.Seam.choices,
        ]

    def _offer(self) -> None:
        client = self.fields["client"]
        assert isinstance(client, ClientField)
        words = as_words(self["find"].value())
        client.offer(self._clients, words, self["client"].value())

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        self._found_is_picked()
        if cleaned.get("install_from") and not cleaned.get("install_until"):
            if "install_until" not in self.errors:
                cleaned["install_until"] = cleaned["install_from"]
        if cleaned.get("install_until") and not cleaned.get("install_from"):
            if "install_from" not in self.errors:
                self.add_error("install_from", "Give the first install day too.")
        self._in_order("wished_from", "wished_until")
        self._in_order("install_from", "install_until")
        return cleaned

    def _found_is_picked(self) -> None:
        """Nobody saves one client with another's name still in the search."""
        words, picked = self.cleaned_data.get("find"), self.cleaned_data.get("client")
        if not words or not picked:
            return
        if not self._clients.matching(words).filter(pk=picked.pk).exists():
            self.add_error(
                "client",
                f"{picked} is chosen, but “{words}” was searched for. Choose one that"
                " was found, or empty the search.",
            )

    def _in_order(self, first: str, last: str) -> None:
        begins, ends = self.cleaned_data.get(first), self.cleaned_data.get(last)
        if begins and ends and ends < begins:
            self.add_error(
                last,
                f"{ends:%a} {ends.day} {ends:%b %Y} is before "
                f"{begins:%a} {begins.day} {begins:%b %Y}. Change one of the two.",
            )

    def validate_constraints(self) -> None:
        # The database keeps these promises; the messages above say them in words.
        return

    def typed(self) -> dict[str, Any]:
        return {field: self.cleaned_data[field] for field in TYPED}


class BookingForm(ChangeForm):
    """The same, with the client picked or written down on the same page."""

    client_name = forms.CharField(label="Name", max_length=120, required=False)
    client_phone = forms.CharField(label="Phone", max_length=40, required=False)
    client_email = forms.EmailField(label="E-mail", required=False)
    client_address = forms.CharField(
        label="Postal address",
        required=False,
        max_length=500,
        widget=forms.Textarea(attrs={"rows": 3}),
    )

    client = ClientField(label="Whose job it is", required=False)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in NEW_CLIENT:
            self.fields[name].widget.attrs["autocomplete"] = "off"

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean()
        picked, name = cleaned.get("client"), cleaned.get("client_name")
        if picked and name:
            self.add_error(
                "client_name",
                f"{picked} is chosen above and {name} is written here. Keep one.",
            )
        elif not picked and not name and "client" not in self.errors:
            self.add_error(
                "client", "Choose a client, or write the name of a new one below."
            )
        return cleaned

    def _get_validation_exclusions(self) -> set[str]:
        # The client may still be to be made; the view makes it first.
        excluded: set[str] = super()._get_validation_exclusions()  # type: ignore[misc]
        return {*excluded, "client"}

    def new_client(self) -> dict[str, Any]:
        return {field: self.cleaned_data[name] for name, field in NEW_CLIENT.items()}


class FindForm(forms.Form):
    """What the list of jobs shows."""

    SHOW = [
        ("open", "open"),
        ("waiting", "waiting for measures"),
        ("week", "this week"),
        ("closed", "closed"),
        ("all", "all"),
    ]
    words = forms.CharField(
        label="Search",
        required=False,
        max_length=100,
        help_text="Number, title, client or address.",
        widget=forms.TextInput(attrs={"type": "search"}),
    )
    show = forms.ChoiceField(choices=SHOW, required=False)
    client = forms.ModelChoiceField(
        queryset=Client.objects.none(),
        required=False,
        widget=forms.HiddenInput,
        error_messages={"invalid_choice": "There is no such client."},
    )

    def __init__(self, *args: Any, clients: ClientQuerySet, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["client"].queryset = clients  # type: ignore[attr-defined]


class CloseForm(forms.Form):
    state = forms.ChoiceField(
        label="How it ends",
        choices=[(Job.State.DONE, "handed over"), (Job.State.OFF, "called off")],
        widget=forms.RadioSelect,
        error_messages={"required": "Choose handed over or called off."},
    )
    reason = reason_field(required=False)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        if cleaned.get("state") == Job.State.OFF and not cleaned.get("reason"):
            if "reason" not in self.errors:
                self.add_error("reason", "Say in a few words why it is called off.")
        return cleaned


class ReasonForm(forms.Form):
    reason = reason_field()
