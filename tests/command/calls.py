"""Runs of the lay_out command: what it says, what it writes, how it ends."""

from __future__ import annotations

import io
import json
from pathlib import Path
from typing import Any, NamedTuple

from django.core.management import call_command


class Ran(NamedTuple):
    """One run. code: exit status; said, faults: lines of both outputs."""

    code: int
    said: list[str]
    faults: list[str]


def lay_out(site: Path, out: Path, *options: str, sheets: str = "fold") -> Ran:
    """The command in this process."""
    said, faults = io.StringIO(), io.StringIO()
    code = 0
    try:
        call_command(
            "lay_out",
            str(site),
            "--out",
            str(out),
            "--sheets",
            sheets,
            *options,
            stdout=said,
            stderr=faults,
            no_color=True,
        )
    except SystemExit as ended:
        code = int(ended.code or 0)
    return Ran(code, _lines(said), _lines(faults))


def _lines(stream: io.StringIO) -> list[str]:
    return [line for line in stream.getvalue().splitlines() if line]


def written(folder: Path, record: Any, name: str = "site.json") -> Path:
    """A record as a file."""
    path = folder / name
    path.write_text(json.dumps(record))
    return path


def contents(folder: Path) -> dict[str, bytes]:
    """Name and bytes of everything in a folder."""
    return {path.name: path.read_bytes() for path in folder.iterdir()}
