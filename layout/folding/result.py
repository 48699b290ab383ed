"""What the core hands out: laid pieces, their joints, their proofs, findings."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from layout.folding.facts import BrakeFacts, StockFacts
from layout.folding.pattern import FlatPattern, JointLine
from layout.folding.seam import Seam
from layout.geometry.point import Point
from layout.geometry.space import Vec

Hand = Literal["left", "right", "none"]


@dataclass(frozen=True, slots=True)
class Step:
    """One fold on the brake in section: what lies behind and before the jaws.

    Fold line at the origin, clamped metal along -x, the leaf along +x, up +y.
    back: (n) places from the fold line backwards
    before, after: (m) places forwards, before and after the leaf has swung
    """

    back: tuple[Point, ...]
    before: tuple[Point, ...]
    after: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Fold:
    """One fold as the bench makes it.

    order: 1, 2, ... in which the folds are made
    line: (2) points in the bench frame
    angle: degrees from flat, 0 < angle <= 180
    direction: as the blank lies weather side up
    where: on the brake or with hand tools
    what: upstand, leg, hem, hook, drip, pocket, ridge, valley, corner ...
    over: made with the sheet turned over
    why, frees: why it is left to hand tools, and what would let the brake do it
    step: how it lies in the brake; None for a fold by hand
    """

    order: int
    line: tuple[Point, Point]
    angle: float
    direction: Literal["up", "down"]
    where: Literal["brake", "hand"]
    what: str
    over: bool = False
    why: str = ""
    frees: str = ""
    step: Step | None = None


@dataclass(frozen=True, slots=True)
class Mark:
    """One running distance from the datum corner, along an edge of the blank.

    edge: "datum" (bottom) and "far" (top) run along x from the left;
    "left" and "right" run along y from the bottom.
    distance: mm from the datum corner's end of that edge
    of: what the mark belongs to, such as "fold 3" or "corner 5"
    at: the place in the bench frame
    """

    edge: Literal["datum", "far", "left", "right"]
    distance: float
    of: str
    at: Point


@dataclass(frozen=True, slots=True)
class Proof:
    """Figures of one piece folded back by its own creases. Lengths in mm."""

    closure: float
    seat: float
    overlap: float
    meeting: float
    shed: bool


@dataclass(frozen=True, slots=True)
class Side:
    """One piece's side of a joint. leg: 0 for a plain lap, else mm."""

    mark: str
    at: JointLine

    @property
    def leg(self) -> float:
        return self.at.leg


@dataclass(frozen=True, slots=True)
class Joint:
    """Two pieces that meet. `upper` covers `lower` along the flow of water.

    kind: "lap", "single fold", "double fold"
    promised: mm by which the upper line lies below the lower one (a lap), or
    0 where both lie on one line (a seam)
    flow: unit direction of the water across the joint, roof frame
    """

    name: str
    kind: Literal["lap", "single fold", "double fold"]
    upper: Side
    lower: Side
    promised: float
    flow: Vec


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece to cut and fold, with all that its sheet says.

    seam: the roof's standing seam where there is one, which its legs match
    """

    mark: str
    family: str
    title: str
    hand: Hand
    quantity: int
    pattern: FlatPattern
    metal: str
    thickness: float
    area: float
    weight: float
    folds: tuple[Fold, ...]
    marks: tuple[Mark, ...]
    proof: Proof
    notes: tuple[str, ...] = ()
    seam: Seam | None = None


@dataclass(frozen=True, slots=True)
class Finding:
    """Something a person can put right. Printed whole.

    level: note, warning or blocking
    kind: "code" (a building code), "practice" (handbook, trade) or "shop"
    where: mark of the piece, or "" for the whole set
    """

    level: Literal["note", "warning", "blocking"]
    kind: Literal["code", "practice", "shop", "client"]
    rule: str
    message: str
    remedy: str
    where: str
    source: str


@dataclass(frozen=True, slots=True)
class LaidSet:
    """A whole site laid out: pieces, joints and findings; site facts to draw.

    units: what lengths are shown in, "in" or "mm"
    key_plan: outline of the penetration in the roof plane, (4) places; none
    where the site has no penetration
    sides: what the metal's two sides are called, the weather side first
    radius: inside, on which the flats were made, mm; brake: the shop's own, on
    which the folds were planned; stocks: the metals' forms the shop buys
    allowance: the rule by which the flats are made for the metal's thickness
    """

    site: dict[str, object]
    units: str
    pieces: tuple[Piece, ...]
    joints: tuple[Joint, ...]
    findings: tuple[Finding, ...]
    key_plan: tuple[Vec, ...]
    pitch: float
    refused: tuple[str, ...] = ()
    allowance: str = "none"
    sides: str = ""
    radius: float = 0.0
    brake: BrakeFacts | None = None
    stocks: tuple[StockFacts, ...] = ()
