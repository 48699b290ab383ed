"""Roof pans: slope, seam height, length and width by metal."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from layout.families.pan import PanAlone
from layout.folding.result import Finding
from layout.rules import seams
from layout.rules.case import Case

INCH, FOOT = 25.4, 304.8


class Bounds(NamedTuple):
    """What the trade uses, mm. fixed: longest pan held by fixed cleats alone;
    longest: of any; narrow, wide: finished width. 0 = no source."""

    fixed: float
    longest: float
    narrow: float
    wide: float
    source: str


BY_METAL = {
    "copper": Bounds(
        10 * FOOT,
        0.0,
        18 * INCH,
        24 * INCH,
        "Copper in Architecture Design Handbook, sections 8.2 and 8.8: pans 18 to "
        "24 in wide, fixed cleats only up to 10 ft",
    ),
    "zinc": Bounds(
        3000.0,
        10000.0,
        330.0,
        530.0,
        "zinc producers' standing seam guide: bays 330 to 530 mm wide, up to 10 m "
        "long, up to 3 m on fixed clips alone",
    ),
    "steel": Bounds(
        4000.0,
        0.0,
        0.0,
        0.0,
        "NZ Metal Roof and Wall Cladding Code of Practice v3.0, provision for "
        "expansion: up to 4 m without sliding clips",
    ),
}


def size(case: Case) -> Iterator[Finding]:
    """Length and width against what the trade uses for the metal."""
    made = case.assembly
    bounds = BY_METAL.get(case.shop.metal.kind)
    if not isinstance(made, PanAlone) or bounds is None:
        return
    pan = made.pan

    def found(rule: str, message: str, remedy: str) -> Finding:
        return Finding(
            "warning", "practice", rule, message, remedy, "RP", bounds.source
        )

    if bounds.longest and pan.length > bounds.longest:
        yield found(
            "pan length",
            f"the pan is {case.show(pan.length)} long; at most "
            f"{case.show(bounds.longest)} is usual",
            "Divide it by a lock across the slope.",
        )
    elif pan.length > bounds.fixed:
        yield found(
            "cleats that slide",
            f"the pan is {case.show(pan.length)} long; up to "
            f"{case.show(bounds.fixed)} fixed cleats will do",
            "Hold it with sliding cleats, fixed in one zone only.",
        )
    if bounds.wide and not bounds.narrow - 1e-6 <= pan.width <= bounds.wide + 1e-6:
        yield found(
            "pan width",
            f"the pan is {case.show(pan.width)} wide; usual is "
            f"{case.show(bounds.narrow)} to {case.show(bounds.wide)}",
            "Keep it only where it must match what is there.",
        )


def roof(case: Case) -> Iterator[Finding]:
    """Slope and seam height, by the rules of every standing seam."""
    made = case.assembly
    if isinstance(made, PanAlone):
        yield from seams.slope_of_roof(case, made.pan.pitch, made.pan.seam)
        yield from seams.height_of(case, made.pan.seam)
        yield from seams.printed(case)
