"""Step flashing: least size, and lap over the step below."""

from __future__ import annotations

from collections.abc import Iterator

from layout.families.steps import Row
from layout.folding.result import Finding
from layout.rules.case import Case

INCH = 25.4
SIZE = 4 * INCH
"""Step flashing at least 4 by 4 in: IRC R905.2.8.3, from memory; base flashing
in stepped pieces 4 in up and 4 in on to the roof: Copper in Architecture Design
Handbook, section 9.8."""
LONGER = 2 * INCH
"""A step is 2 in longer than the exposure: NRCA practice, from memory."""
LAP = 3 * INCH
"""Base flashing laps 3 in: Unified Facilities Guide Specification 07600, p.17."""


def size(case: Case) -> Iterator[Finding]:
    """Legs shorter than the code's least."""
    made = case.assembly
    if not isinstance(made, Row):
        return
    for what, given in (
        ("up the wall", made.steps.up_wall),
        ("on to the roof", made.steps.onto_roof),
    ):
        if given < SIZE - 1e-6:
            yield Finding(
                "warning",
                "code",
                "step flashing size",
                f"the steps go {case.show(given)} {what}; at least {case.show(SIZE)}",
                "Make them larger; ask the building department.",
                "SF",
                "IRC R905.2.8.3, from memory; Copper in Architecture Design Handbook, "
                "section 9.8: 4 in",
            )


def lap(case: Case) -> Iterator[Finding]:
    """The sources differ: 2 in past the exposure, or a lap of 3 in."""
    made = case.assembly
    if not isinstance(made, Row):
        return
    given = made.steps.lap
    for level, least, source in (
        ("warning", LONGER, "NRCA practice, from memory: exposure + 2 in"),
        ("note", LAP, "Unified Facilities Guide Specification 07600, p.17: lap 3 in"),
    ):
        if given < least - 1e-6:
            yield Finding(
                level,  # type: ignore[arg-type]
                "practice",
                "step flashing lap",
                f"each step laps the one below by {case.show(given)}; this source "
                f"wants {case.show(least)}",
                "Make the steps longer, or ask whoever checks the work which binds.",
                "SF",
                source,
            )
