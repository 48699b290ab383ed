"""Step flashing: one small piece for each course up a side wall.

Takes the slope and the courses' exposure, gives one L-shaped piece and how
many of it. Each piece laps the one below it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import partial
from math import ceil
from typing import Literal

from layout.families.assembly import Assembly
from layout.families.draft import Draft, Label, drafted
from layout.folding.facts import ShopFacts
from layout.folding.sheet import ROOF, Sheet
from layout.geometry.space import Plane, Vec
from layout.geometry.tolerance import EPS


@dataclass(frozen=True, slots=True)
class Steps:
    """One row of steps.

    roof_side: where the roof lies, seen from the eave
    slope_length: along the wall's foot; exposure: of a course; up_wall and
    onto_roof: from the crease; lap: of a piece over the one below; mm
    """

    roof_side: Literal["left", "right"]
    slope_length: float
    exposure: float
    up_wall: float
    onto_roof: float
    lap: float
    pitch: float

    @property
    def length(self) -> float:
        """Of a piece, up the slope, mm: exposure and lap. Example: exposure 5 in,
        lap 2 in -> 7 in (NRCA practice: exposure + 2 in, from memory)."""
        return self.exposure + self.lap

    @property
    def count(self) -> int:
        """A piece for each course. Example: 14 ft at 5 in -> 34."""
        return ceil(self.slope_length / self.exposure - EPS)


@dataclass(slots=True)
class Row(Assembly):
    """The steps as pieces, with their measures for the rules."""

    steps: Steps = field(kw_only=True)


def assemble(steps: Steps, shop: ShopFacts) -> Row:
    """The row's one piece, drawn where the lowest stands."""
    side = -1 if steps.roof_side == "left" else 1
    plane = Plane(Vec(0, 0, 0), Vec(side, 0, 0))
    made = Row(pitch=steps.pitch, walls={steps.roof_side: plane}, steps=steps)
    made.make(partial(step, steps))
    if steps.count > 1:
        made.lap(("SF", "next step"), ("SF", "upper end"), steps.lap)
    return made


def step(steps: Steps) -> Draft:
    """One step: base on the roof, upstand on the wall, fold 90."""
    sheet = Sheet()
    foot, head = Vec(0, 0, 0), Vec(0, steps.length, 0)
    out = Vec(-1 if steps.roof_side == "left" else 1, 0, 0).scaled(steps.onto_roof)
    base = sheet.add_folded(
        "base", "roof", ROOF, [foot, head, head.plus(out), foot.plus(out)]
    )
    up = Vec(0, 0, steps.up_wall)
    sheet.strip("upstand", "wall", base, foot, head, up, "upstand", steps.roof_side)
    next_one = Vec(0, steps.exposure, 0)
    sheet.joint_line("next step", base, next_one, next_one.plus(out))
    sheet.joint_line("upper end", base, head, head.plus(out))
    return drafted(
        Label("SF", "step_flashing", "Step flashing", steps.roof_side),
        sheet,
        steps.count,
        (
            "One goes on with each course, its lower edge just above the butt of "
            "the course that covers it.",
        ),
    )
