"""How each kind of metal moves with its warmth, and how cold it may be folded.

Pure data, like shop/tables.py, which puts it into the rows of the metals.
"""

from __future__ import annotations

from typing import NamedTuple


class Warmth(NamedTuple):
    """expansion: mm per metre per °C, along and across the rolling direction.

    fold_from_c: the metal, not the air, in °C; None where no source has a bound.
    """

    expansion_along_mm_m: float
    expansion_across_mm_m: float
    expansion_source: str
    fold_from_c: float | None = None
    fold_source: str = ""


WARMTH: dict[str, Warmth] = {
    "copper": Warmth(
        0.01764,
        0.01764,
        "Copper in Architecture Design Handbook, Table 1.1A: 9.8e-6 per °F (trade"
        " value 1.04); the same sheet is printed with 9.4e-6 and 9.5e-6 elsewhere",
    ),
    "zinc": Warmth(
        0.022,
        0.017,
        "zinc producers' data: 0.022 mm/m per °C along rolling, 0.017 across (trade"
        " value 5.32)",
        10.0,
        "zinc producers' working guide; architectural materials text: 10 °C (50 °F),"
        " the metal, not the air; no heavy blows while it is cold (trade values 6.11"
        " to 6.13)",
    ),
    "steel": Warmth(
        0.012,
        0.012,
        "handbooks, from memory: carbon steel 11.7e-6 to 12e-6 per °C",
    ),
    "painted steel": Warmth(
        0.012,
        0.012,
        "handbooks, from memory: carbon steel 11.7e-6 to 12e-6 per °C",
        10.0,
        "coil coaters' guidance, from memory: the coat wants a larger radius below"
        " 10 °C; store it inside before folding (trade value 6.16)",
    ),
    "stainless": Warmth(
        0.0173,
        0.0173,
        "handbooks, from memory: type 304 17.2e-6 to 17.3e-6 per °C",
    ),
    "aluminium": Warmth(
        0.0236,
        0.0236,
        "materials textbook, Table B.6: 23.6e-6 per °C (trade value 5.39)",
    ),
    "lead": Warmth(
        0.0293,
        0.0293,
        "materials textbook, Table B.6: 29.3e-6 per °C (trade value 5.40)",
    ),
}
