"""A whole set with its proof, warm, on one core. Aim: 16 ms for one site, whatever
its kind, and 500 ms for a roof of 80 pieces."""

from __future__ import annotations

from typing import Any

from layout import run
from tests import elsewhere, sites
from tests.benchmarks import clock

AIM = 16.0  # ms
ROOF, ROOF_AIM = 80, 500.0  # pieces, ms


def lines() -> list[str]:
    kinds = {name: sites.sample(name) for name in sites.samples()}
    kinds |= {name: elsewhere.record(name) for name in elsewhere.names()}
    found = [_line(name, record, AIM) for name, record in kinds.items()]
    return [*found, _line("a whole roof", _roof(list(kinds.values())), ROOF_AIM)]


def _line(name: str, record: dict[str, Any], aim: float) -> str:
    made = run.lay_out(record)
    time = clock.processor(lambda: run.lay_out(record), 15)
    return (
        f"{name:28} {len(made.pieces):3} pieces {time:7.1f} ms "
        f"{time / aim:5.1f} x the aim of {aim:.0f} ms"
    )


def _roof(records: list[dict[str, Any]]) -> dict[str, Any]:
    """Every kind in turn, until the roof has its pieces."""
    several: list[dict[str, Any]] = []
    count = 0
    while count < ROOF:
        record = records[len(several) % len(records)]
        several.append(record)
        count += len(run.lay_out(record).pieces)
    return {"format": "seambook.site/1", "several": several}
