"""How far metal moves with its warmth, and how far a run may go without a joint.

Takes a length and the metal's expansion, gives movement, mm.
"""

from __future__ import annotations

from typing import NamedTuple


class Figure(NamedTuple):
    """A published figure. value: mm."""

    value: float
    source: str


FOOT = 304.8

INTERVAL: dict[str, Figure] = {
    "copper": Figure(
        40 * FOOT, "Unified Facilities Guide Specification 07600, p.22: 40 ft"
    ),
    "stainless": Figure(
        40 * FOOT, "Unified Facilities Guide Specification 07600, p.22: 40 ft"
    ),
    "aluminium": Figure(
        32 * FOOT, "Unified Facilities Guide Specification 07600, p.22: 32 ft"
    ),
    "zinc": Figure(10000.0, "zinc producers' standing seam guide: strips up to 10 m"),
    "steel": Figure(
        18000.0,
        "NZ Metal Roof and Wall Cladding Code of Practice v3.0, expansion details: "
        "18 m",
    ),
    "lead": Figure(1500.0, "UK lead practice: pieces of at most 1.5 m"),
}
"""Longest run from one expansion joint to the next, mm."""


def movement(length: float, expansion: float, swing: float) -> float:
    """How far a length moves, in the length's own unit.

    expansion: per degree; swing: degrees of the same kind from coldest to
    warmest. Restrained metal strains by the same share.
    Example: 120 in of copper, 9.8e-6 per °F, 150 °F -> 0.1764 in.
    """
    return length * expansion * swing
