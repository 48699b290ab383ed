"""Pipe collars: how far the flange reaches on to the roof."""

from __future__ import annotations

from collections.abc import Iterator

from layout.families.pipe import Collar
from layout.folding.result import Finding
from layout.rules.case import Case

INCH = 25.4
UP_ROOF = 6 * INCH
"""A collar's flange reaches 6 in up the roof: Sheet Metal Drafting, p.93."""
ELSEWHERE = 3 * INCH
"""And 3 in on the other three sides: Sheet Metal Drafting, p.93."""


def flange(case: Case) -> Iterator[Finding]:
    """A flange narrower than the handbook's, above the pipe and round the rest."""
    made = case.assembly
    if not isinstance(made, Collar):
        return
    for given, least, where in (
        (made.pipe.above, UP_ROOF, "above the pipe"),
        (made.pipe.flange, ELSEWHERE, "on the other three sides"),
    ):
        if given < least - 1e-6:
            yield Finding(
                "warning",
                "practice",
                "collar's flange",
                f"the flange is {case.show(given)} wide {where}; at least "
                f"{case.show(least)}",
                "Make it wider there, unless what lies over it covers as much.",
                "F",
                "Sheet Metal Drafting, p.93: 6 in up the roof, 3 in on the other sides",
            )
