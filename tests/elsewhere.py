"""Records of sites of our own elsewhere on the roof, changed by dotted path."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from layout.folding.result import LaidSet
from tests import sites

SAMPLES = sites.SAMPLES / "elsewhere"


def names() -> list[str]:
    """Names of all these records."""
    return sorted(path.stem for path in SAMPLES.glob("*.json"))


def record(name: str, changes: Mapping[str, object] | None = None) -> dict[str, Any]:
    """One record by its file's name, with values changed by their path."""
    made: dict[str, Any] = json.loads((SAMPLES / f"{name}.json").read_text())
    for path, value in (changes or {}).items():
        *folders, last = path.split(".")
        inner = made
        for folder in folders:
            inner = inner[folder]
        inner[last] = value
    return made


def laid(name: str, changes: Mapping[str, object] | None = None) -> LaidSet:
    """The record laid out."""
    return sites.laid(record(name, changes))


def rules_found(made: LaidSet) -> set[str]:
    """Names of the rules that found something."""
    return {finding.rule for finding in made.findings}
