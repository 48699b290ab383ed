from __future__ import annotations

import re

import pytest
from django.core.management import call_command

from tests.house.tree import CHECKOUT, ROOMS


@pytest.mark.django_db
def test_no_migration_is_missing() -> None:
    call_command("makemigrations", "--check", "--dry-run", verbosity=0)


def test_migrations_are_named_for_their_effect() -> None:
    for room in ROOMS:
        for path in (CHECKOUT / room / "migrations").glob("0*.py"):
            assert re.fullmatch(r"\d{4}_[a-z0-9_]{8,}", path.stem), path
            assert not re.search(r"_auto_|_initial$|_alter_.*_and_more$", path.stem), (
                path
            )
