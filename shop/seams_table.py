"""Standing seams as the trade's sources print them: legs, height, metal lost.

Pure data, like shop/tables.py. The same finished seam loses more or less by who
prints it and by what it is made with, so the loss is a row and never a formula.
"""

from __future__ import annotations

from typing import NamedTuple

INCH = 25.4  # mm, exact


def _in(inches: float) -> float:
    return round(inches * INCH, 3)


class SeamRow(NamedTuple):
    """One printed seam of one kind of metal. All lengths in mm.

    made: hand (legs folded up straight) or machine (bays rolled to shape)
    receiving_mm, covering_mm: the legs, crease to cut edge; None where the source
    prints the loss alone. lost_mm: what one bay loses to its two edges.
    play_mm: gap at the seam's foot, 0 where none is printed.
    """

    metal_kind: str
    made: str
    fold: str
    receiving_mm: float | None
    covering_mm: float | None
    height_mm: float
    lost_mm: float
    play_mm: float
    source: str


_1920S = "Copper Roofings, Copper and Brass Research Association, 1920s, p.6"
_TABLE = (
    "Copper in Architecture Design Handbook, Table 8.2A, from memory (trade value {})"
)
_FEDERAL = (
    "Unified Facilities Guide Specification 07600, p.14: second leg 1 3/4 in; first"
    " leg 1 1/2 in from memory (trade values 1.38 and 2.21)"
)
_ZINC_LEGS = (
    "zinc producers' standing seam guide: legs 35 and 45 mm for a 25 mm seam (trade"
    " value 2.01); play 3 to 5 mm, from memory"
)

SEAMS: tuple[SeamRow, ...] = (
    SeamRow(
        "copper", "hand", "double",
        _in(1.25), _in(1.5), INCH, _in(2.75), 0.0,
        f"{_1920S} (trade value 1.36)",
    ),
    SeamRow(
        "copper", "hand", "double",
        INCH, _in(1.25), _in(0.75), _in(2.25), 0.0,
        f"{_1920S} (trade value 1.37)",
    ),
    SeamRow(
        "copper", "hand", "double",
        _in(1.5), _in(1.75), INCH, _in(3.25), 0.0,
        f"{_FEDERAL}; loss: {_TABLE.format('1.34')}",
    ),
    SeamRow(
        "copper", "hand", "double",
        None, None, _in(0.75), _in(2.75), 0.0,
        _TABLE.format("1.33"),
    ),
    SeamRow(
        "copper", "hand", "double",
        None, None, 25.0, 75.0, 0.0,
        "Copper Development Association UK guides, from memory: about 75 mm a bay"
        " for long strip (trade value 2.24); height 25 mm: common practice, no source",
    ),
    SeamRow(
        "zinc", "hand", "double",
        35.0, 45.0, 25.0, 80.0, 3.0, _ZINC_LEGS,
    ),
    SeamRow(
        "zinc", "machine", "double",
        None, None, 25.0, 70.0, 3.0,
        "zinc producers' systems: bays of 430 and 530 mm with a 25 mm seam; from strip"
        " of 500 and 600 mm, from memory (trade values 2.02 to 2.04)",
    ),
    SeamRow(
        "stainless", "hand", "double",
        35.0, 45.0, 25.0, 80.0, 0.0,
        "Euro Inox, Technical Guide to Stainless Steel Roofing, 2nd ed., from memory"
        " (trade value 2.19)",
    ),
    SeamRow(
        "steel", "hand", "double",
        _in(1.5), _in(1.75), INCH, _in(3.25), 0.0,
        f"{_FEDERAL}; for steel as for copper",
    ),
)  # fmt: skip
