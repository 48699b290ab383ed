"""The measures of each kind's sheet, as the JSON Schema of its record names them.

Takes what a person typed for one measure, gives what was read, in mm, degrees or
words. The schema is the one list: a field added there is on the sheet.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import cached_property
from typing import Any, NamedTuple

from layout import section_text, site_record
from layout.faults import Fault
from shop.units import Unit, read_length, show_length, show_pitch

NONE = "none"
"""Typed for a measure that is not there, such as the course of a stone wall."""

LONGEST_WORDS = 60


@dataclass(frozen=True, slots=True)
class Measure:
    """name: path in the site record; reads: length, pitch, lean, angle, choice, words
    or section. rule: its part of the schema."""

    name: str
    title: str
    words: str
    reads: str
    nullable: bool
    required: bool
    choices: tuple[str, ...]
    rule: dict[str, Any]

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
            or self.name in RARE_BY_NAME
        )

    @property
    def told_at_once(self) -> bool:
        """Typed by hand, so the sheet says how it is read while it is typed."""
        return self.reads not in ("choice", "words")

    @property
    def title_alone(self) -> str:
        """What it is called where no sheet stands round it."""
        if self.group not in SAID_ALONE:
            return self.title
        return f"{SAID_ALONE[self.group]}: {self.title.lower()}"

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
    "pipe": ("The pipe", "And the collar that goes round it."),
    "wall": ("The wall", "Tape along its foot, on the roof surface."),
    "steps": ("The wall and its courses", "Tape along its foot, on the roof surface."),
    "valley": ("The valley", "Tape in the valley, on the roof surface."),
    "cap": ("The ridge or hip", "Tape along its top."),
    "pitch_change": ("Where the pitch changes", "Tape on the roof surface."),
    "pan": ("The pan", "As it lies on the roof."),
    "end_cap": ("The run it closes", "Its section as it stands, hems left out."),
    "profile": ("The profile", "Its section, from one edge of the metal to the other."),
    "roof": ("The roof round it", "Seen from the eave."),
    "walls": ("The walls", "How high the metal goes, square to the crease."),
    "metal": ("The metal", "One the shop keeps."),
    "build": ("How it is built", "The layout page asks for these as well."),
}
"""Group -> its title and a word on it, in the order of a sheet."""

SAID_ALONE = {
    "pipe": "Pipe",
    "wall": "Wall",
    "steps": "Step flashing",
    "valley": "Valley",
    "cap": "Ridge or hip",
    "pitch_change": "Change of pitch",
    "pan": "Pan",
    "end_cap": "End cap",
    "profile": "Profile",
}
"""Group -> how its measures begin where no sheet stands round them."""

CHOSEN = ("metal", "build")
"""Groups that are chosen, at the desk as well; the others are taken on site."""

RARE = {
    "roof": "If the seam's two turns differ",
    "penetration": "If it is out of square",
    "walls": "If a wall is out of plumb",
    "pipe": "If the pipe leans",
}
"""Group -> what its rare measures are for."""

RARE_BY_NAME = (
    "walls.stand",
    "pipe.lean",
    "pipe.lean_towards",
    "roof.seam.first_turn",
)
"""More of them, by name."""

NOT_TAKEN = ("format", "units", "penetration.kind")
"""Known from the site's own page, not measured."""


TITLES = {
    "roof.seam.fold": "Seam fold",
    "roof.seam.height": "Seam height",
    "roof.seam.turn": "Seam turn",
    "roof.seam.first_turn": "Seam first turn",
    "build.back": "Built behind it",
    "roof.other_pitch": "Pitch of the other roof",
    "roof.upper_pitch": "Pitch of the upper part",
    "wall.kind": "Which wall",
    "cap.kind": "Ridge or hip",
}
"""Titles that would say too little outside of their part of the schema."""


def _measures(
    rule: dict[str, Any], path: str = "", required: bool = True
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
        _reads(rule, choices),
        "null" in kinds,
        required,
        choices,
        rule,
    )


def _reads(rule: dict[str, Any], choices: tuple[str, ...]) -> str:
    if choices:
        return "choice"
    if "array" in rule.get("type", ()):
        return "section"
    return str(rule.get("x-reads", "words"))


@dataclass(frozen=True)
class Sheet:
    """All that is measured of one kind. field: its own part of the record."""

    field: str
    measures: tuple[Measure, ...]

    @cached_property
    def by_name(self) -> dict[str, Measure]:
        return {measure.name: measure for measure in self.measures}

    @cached_property
    def by_slug(self) -> dict[str, Measure]:
        return {measure.slug: measure for measure in self.measures}

    @cached_property
    def chosen(self) -> tuple[Measure, ...]:
        """What the layout page asks for."""
        return tuple(it for it in self.measures if it.group in CHOSEN)

    def titled(self, field: str) -> str:
        """What a field of the record is called on the sheet."""
        measure = self.by_name.get(field.split("[")[0])
        return measure.title if measure else field


def _sheet(field: str) -> Sheet:
    rule = site_record.schema(site_record.SCHEMA_OF[field])
    found = _measures(rule)
    return Sheet(field, tuple(it for it in found if it.name not in NOT_TAKEN))


_SHEETS = {field: _sheet(field) for field in site_record.SCHEMA_OF}
SHEETS = {
    "chimney": _SHEETS["penetration"],
    "curb": _SHEETS["penetration"],
    **{field: sheet for field, sheet in _SHEETS.items() if field != "penetration"},
}
"""Kind of a site -> its sheet."""

BY_NAME: dict[str, Measure] = {}
for _one in _SHEETS.values():
    for _measure in _one.measures:
        BY_NAME.setdefault(_measure.name, _measure)
"""Every measure of every kind. Where kinds share a name, as the chimney calls it."""


def read(measure: Measure, typed: str, unit: Unit) -> Taken:
    """What a person typed for one measure.

    Raises ValueError with a sentence that says what is wrong and what to write.
    """
    words = " ".join(typed.split())
    if measure.nullable and words.casefold() in (NONE, "no", "-"):
        return Taken(text=NONE)
    if measure.reads == "section":
        section_text.read(measure.name, measure.rule, typed, unit)
        return Taken(text=section_text.tidy(typed))
    if len(words) > LONGEST_WORDS:
        raise ValueError(f"{words[:20]}... is too long. Give {LONGEST_WORDS} signs.")
    faults: list[Fault] = []
    value = site_record.read_field(measure.name, measure.rule, words, unit, faults)
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
        return ", ".join(text.splitlines())
    if measure.reads == "pitch":
        return show_pitch(float(deg))
    if measure.reads == "angle":
        return f"{float(deg):g}°"
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
