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
    expansion: per °C along the rolling direction, expansion_across: across it;
    0 = unknown
    fold_from: lowest temperature of the metal for folding, °C; None = no bound
    """

    name: str
    kind: str
    thickness: float
    density: float
    smallest_radius: float
    sides: str
    source: str
    stretch: float = 0.0
    expansion: float = 0.0
    expansion_across: float = 0.0
    expansion_source: str = ""
    fold_from: float | None = None
    fold_source: str = ""


@dataclass(frozen=True, slots=True)
class BrakeFacts:
    """One brake. Lengths in mm, largest_angle in degrees from flat.

    jaw, bed, leaf: its section as convex shapes, counter-clockwise, the fold
    line at the origin, the clamped metal along -x; () = a usual one
    smallest_clamp: least metal the jaws must hold; 0 = as smallest_flange
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
    smallest_clamp: float = 0.0

    @property
    def clamp(self) -> float:
        """Least metal behind the fold line, mm."""
        return self.smallest_clamp or self.smallest_flange


@dataclass(frozen=True, slots=True)
class StockFacts:
    """One form a metal comes in. length 0 = coil, cut to any length. mm."""

    metal: str
    form: str
    width: float
    length: float


@dataclass(frozen=True, slots=True)
class PairFacts:
    """Two kinds of metal and what their meeting does.

    meeting: "contact" has no direction; "run-off" goes from the first on to
    the second
    """

    first: str
    second: str
    meeting: str
    why: str
    source: str


@dataclass(frozen=True, slots=True)
class SeamFacts:
    """One standing seam as a source prints it for a kind of metal. mm.

    made: "hand" or "machine"; receiving, covering: the legs, 0 = not printed
    lost: what one bay loses to its two edges; play: gap at the seam's foot
    """

    metal_kind: str
    made: str
    fold: str
    receiving: float
    covering: float
    height: float
    lost: float
    play: float
    source: str

    def first_fold(self) -> float:
        """What the covering leg folds over the receiving one, mm.

        Example: legs 35 and 45 -> 10. 0 where the legs are not printed.
        """
        return self.covering - self.receiving

    def second_fold(self) -> float:
        """What is then folded down to the finished height, mm.

        Example: leg 35, height 25 -> 10. 0 where the legs are not printed.
        """
        return self.receiving - self.height if self.receiving else 0.0

    def bay(self, strip: float) -> float:
        """Width from seam to seam that a strip leaves, mm. 600 - 80 -> 520."""
        return strip - self.lost


@dataclass(frozen=True, slots=True)
class ShopFacts:
    """All that the shop holds to while one site is laid out.

    standards: key -> value in mm, degrees or a word
    sources: key -> where the value comes from
    pairs: metals that must not meet; seams: as the sources print them, for
    every kind of metal
    """

    metal: MetalFacts
    brake: BrakeFacts
    stocks: tuple[StockFacts, ...]
    standards: dict[str, float | str]
    sources: dict[str, str]
    pairs: tuple[PairFacts, ...] = ()
    seams: tuple[SeamFacts, ...] = ()

    def number(self, key: str) -> float:
        return float(self.standards[key])

    def word(self, key: str) -> str:
        return str(self.standards[key])
