"""A client is found by words and picked among a few: no list grows with the years."""

from __future__ import annotations

from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.http import QueryDict

from jobs.models import Client
from jobs.models.clients import ClientQuerySet

MOST = 6
"""Clients offered at once: what is read at a glance. Our own rule."""
LONGEST = 100
NEW = "a new client, written below"


class FindField(forms.CharField):
    """Words to find a client by."""

    widget = forms.TextInput(attrs={"type": "search", "autocomplete": "off"})

    def __init__(self, **given: Any) -> None:
        super().__init__(
            label="Find a client we know",
            required=False,
            max_length=LONGEST,
            help_text="Part of the name, phone, e-mail or address.",
            **given,
        )


class ClientField(forms.ModelChoiceField):
    """Any client is taken; only those found, and the one picked, are shown."""

    def __init__(self, **given: Any) -> None:
        super().__init__(
            Client.objects.none(),
            widget=forms.RadioSelect,
            error_messages={
                "required": "Choose the client.",
                "invalid_choice": "This client is not there. Choose another.",
            },
            **given,
        )
        self.found = ""

    def offer(self, clients: ClientQuerySet, words: str, picked: Any) -> None:
        """words: as typed; picked: a client's id as sent, or nothing.

        Without words a booking offers the newest clients, a change only its own.
        """
        self.queryset = clients
        rows = [row for row in [self._picked(picked)] if row]
        if words:
            some = list(clients.matching(words).by_name()[: MOST + 1])
            self.found = _told(len(some))
            rows += some[:MOST]
        elif not self.required:
            rows += clients.order_by("-pk")[:MOST]
        shown = {row.pk: _label(row) for row in rows}
        first = [] if self.required else [("", NEW)]
        self.widget.choices = [*first, *shown.items()]

    def _picked(self, picked: Any) -> Client | None:
        try:
            return self.to_python(picked)
        except ValidationError:
            return None


def as_words(typed: Any) -> str:
    """What was typed to find by, as it can be searched for."""
    return " ".join(str(typed or "").replace("\0", " ").split())[:LONGEST]


def is_looking(sent: QueryDict) -> bool:
    """Whether the form was sent to find a client, not to be saved."""
    if "look" in sent:
        return True
    decided = sent.get("client") or sent.get("client_name", "").strip()
    return bool(as_words(sent.get("find")) and not decided)


def _label(client: Client) -> str:
    more = [client.phone, ", ".join(client.address.splitlines())]
    return " · ".join([client.name, *(words for words in more if words)])


def _told(many: int) -> str:
    if many > MOST:
        return f"More than {MOST} found. Type a little more."
    return {0: "None found.", 1: "1 found."}.get(many, f"{many} found.")
