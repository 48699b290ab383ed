"""The measures of a chimney's sheet, as the JSON Schema of the record names them.

Takes what a person typed for one measure, gives what was read, in mm, degrees or
words, and says what is unlikely about it. The schema is the one list: a field added
there is on the sheet.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import hypot
from typing import Any, NamedTuple

from layout import site_record
from layout.faults import Fault
from shop.units import Unit, read_length, show_length, show_pitch

NONE = "none"
"""Typed for a measure that is not there, such as the course of a stone wall."""

LONGEST_WORDS = 60


@dataclass(frozen=True, slots=True)
class Measure:
    """name: path in the site record; reads: length, pitch, lean, choice or words."""

    name: str
    title: str
    words: str
    reads: str
    nullable: bool
    required: bool
    choices: tuple[str, ...]
    rule: Mapping[str, Any]

    @property
    def slug(self) -> str:
        """Its name in a form and in an address."""
        return self.name.replace(".", "-")

    @property
    def rare(self) -> bool:
        """Taken only where it is out of square or not plumb."""
        return (
            self.reads == "lean"
            or self.name.endswith("diagonal")
            or self.name == "walls.stand"
        )

    @property
    def group(self) -> str:
        return self.name.split(".")[0]


class Taken(NamedTuple):
    """What was read: exactly one of mm, deg and text."""

    mm: Fraction | None = None
    deg: float | None = None
    text: str = ""

    @property
    def number(self) -> float | None:
        value = self.mm if self.mm is not None else self.deg
        return None if value is None else float(value)


GROUPS = {
    "penetration": ("Where it meets the roof", "Tape on the roof surface, not level."),
    "roof": ("The roof round it", "Seams and room, seen from the eave."),
    "walls": ("The walls", "How high the metal goes, square to the crease."),
    "metal": ("The metal", "One the shop keeps."),
    "build": ("How it is built", "The layout page asks for these as well."),
}
"""Group -> its title and a word on it, in the order of the sheet."""

CHOSEN = ("metal", "build")
"""Groups that are chosen, at the desk as well; the others are taken on site."""

RARE = {
    "penetration": "If it is out of square",
    "walls": "If a wall is out of plumb",
}
"""Group -> what its rare measures are for."""

NOT_TAKEN = ("format", "units", "penetration.kind")
"""Known from the site's own page, not measured."""


TITLES = {
    "roof.seam.fold": "Seam fold",
    "roof.seam.height": "Seam height",
    "roof.seam.turn": "Seam turn",
    "build.back": "Built behind it",
}
"""Titles that would say too little outside of their part of the schema."""


def _measures(
    rule: Mapping[str, Any], path: str = "", required: bool = True
) -> Iterator[Measure]:
    if rule.get("type") == "object":
        for name, inner in rule["properties"].items():
            here = f"{path}.{name}" if path else name
            yield from _measures(inner, here, name in rule["required"])
        return
    choices = tuple(it for it in rule.get("enum", ()) if it is not None)
    kinds = rule.get("type", ())
    yield Measure(
        path,
        TITLES.get(path, rule.get("title", path)),
        rule.get("description", "").replace("null", "leave it empty"),
        "choice" if choices else rule.get("x-reads", "words"),
        "null" in kinds,
        required,
        choices,
        rule,
    )


MEASURES = tuple(
    measure
    for measure in _measures(site_record.schema("chimney"))
    if measure.name not in NOT_TAKEN
)
BY_NAME = {measure.name: measure for measure in MEASURES}
BY_SLUG = {measure.slug: measure for measure in MEASURES}


def read(measure: Measure, typed: str, unit: Unit) -> Taken:
    """What a person typed for one measure.

    Raises ValueError with a sentence that says what is wrong and what to write.
    """
    words = " ".join(typed.split())
    if measure.nullable and words.casefold() in (NONE, "no", "-"):
        return Taken(text=NONE)
    if len(words) > LONGEST_WORDS:
        raise ValueError(f"{words[:20]}... is too long. Give {LONGEST_WORDS} signs.")
    faults: list[Fault] = []
    value = site_record.read_field(measure.name, words, unit, faults)
    if faults:
        raise ValueError("; ".join(fault.expected for fault in faults))
    if measure.reads == "length":
        return Taken(mm=read_length(words, unit))
    if measure.reads in ("choice", "words"):
        return Taken(text=words)
    return Taken(deg=float(value))


def show(
    measure: Measure,
    mm: Fraction | Decimal | None,
    deg: float | Decimal | None,
    text: str,
    unit: Unit,
) -> str:
    """A value in the words of the tape, with its unit."""
    if mm is not None:
        return show_length(mm, unit)
    if deg is None:
        return text
    if measure.reads == "pitch":
        return show_pitch(float(deg))
    lean = float(deg)
    return f"{abs(lean):g}° {'in' if lean < 0 else 'out'}" if lean else "plumb"


def show_taken(measure: Measure, taken: Taken, unit: Unit) -> str:
    """How it was read: in the sheet's unit, and in the other one beside it."""
    shown = show(measure, taken.mm, taken.deg, taken.text, unit)
    if taken.mm is None:
        return shown
    if unit == "in":
        other = show_length(taken.mm, "mm", Fraction(1, 10))
    else:
        other = show_length(taken.mm, "in")
    rounded = read_length(shown, unit) != taken.mm
    return f"{'about ' if rounded else ''}{shown} ({other})"


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
    "walls.upstand_front": (75, 400),
    "walls.upstand_side": (75, 400),
    "walls.upstand_back": (75, 500),
    "walls.course": (40, 300),
    "walls.reglet": (100, 550),
    "build.sweep_radius": (25, 200),
    "build.leg_at_wall_top": (6, 40),
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
