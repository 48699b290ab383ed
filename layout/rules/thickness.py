"""Metal thinner than a code's least, for a covering and for flashing."""

from __future__ import annotations

from collections.abc import Iterator

from layout.families.pan import PanAlone
from layout.folding.movement import Figure
from layout.folding.result import Finding
from layout.rules.case import Case

INCH = 25.4
OUNCE = 0.45359237 / 16 / 0.3048**2
"""One ounce a square foot, kg/m2: by definition of both units."""

COVERING: dict[str, Figure] = {
    "aluminium": Figure(0.024 * INCH, "IBC 2018 Table 1507.4.3(1): 0.024 in"),
    "copper": Figure(
        16 * OUNCE / 8.93,
        "IBC 2018 Table 1507.4.3(1): 16 oz a square foot of cold-rolled copper, 12 oz "
        "where it is high-yield copper",
    ),
    "zinc": Figure(0.027 * INCH, "IRC Table R905.10.3, from memory: 0.027 in"),
}
"""Thinnest metal of a roof covering, mm; copper's by weight at 8,930 kg/m3."""

FLASHING = 0.019 * INCH
"""Thinnest metal flashing, mm: IRC R903.2.1, IBC 1503.2.1 (0.019 in, no. 26
galvanized), from memory."""

SLACK = 0.005
"""A nominal thickness is given to a hundredth of a mm; half of that. Our own bound."""


def least(case: Case) -> Iterator[Finding]:
    """The metal against the least thickness of what it is made into."""
    metal = case.shop.metal
    wanted, made = Figure(FLASHING, "IRC R903.2.1, from memory: 0.019 in"), "flashing"
    if isinstance(case.assembly, PanAlone):
        if metal.kind not in COVERING:
            return
        wanted, made = COVERING[metal.kind], "roof pans"
    if metal.thickness >= wanted.value - SLACK:
        return
    yield Finding(
        "warning",
        "code",
        "metal thinner than the code's least",
        f"{metal.name} is {metal.thickness:.3f} mm ({metal.thickness / INCH:.4f} in) "
        f"thick; {made} of {metal.kind} want {wanted.value:.3f} mm "
        f"({wanted.value / INCH:.4f} in)",
        "Take a thicker metal, or ask the building department.",
        "",
        wanted.source,
    )
