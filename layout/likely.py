"""What is usual of a measure, and what does not go with the others.

Nothing of it is refused; a person is asked to look again.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import hypot
from typing import Any

from layout.measures import BY_NAME, Measure
from shop.units import Unit, show_length

LIKELY: dict[str, tuple[float, float]] = {
    **dict.fromkeys(
        [f"penetration.{side}" for side in ("front", "back", "left", "right")],
        (200, 3000),
    ),
    "roof.pitch": (5, 60),
    "roof.left_pan": (75, 700),
    "roof.right_pan": (75, 700),
    "roof.below": (100, 600),
    "roof.above": (150, 1500),
    "roof.seam.height": (19, 65),
    "roof.seam.turn": (6, 20),
    "roof.seam.first_turn": (5, 20),
    "walls.upstand_front": (75, 400),
    "walls.upstand_side": (75, 400),
    "walls.upstand_back": (75, 500),
    "walls.course": (40, 300),
    "walls.reglet": (100, 550),
    "build.sweep_radius": (25, 200),
    "build.leg_at_wall_top": (6, 40),
    "roof.other_pitch": (5, 60),
    "roof.upper_pitch": (5, 80),
    "pipe.diameter": (25, 400),
    "pipe.upstand": (75, 400),
    "pipe.flange": (75, 300),
    "pipe.flange_up": (100, 400),
    "pipe.lap": (8, 40),
    "wall.length": (200, 20000),
    "wall.upstand": (75, 400),
    "wall.onto_roof": (75, 300),
    "steps.slope_length": (200, 15000),
    "steps.exposure": (60, 400),
    "steps.up_wall": (60, 250),
    "steps.onto_roof": (60, 250),
    "valley.length": (300, 15000),
    "valley.wing": (150, 600),
    "cap.length": (300, 20000),
    "cap.wing": (75, 400),
    "cap.other_wing": (75, 400),
    "cap.leg": (15, 80),
    "pan.sheet_width": (300, 900),
    "pan.pan_width": (200, 800),
    "pan.length": (300, 12000),
    "pan.head_height": (25, 250),
    "pitch_change.length": (200, 20000),
    "pitch_change.lower": (75, 300),
    "pitch_change.upper": (75, 300),
    "end_cap.flange": (8, 40),
    "profile.length": (100, 12000),
    "profile.radius": (0.2, 10),
}
"""What is usual, mm or degrees; outside of it a person is asked to look again.
Common practice, no source."""

ALIKE = (
    ("penetration.front", "penetration.back"),
    ("penetration.left", "penetration.right"),
)
APART = 12.7
"""Sides that differ by more are usually a slip of the tape, mm. Common practice,
no source."""


def unlikely(
    measure: Measure, number: float | None, known: Mapping[str, float], unit: Unit
) -> list[str]:
    """What a person should look at again; nothing of it is refused.

    number: mm or degrees; known: name -> mm or degrees of the other measures
    """
    if number is None:
        return []

    def told(size: float) -> str:
        if measure.reads != "length":
            return f"{size:g}°"
        return show_length(size, unit)

    warned = []
    least, most = LIKELY.get(measure.name, (0, float("inf")))
    if not least <= number <= most:
        warned.append(
            f"{told(number)} is unusual here: {told(least)} to {told(most)} is common. "
            "Check the tape and the unit."
        )
    together = {**known, measure.name: number}
    warned += _beside(measure.name, together, told)
    return warned


def _beside(name: str, known: Mapping[str, float], told: Any) -> Iterator[str]:
    """What does not go with the other measures."""
    for pair in ALIKE:
        if name in pair and all(it in known for it in pair):
            other = pair[pair.index(name) - 1]
            if abs(known[name] - known[other]) > APART:
                yield (
                    f"{BY_NAME[other].title} is {told(known[other])}. If both are "
                    "right it is out of square: take the diagonal as well."
                )
    sides = ("penetration.front", "penetration.left")
    if name == "penetration.diagonal" and all(it in known for it in sides):
        square = hypot(*(known[it] for it in sides))
        if abs(known[name] - square) > 4 * APART:
            yield f"A square one would be {told(square)} across. Take it again."
    tops = [f"walls.upstand_{wall}" for wall in ("front", "side", "back")]
    if name == "walls.reglet":
        high = [it for it in tops if known.get(it, 0) > known[name]]
        if high:
            yield (
                f"The groove would lie below the top of the "
                f"{BY_NAME[high[0]].title.lower()}, {told(known[high[0]])}."
            )
