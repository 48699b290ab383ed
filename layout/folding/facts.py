"""Facts about metal, brake and shop, handed in from outside as plain values."""

from __future__ import annotations

from dataclasses import dataclass

from layout.geometry.point import Point


@dataclass(frozen=True, slots=True)
class MetalFacts:
    """One metal as the trade sells it.

    thickness: mm; density: kg per cubic metre; smallest_radius: inside, mm
    sides: what the two sides are called, the weather side first
    stretch: elongation before it tears, share, for swept turns; 0 = unknown
    """

    name: str
    kind: str
    thickness: float
    density: float
    smallest_radius: float
    sides: str
    source: str
    stretch: float = 0.0


@dataclass(frozen=True, slots=True)
class BrakeFacts:
    """One brake. Lengths in mm, largest_angle in degrees from flat.

    jaw, bed, leaf: its section as convex shapes, counter-clockwise, the fold
    line at the origin, the clamped metal along -x; () = a usual one
    """

    name: str
    length: float
    throat: float
    smallest_flange: float
    largest_angle: float
    radius: float
    jaw: tuple[tuple[Point, ...], ...] = ()
    bed: tuple[tuple[Point, ...], ...] = ()
    leaf: tuple[tuple[Point, ...], ...] = ()


@dataclass(frozen=True, slots=True)
class StockFacts:
    """One form a metal comes in. length 0 = coil, cut to any length. mm."""

    metal: str
    form: str
    width: float
    length: float


@dataclass(frozen=True, slots=True)
class ShopFacts:
    """All that the shop holds to while one site is laid out.

    standards: key -> value in mm, degrees or a word
    sources: key -> where the value comes from
    """

    metal: MetalFacts
    brake: BrakeFacts
    stocks: tuple[StockFacts, ...]
    standards: dict[str, float | str]
    sources: dict[str, str]

    def number(self, key: str) -> float:
        return float(self.standards[key])

    def word(self, key: str) -> str:
        return str(self.standards[key])
