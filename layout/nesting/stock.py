"""What it is cut from: sheets, coil and offcuts, and what a rest is worth.

Takes sizes in mm and money in any one currency.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import isfinite
from typing import Literal

Form = Literal["sheet", "coil", "offcut"]


@dataclass(frozen=True, slots=True)
class Stock:
    """One row of metal to cut from.

    name: what it is known by; unique within a plan
    width: across the rolling direction, mm
    length: along it, mm; of coil the length left, 0 = as much as is wanted
    price: money for one square mm; 1.0 counts area alone
    count: how many sheets or offcuts there are, None = as many as are wanted;
    a coil is always one
    trim: edge to be cut off all round (of coil, off both edges), mm
    longest: longest piece cut off a coil, mm; 0 = no limit
    Raises ValueError for a size, price or count that can't be.
    """

    name: str
    form: Form
    width: float
    length: float = 0.0
    price: float = 1.0
    count: int | None = None
    trim: float = 0.0
    longest: float = 0.0

    def __post_init__(self) -> None:
        checks = (
            ("width", self.width, self.width > 0),
            ("length", self.length, self.length > (-1 if self.form == "coil" else 0)),
            ("price", self.price, self.price > 0),
            ("count", self.count or 0, self.count is None or self.count >= 0),
            ("trim", self.trim, self.trim >= 0),
            ("longest", self.longest, self.longest >= 0),
        )
        for field, value, holds in checks:
            if not (isfinite(value) and holds):
                raise ValueError(
                    f"stock {self.name}: {field} was {value}; give a number over 0"
                    if field in ("width", "length", "price")
                    else f"stock {self.name}: {field} was {value}; it can't be below 0"
                )
        if 2 * self.trim >= self.width:
            raise ValueError(
                f"stock {self.name}: a trim of {self.trim} mm leaves nothing of its"
                f" width of {self.width} mm; give a smaller trim"
            )


@dataclass(frozen=True, slots=True)
class Keep:
    """What becomes of the rests.

    width, length: least sides of an offcut worth keeping, mm, either way round
    worth: share of its price at which a kept offcut counts, 0 to 1; at 0 it
    only decides between plans of the same cost
    Common practice, no source: 6 x 12 in.
    """

    width: float = 152.4
    length: float = 304.8
    worth: float = 0.0

    def __post_init__(self) -> None:
        if not 0 <= self.worth <= 1:
            raise ValueError(
                f"what a kept offcut is worth was {self.worth}; give a share of its"
                " price from 0 to 1"
            )
