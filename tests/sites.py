"""Sites of our own to lay out: good defaults, changed by dotted path."""

from __future__ import annotations

import copy
import json
from collections.abc import Mapping
from functools import cache
from math import cos, radians, sin
from pathlib import Path
from typing import Any

from layout import run
from layout.folding.result import LaidSet, Piece
from layout.geometry.space import Vec

SAMPLES = Path(__file__).parent / "samples"
INCH = 25.4

PLAIN: dict[str, Any] = {
    "format": "seambook.site/1",
    "units": "in",
    "penetration": {
        "kind": "chimney",
        "front": "33",
        "back": "33",
        "left": "26 1/2",
        "right": "26 1/2",
        "diagonal": None,
    },
    "roof": {
        "pitch": "7:12",
        "left_pan": "11 1/4",
        "right_pan": "13 5/8",
        "below": "9 1/2",
        "above": "26",
        "seam": {"fold": "double", "height": "1", "turn": "3/8"},
    },
    "walls": {
        "upstand_front": "6 1/2",
        "upstand_side": "7",
        "upstand_back": "8 1/2",
        "material": "brick",
        "course": "2 2/3",
        "reglet": "9",
    },
    "metal": "copper 20 oz",
    "build": {
        "back": "saddle",
        "counterflashing": "stepped",
        "sweep_radius": "2 3/4",
        "leg_at_wall_top": "1/2",
    },
}


def record(changes: Mapping[str, object] | None = None) -> dict[str, Any]:
    """The plain site with values changed, named by their path in the record.

    front and width are shorthand: "width" sets front and back, "depth" left and
    right, "upstands" all three.
    """
    made = copy.deepcopy(PLAIN)
    for path, value in (changes or {}).items():
        for whole in ALIKE.get(path, (path,)):
            *folders, last = whole.split(".")
            inner = made
            for folder in folders:
                inner = inner[folder]
            inner[last] = value
    return made


ALIKE = {
    "width": ("penetration.front", "penetration.back"),
    "depth": ("penetration.left", "penetration.right"),
    "upstands": ("walls.upstand_front", "walls.upstand_side", "walls.upstand_back"),
    "pitch": ("roof.pitch",),
    "back": ("build.back",),
    "counterflashing": ("build.counterflashing",),
}


def sample(name: str) -> dict[str, Any]:
    """One of the sample records by its file's name, without its ending."""
    loaded: dict[str, Any] = json.loads((SAMPLES / f"{name}.json").read_text())
    return loaded


def samples() -> list[str]:
    """Names of all sample records."""
    return sorted(path.stem for path in SAMPLES.glob("*.json"))


def laid(site: Mapping[str, object]) -> LaidSet:
    """The site laid out; the same site is laid out once in a run of tests."""
    return _laid(json.dumps(site, sort_keys=True))


@cache
def _laid(text: str) -> LaidSet:
    return run.lay_out(json.loads(text), allowance="none")


def laid_with(changes: Mapping[str, object] | None = None) -> LaidSet:
    """The plain site with changes, laid out."""
    return laid(record(changes))


def piece(made: LaidSet, mark: str) -> Piece:
    """The piece of that mark. Raises StopIteration where there is none."""
    return next(p for p in made.pieces if p.mark == mark)


def plumb(pitch: float) -> Vec:
    """Straight up in the roof frame (geometry, section 1). pitch: degrees."""
    return Vec(0, sin(radians(pitch)), cos(radians(pitch)))
