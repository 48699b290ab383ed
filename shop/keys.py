"""Keys that make a second tap on the same button harmless."""

from __future__ import annotations

import secrets

from shop.models import Person


def new_key() -> str:
    return secrets.token_hex(8)


def key_of(person: Person, act: str, key: str | None) -> str | None:
    """One person's key for one act: nobody else's tap, and no other act, can hit it."""
    return f"{person.pk}:{act}:{key}" if key else None
