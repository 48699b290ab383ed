"""The world of the tests: three people of the shop, their clients, a place for files.

Settings are read only after a home of our own is named here, so that no test touches
the data of whoever runs it.
"""

from __future__ import annotations

import os
import socket
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import django
import pytest

_home = tempfile.TemporaryDirectory(prefix="seambook-tests-")
os.environ["SEAMBOOK_HOME"] = _home.name
os.environ.pop("SEAMBOOK_MEDIA", None)
os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shop.settings")
django.setup()


@pytest.fixture(autouse=True)
def _no_network(monkeypatch: pytest.MonkeyPatch) -> None:
    """Only this machine may be spoken to."""
    connect = socket.socket.connect

    def at_home(self: socket.socket, address: Any) -> None:
        if isinstance(address, tuple) and address[0] not in ("127.0.0.1", "::1"):
            if address[0] != "localhost":
                raise AssertionError(f"A test spoke to {address[0]}.")
        connect(self, address)

    monkeypatch.setattr(socket.socket, "connect", at_home)


@pytest.fixture(autouse=True)
def _files(request: pytest.FixtureRequest) -> None:
    """Every test with a database has its own folder for photos and papers."""
    if "django_db_setup" in request.fixturenames or request.node.get_closest_marker(
        "django_db"
    ):
        request.getfixturevalue("media_folder")
        request.getfixturevalue("in_place")


@pytest.fixture
def media_folder(tmp_path: Path, settings: Any) -> Path:
    settings.MEDIA_ROOT = tmp_path / "files"
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    settings.AXES_ENABLED = False
    return settings.MEDIA_ROOT


@pytest.fixture
def in_place() -> Iterator[None]:
    """Errands are carried at once, where they are asked for, after the commit."""
    from shop.celery import app

    # As a worker does at its start: every room tells what it can carry.
    app.loader.import_default_modules()
    app.conf.task_always_eager = True
    yield
    app.conf.task_always_eager = False


@pytest.fixture
def opened(db: None) -> None:
    """The metals, standards, brakes and stock a shop starts with."""
    from shop.opening import open_shop

    open_shop()


def _person(name: str, role: str) -> Any:
    from shop.models import Person

    return Person.objects.create_user(
        name.lower(), password="a long word", first_name=name, role=role
    )


@pytest.fixture
def office(db: None) -> Any:
    return _person("Wren", "office")


@pytest.fixture
def crew(db: None) -> Any:
    return _person("Rowan", "crew")


@pytest.fixture
def owner(db: None) -> Any:
    return _person("Hazel", "owner")


def _signed_in(person: Any = None) -> Any:
    from django.test import Client

    client = Client()
    if person:
        client.force_login(person, backend="django.contrib.auth.backends.ModelBackend")
    return client


@pytest.fixture
def office_client(office: Any) -> Any:
    return _signed_in(office)


@pytest.fixture
def crew_client(crew: Any) -> Any:
    return _signed_in(crew)


@pytest.fixture
def owner_client(owner: Any) -> Any:
    return _signed_in(owner)


@pytest.fixture
def stranger_client(db: None) -> Any:
    """Someone who has not signed in."""
    return _signed_in()
