"""The lay_out process against a bare start of the framework. Aim: 2 times."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path

from tests import sites
from tests.benchmarks import clock

ROOT = Path(__file__).parents[2]
BARE = "import django; django.setup()"


def _run(*words: str) -> None:
    places = {**os.environ, "DJANGO_SETTINGS_MODULE": "shop.settings"}
    command = [sys.executable, *words]
    subprocess.run(command, cwd=ROOT, env=places, check=True, capture_output=True)


def lines() -> list[str]:
    site = str(sites.SAMPLES / "saddle-copper-in.json")
    bare = clock.children(lambda: _run("-c", BARE), 7)
    found = [f"{'bare start':28} {bare:7.0f} ms"]
    with tempfile.TemporaryDirectory() as held:
        for sheets in ("fold", "fold,svg,dxf", "fold,svg,dxf,pdf"):
            words = ("manage.py", "lay_out", site, "--out", f"{held}/set")
            time = clock.children(
                lambda words=words, sheets=sheets: _run(*words, "--sheets", sheets),  # type: ignore[misc]
                7,
            )
            found.append(
                f"{'lay_out --sheets ' + sheets:34} {time:7.0f} ms "
                f"{time / bare:5.2f} x a bare start (aim 2)"
            )
    return found
