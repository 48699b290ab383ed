"""All rules over one laid-out site, in the order a person reads them."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from layout.folding.result import Finding
from layout.rules import bench, cover, looks, metals, seams, upslope
from layout.rules.case import Case

RULES: tuple[Callable[[Case], Iterable[Finding]], ...] = (
    upslope.saddle_needed,
    upslope.trough_falls,
    upslope.metal_above,
    cover.upstands,
    cover.onto_the_roof,
    cover.counterflashing_laps,
    seams.slope,
    seams.height,
    seams.sweeps,
    bench.flanges,
    bench.angles,
    bench.lengths,
    bench.stock,
    metals.touching,
    metals.run_off,
    looks.kept,
)
LEVELS = ("blocking", "warning", "note")


def judge(case: Case) -> list[Finding]:
    """Every finding, blocking ones first."""
    found = [finding for rule in RULES for finding in rule(case)]
    return sorted(found, key=lambda finding: LEVELS.index(finding.level))
