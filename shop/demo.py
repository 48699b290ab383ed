"""The demo shop: invented people, and the tables a shop starts with."""

from __future__ import annotations

import secrets

from django.db import transaction

from shop.models import Person, ShopProfile
from shop.opening import open_shop

SHOP_NAME = "Saltmarsh Seam Works (demo)"
PEOPLE = (
    ("hazel", "Hazel", "Quillfeather", Person.Role.OWNER),
    ("wren", "Wren", "Tidewater", Person.Role.OFFICE),
    ("rowan", "Rowan", "Marlowe-Pike", Person.Role.CREW),
)
_WORDS = (
    "apron brake cleat copper course gable hem ridge saddle seam slate zinc".split()
)


class NotTheDemo(Exception):
    """The home holds a real shop, which the demo must not touch."""


@transaction.atomic
def open_demo_shop() -> tuple[Person, str]:
    """The demo's owner and a fresh password for its three people.

    Raises NotTheDemo in a home with people of its own.
    """
    strangers = Person.objects.exclude(username__in=[row[0] for row in PEOPLE])
    profile = ShopProfile.current()
    if strangers.exists() or (profile.name != SHOP_NAME and Person.objects.exists()):
        raise NotTheDemo(
            "This home holds a shop of its own, and the demo would write in it."
            " Set SEAMBOOK_HOME to an empty folder and run the demo again."
        )
    open_shop()
    ShopProfile.objects.update_or_create(
        pk=1, defaults={"name": SHOP_NAME, "address": "1 Tideline Row\nSaltmarsh"}
    )
    password = new_password()
    for username, first, last, role in PEOPLE:
        person, _ = Person.objects.get_or_create(
            username=username,
            defaults={"first_name": first, "last_name": last, "role": role},
        )
        person.set_password(password)
        person.save(update_fields=["password"])
    return Person.objects.get(role=Person.Role.OWNER), password


def new_password() -> str:
    return "-".join(secrets.choice(_WORDS) for _ in range(4)) + str(
        secrets.randbelow(90)
    )
