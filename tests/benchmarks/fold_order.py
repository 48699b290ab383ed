"""The search for a fold order against the number of folds. Aim: 10 folds under 1 s."""

from __future__ import annotations

from typing import Any

from layout import run
from layout.folding import bench, order
from layout.folding.facts import BrakeFacts
from layout.shop_facts import shop_facts
from tests.benchmarks import clock

AIM = 1000.0  # ms
METAL = "zinc 0.7 mm"
COUNTS = (2, 4, 6, 8, 10, 12)
# The loosest section and one that must be turned over again and again.
SECTIONS = {"one way": ("up", "up"), "to and fro": ("up", "down")}


def lines() -> list[str]:
    brake = shop_facts(METAL).brake
    found = []
    for name, ways in SECTIONS.items():
        first = 0.0
        for count in COUNTS:
            time = _time(_record(count, ways), brake)
            first = first or time
            found.append(
                f"{name:12} {count:3} folds {time:8.2f} ms {time / first:6.1f} x two "
                f"folds, {time / AIM:6.3f} x the aim for ten"
            )
    return found


def _time(record: dict[str, Any], brake: BrakeFacts) -> float:
    (piece,) = run.lay_out(record).pieces
    folds = bench.folds(piece.pattern)
    return clock.processor(lambda: order.plan(piece.pattern, folds, brake), 9)


def _record(count: int, ways: tuple[str, str]) -> dict[str, Any]:
    """A profile of that many folds of 45 degrees or less: a half round at most."""
    angle = min(45.0, 180.0 / count)
    section: list[dict[str, Any]] = [{"leg": "60"}]
    for i in range(count):
        section += [{"fold": angle, "direction": ways[i % 2]}, {"leg": str(40 + 5 * i)}]
    return {
        "format": "seambook.site/1",
        "units": "mm",
        "profile": {
            "length": "1000",
            "section": section,
            "far_end": None,
            "radius": "1.75",
            "faces": "outside",
        },
        "metal": METAL,
    }
