"""A whole set with its proof, warm, on one core. Aim: 16 ms."""

from __future__ import annotations

from layout import run
from tests import sites
from tests.benchmarks import clock

AIM = 16.0  # ms


def lines() -> list[str]:
    found = []
    for name in sites.samples():
        site = sites.sample(name)
        made = run.lay_out(site)
        time = clock.processor(lambda site=site: run.lay_out(site), 15)  # type: ignore[misc]
        found.append(
            f"{name:28} {len(made.pieces):3} pieces {time:7.1f} ms "
            f"{time / AIM:5.1f} x the aim of {AIM:.0f} ms"
        )
    return found
