"""Start-up checks: what would go wrong later is said now, with what to do."""

from __future__ import annotations

import os
from collections.abc import Sequence
from ipaddress import ip_address
from pathlib import Path
from typing import Any

from django.apps import AppConfig
from django.conf import settings
from django.core.checks import CheckMessage, Error, Warning, register


@register()
def files_lie_outside_the_checkout(
    app_configs: Sequence[AppConfig] | None, **kwargs: Any
) -> list[CheckMessage]:
    """Photos and documents beside the code would be committed or wiped with it."""
    faults: list[CheckMessage] = []
    folders = {"SEAMBOOK_MEDIA": settings.MEDIA_ROOT}
    if settings.SEAMBOOK_HOME in Path(settings.DATABASES["default"]["NAME"]).parents:
        folders["SEAMBOOK_HOME"] = settings.SEAMBOOK_HOME
    for name, folder in folders.items():
        if Path(folder).resolve().is_relative_to(settings.CHECKOUT):
            faults.append(
                Error(
                    f"{name} is {folder}, inside the checkout.",
                    hint=f"Set {name} to a folder outside {settings.CHECKOUT}.",
                    id="shop.E001",
                )
            )
    return faults


@register()
def files_can_be_written(
    app_configs: Sequence[AppConfig] | None, **kwargs: Any
) -> list[CheckMessage]:
    folder = Path(settings.MEDIA_ROOT)
    while not folder.exists():
        folder = folder.parent
    if os.access(folder, os.W_OK):
        return []
    return [
        Error(
            f"{settings.MEDIA_ROOT} can't be written.",
            hint="Give the folder to the account that runs this, or set"
            " SEAMBOOK_MEDIA to another one.",
            id="shop.E002",
        )
    ]


@register()
def secret_key_is_long(
    app_configs: Sequence[AppConfig] | None, **kwargs: Any
) -> list[CheckMessage]:
    if len(settings.SECRET_KEY) >= 40:
        return []
    return [
        Error(
            "SEAMBOOK_SECRET_KEY is shorter than 40 signs.",
            hint="Unset it: one is made and kept in SEAMBOOK_HOME at the first start.",
            id="shop.E003",
        )
    ]


@register()
def debugging_stays_at_home(
    app_configs: Sequence[AppConfig] | None, **kwargs: Any
) -> list[CheckMessage]:
    abroad = [host for host in settings.ALLOWED_HOSTS if not _is_loopback(host)]
    if not abroad:
        return []
    if settings.DEBUG:
        return [
            Error(
                f"SEAMBOOK_DEBUG is on and SEAMBOOK_HOSTS names {abroad[0]}.",
                hint="Unset SEAMBOOK_DEBUG: its error pages show the shop's data.",
                id="shop.E004",
            )
        ]
    if not settings.HTTPS:
        return [
            Warning(
                f"SEAMBOOK_HOSTS names {abroad[0]} and SEAMBOOK_HTTPS is off.",
                hint="Serve over HTTPS and set SEAMBOOK_HTTPS=yes, or passwords"
                " cross the network in the clear.",
                id="shop.W001",
            )
        ]
    return []


def _is_loopback(host: str) -> bool:
    try:
        return ip_address(host.strip("[]")).is_loopback
    except ValueError:
        return host in ("localhost", "testserver")
