"""All rules over one laid-out site, in the order a person reads them."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from layout.families.chimney import Around
from layout.folding.result import Finding
from layout.rules import (
    bench,
    cover,
    curbs,
    long_runs,
    looks,
    metals,
    pans,
    pipes,
    seams,
    steps,
    thickness,
    upslope,
)
from layout.rules.case import Case

Rule = Callable[[Case], Iterable[Finding]]

ANYWHERE: tuple[Rule, ...] = (
    bench.by_hand,
    bench.lengths,
    bench.stock,
    bench.radius,
    thickness.least,
    metals.touching,
    metals.run_off,
    metals.folding_temperature,
)
AROUND: tuple[Rule, ...] = (
    upslope.saddle_needed,
    upslope.trough_falls,
    upslope.metal_above,
    curbs.stand,
    cover.upstands,
    cover.onto_the_roof,
    cover.counterflashing_laps,
    seams.slope,
    seams.height,
    seams.printed,
    seams.layers,
    seams.sweeps,
    looks.kept,
    looks.seam_matches,
)
"""Rules for chimneys and curbs only."""
ELSEWHERE: tuple[Rule, ...] = (
    long_runs.along_wall,
    long_runs.divided,
    long_runs.joints,
    steps.size,
    steps.lap,
    pans.size,
    pipes.flange,
    pans.roof,
)
"""Rules that look for their own kind of site, and pass over the others."""

LEVELS = ("blocking", "warning", "note")


def judge(case: Case) -> list[Finding]:
    """Every finding, blocking ones first."""
    rules = ELSEWHERE + ANYWHERE
    if isinstance(case.assembly, Around):
        rules = AROUND + ANYWHERE
    found = [finding for rule in rules for finding in rule(case)]
    return sorted(found, key=lambda finding: LEVELS.index(finding.level))
