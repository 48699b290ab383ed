"""A real browser on a real server: Debian's chromium, two sizes of screen."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
SCREENS = {"phone": (390, 844), "desk": (1280, 900)}

# Playwright's own loop runs in this thread; the tests here only use its plain calls.
os.environ.setdefault("DJANGO_ALLOW_ASYNC_UNSAFE", "true")


@pytest.fixture(scope="session")
def chromium() -> Iterator[Any]:
    playwright = pytest.importorskip("playwright.sync_api")
    path = shutil.which("chromium")
    if path is None:
        pytest.skip("no chromium on this machine")
    with playwright.sync_playwright() as play:
        browser = play.chromium.launch(executable_path=path, args=FLAGS)
        yield browser
        browser.close()


@pytest.fixture
def pictures(tmp_path: Path) -> Path:
    """Where screenshots go: the folder SEAMBOOK_PICTURES names, or a temporary one."""
    folder = Path(os.environ.get("SEAMBOOK_PICTURES", str(tmp_path)))
    folder.mkdir(parents=True, exist_ok=True)
    return folder


@pytest.fixture
def open_page(chromium: Any, live_server: Any) -> Iterator[Any]:
    """open_page(person, screen, scheme, script) -> a page, signed in by cookie."""
    from django.conf import settings
    from django.test import Client

    contexts = []

    def opened(
        person: Any = None,
        screen: str = "desk",
        scheme: str = "light",
        script: bool = True,
    ) -> Any:
        width, height = SCREENS[screen]
        context = chromium.new_context(
            base_url=live_server.url,
            viewport={"width": width, "height": height},
            color_scheme=scheme,
            java_script_enabled=script,
            has_touch=screen == "phone",
            reduced_motion="reduce",
        )
        contexts.append(context)
        if person:
            client = Client()
            client.force_login(
                person, backend="django.contrib.auth.backends.ModelBackend"
            )
            context.add_cookies(
                [
                    {
                        "name": settings.SESSION_COOKIE_NAME,
                        "value": client.cookies[settings.SESSION_COOKIE_NAME].value,
                        "url": live_server.url,
                    }
                ]
            )
        context.set_default_timeout(6000)
        return context.new_page()

    yield opened
    for context in contexts:
        context.close()
