"""All drafts of one site and the joints between them, before proof."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Literal

from layout.families.draft import Draft
from layout.folding.allowance import Bend, Faces
from layout.folding.corner import CannotFold
from layout.folding.pattern import other_hand
from layout.folding.seam import Seam
from layout.geometry.space import Plane, Vec, flipped

DOWN_SLOPE = Vec(0, -1, 0)


@dataclass(frozen=True, slots=True)
class JointPlan:
    """upper covers lower: (mark, joint line) each. promised: lap in mm along
    flow, 0 for a seam."""

    kind: Literal["lap", "seam"]
    upper: tuple[str, str]
    lower: tuple[str, str]
    promised: float = 0.0
    flow: Vec = DOWN_SLOPE

    def mirrored(self) -> JointPlan:
        def turn(end: tuple[str, str]) -> tuple[str, str]:
            mark = end[0].translate(str.maketrans("LR", "RL"))
            return mark, other_hand(end[1])

        return JointPlan(
            self.kind,
            turn(self.upper),
            turn(self.lower),
            self.promised,
            flipped(self.flow),
        )


@dataclass(slots=True)
class Assembly:
    """What a site is made of.

    walls: measured planes by wall name, for the proof of seat
    roof_seam: the roof's standing seam, as this metal is folded to match it;
    None where there is none
    width: of the penetration, about which pieces are mirrored, mm
    fall: of the trough or valley behind the chimney, degrees; 0 = none
    refused: what cannot be built, and why
    corners, pitch: for the key plan; none where there is no roof
    bend: the fold that was asked for; None = the shop's own
    faces: what legs are measured to; None = the face that touches the building
    """

    walls: dict[str, Plane] = field(default_factory=dict)
    roof_seam: Seam | None = None
    width: float = 0.0
    corners: tuple[Vec, ...] = ()
    pitch: float = 0.0
    drafts: list[Draft] = field(default_factory=list)
    joints: list[JointPlan] = field(default_factory=list)
    refused: list[CannotFold] = field(default_factory=list)
    fall: float = 0.0
    bend: Bend | None = None
    faces: Faces | None = None

    def make(
        self, build: Callable[[], Draft | list[Draft]], mirror: bool = False
    ) -> None:
        """Adds what `build` gives, or the reason why it can't be built.

        mirror: built as the left hand, wanted as the right one
        """
        try:
            made = build()
        except CannotFold as fault:
            words = other_hand(fault.words) if mirror else fault.words
            self.refused.append(CannotFold(words, *fault.lengths))
            return
        drafts = made if isinstance(made, list) else [made]
        self.drafts += [d.mirrored(self.width) if mirror else d for d in drafts]

    def lap(
        self,
        upper: tuple[str, str],
        lower: tuple[str, str],
        by: float,
        flow: Vec = DOWN_SLOPE,
    ) -> None:
        self.joints.append(JointPlan("lap", upper, lower, by, flow))

    def seam(self, upper: tuple[str, str], lower: tuple[str, str]) -> None:
        self.joints.append(JointPlan("seam", upper, lower))
