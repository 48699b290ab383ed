"""The site record (seambook.site/1): from what was written to a measured Site.

Takes a parsed JSON value, gives the Site of the core and the record as read,
in mm. Every fault is named by its field; nothing stops at the first one.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from layout.families import footprint
from layout.families.site import Site
from layout.faults import BadRecord, CannotBuild, Fault
from layout.folding.seam import Seam
from shop.units import Unit, read_angle, read_length, read_pitch, show_length

FORMAT = "seambook.site/1"
KINDS = ("penetration", "pipe", "profile", "valley")
SCHEMAS = Path(__file__).with_name("schemas")
SHOWN = 60


@dataclass(frozen=True, slots=True)
class Reading:
    """A record that could be read. as_read: the record with lengths in mm and
    angles in degrees, as it is written into set.json."""

    kind: str
    units: Unit
    metal: str
    as_read: dict[str, Any]


@cache
def schema(name: str) -> dict[str, Any]:
    """A JSON Schema of the site record by its file's name."""
    with open(SCHEMAS / f"{name}.json", encoding="utf-8") as file:
        loaded: dict[str, Any] = json.load(file)
    return loaded


def read(record: object) -> Reading:
    """Reads a record. Raises BadRecord with every fault found, or CannotBuild
    for a kind that is not laid out yet."""
    if not isinstance(record, dict):
        raise BadRecord(
            [Fault("record", f"was {_shown(record)}", "give a JSON object")]
        )
    if record.get("format") != FORMAT:
        raise BadRecord(
            [Fault("format", f"was {_shown(record.get('format'))}", f"give {FORMAT}")]
        )
    kinds = [kind for kind in KINDS if kind in record]
    if len(kinds) != 1:
        given = " and ".join(kinds) if kinds else "none of them"
        raise BadRecord(
            [Fault("record", f"has {given}", f"give exactly one of {', '.join(KINDS)}")]
        )
    if kinds != ["penetration"]:
        raise CannotBuild(
            [f"{kinds[0]}: records of this kind are read, but not laid out yet"]
        )
    faults: list[Fault] = []
    units = record.get("units")
    unit: Unit = "in" if units not in ("in", "mm") else units
    as_read = _walk(record, schema("chimney"), "", unit, faults)
    if not faults:
        faults += _senseless(as_read)
    if faults:
        raise BadRecord(faults)
    return Reading(kinds[0], unit, as_read["metal"], as_read)


def _walk(
    given: object, rule: dict[str, Any], path: str, unit: Unit, faults: list[Fault]
) -> Any:
    """One value by its schema. Only the keywords our schemas use."""
    if rule.get("type") == "object":
        return _object(given, rule, path, unit, faults)
    if "const" in rule:
        allowed = [rule["const"]]
    else:
        allowed = rule.get("enum", [])
    if allowed:
        if not isinstance(given, str) or given not in allowed:
            _fault(faults, path, given, "give " + " or ".join(map(repr, allowed)))
        return given
    if given is None and "null" in rule["type"]:
        return None
    if "x-reads" in rule:
        return _measure(given, rule, path, unit, faults)
    if not isinstance(given, str) or not (
        rule.get("minLength", 0) <= len(given.strip())
        and len(given) <= rule["maxLength"]
    ):
        example = rule["examples"][0]
        _fault(faults, path, given, f"give words such as {example}")
    return given


def read_field(name: str, given: object, unit: Unit, faults: list[Fault]) -> Any:
    """One field of a chimney's record by its path, in mm, degrees or words.

    What is wrong with it is added to faults. Raises KeyError for an unknown path.
    """
    rule = schema("chimney")
    for part in name.split("."):
        rule = rule["properties"][part]
    return _walk(given, rule, name, unit, faults)


def _object(
    given: object, rule: dict[str, Any], path: str, unit: Unit, faults: list[Fault]
) -> Any:
    fields: dict[str, Any] = rule["properties"]
    if not isinstance(given, dict):
        _fault(faults, path, given, "give an object with " + ", ".join(fields))
        return {}
    read: dict[str, Any] = {}
    for name, inner in fields.items():
        here = f"{path}.{name}" if path else name
        if name in given:
            read[name] = _walk(given[name], inner, here, unit, faults)
        elif name in rule["required"]:
            words = inner.get("description", "")
            faults.append(Fault(here, "is missing", f"give it: {words}"))
        else:
            read[name] = None
    for name in given:
        if name not in fields:
            here = f"{path}.{name}" if path else str(name)
            faults.append(
                Fault(
                    here[:SHOWN],
                    "is not known",
                    "leave it out; known are " + ", ".join(fields),
                )
            )
    return read


def _measure(
    given: object, rule: dict[str, Any], path: str, unit: Unit, faults: list[Fault]
) -> float | None:
    if isinstance(given, bool) or not isinstance(given, str | int | float):
        _fault(faults, path, given, f"give a {rule['x-reads']}, such as " + _one(rule))
        return None
    try:
        if rule["x-reads"] == "pitch":
            return _pitch(given)
        if rule["x-reads"] == "lean":
            return _lean(given)
        size = float(read_length(given, unit))
    except (ValueError, OverflowError) as fault:
        _fault(faults, path, given, str(fault))
        return None
    least, most = rule.get("x-above"), rule.get("x-most-mm")
    if least is not None and size <= least:
        _fault(faults, path, given, "give a length above 0")
    elif most and size > most:
        _fault(
            faults,
            path,
            given,
            f"give at most {show_length(most, unit)}; check the unit",
        )
    return size


def _pitch(given: str | int | float) -> float:
    pitch = read_pitch(given)
    if not 1 <= pitch <= 80:
        raise ValueError("give a pitch from 1° to 80°")
    return pitch


def _lean(given: str | int | float) -> float:
    """Degrees out of plumb: 2° out, 1.5° in, or a number, out above zero."""
    words = str(given).strip().casefold()
    inwards = words.endswith("in") or words.startswith("-")
    lean = read_angle(words.lstrip("-").removesuffix("in").removesuffix("out").strip())
    if lean > 15:
        raise ValueError("give at most 15°; a wall out of plumb by more is no wall")
    return -lean if inwards else lean


def _one(rule: dict[str, Any]) -> str:
    return str(rule["examples"][0])


def _fault(faults: list[Fault], path: str, given: object, expected: str) -> None:
    faults.append(Fault(path or "record", f"was {_shown(given)}", expected))


def _shown(given: object) -> str:
    """What was given, short, on one line."""
    words = json.dumps(given, ensure_ascii=False, default=str)
    words = " ".join(words.split())
    return words if len(words) <= SHOWN else words[: SHOWN - 3] + "..."


def _senseless(read: dict[str, Any]) -> Iterator[Fault]:
    """Measures that can be read one by one, but not together."""
    walls, build = read["walls"], read["build"]
    if build["counterflashing"] != "none" and walls["reglet"] is None:
        yield Fault(
            "walls.reglet",
            "was null",
            "give the groove's height over the crease, or build.counterflashing none",
        )
    if build["counterflashing"] == "stepped" and walls["course"] is None:
        yield Fault(
            "walls.course",
            "was null",
            "give the height of one course, or build.counterflashing level and raked",
        )
    seam = read["roof"]["seam"]
    if seam["turn"] > seam["height"]:
        yield Fault(
            "roof.seam.turn",
            f"was {seam['turn']:.1f} mm",
            f"give a turn no wider than the seam's height, {seam['height']:.1f} mm",
        )
    if build["leg_at_wall_top"] > seam["height"]:
        yield Fault(
            "build.leg_at_wall_top",
            f"was {build['leg_at_wall_top']:.1f} mm",
            f"give no more than the seam's height, {seam['height']:.1f} mm",
        )


def site_of(reading: Reading, tolerance: float) -> Site:
    """The measured Site. tolerance: sides may differ by this and be square, mm.

    Raises BadRecord where the sides can't close, naming the measure to take
    again.
    """
    read = reading.as_read
    hole, roof, walls, build = (
        read["penetration"],
        read["roof"],
        read["walls"],
        read["build"],
    )
    seam = roof["seam"]
    return Site(
        kind=hole["kind"],
        corners=_corners(hole, tolerance, reading.units),
        pitch=roof["pitch"],
        left_pan=roof["left_pan"],
        right_pan=roof["right_pan"],
        below=roof["below"],
        above=roof["above"],
        seam=Seam(seam["fold"], seam["height"], seam["turn"]),
        upstand_front=walls["upstand_front"],
        upstand_side=walls["upstand_side"],
        upstand_back=walls["upstand_back"],
        course=walls["course"] or 0.0,
        reglet=walls["reglet"] or 0.0,
        back=build["back"],
        counterflashing=build["counterflashing"],
        sweep_radius=build["sweep_radius"],
        leg_at_wall_top=build["leg_at_wall_top"],
        leans=(
            walls["lean_front"] or 0.0,
            walls["lean_right"] or 0.0,
            walls["lean_back"] or 0.0,
            walls["lean_left"] or 0.0,
        ),
    )


def _corners(hole: dict[str, Any], tolerance: float, unit: Unit) -> footprint.Corners:
    """The footprint, checked against the other diagonal where it was taken."""

    def show(size: float) -> str:
        return show_length(size, unit)

    def fault(name: str, given: float | None, expected: str) -> BadRecord:
        words = "was null" if given is None else f"was {show(given)}"
        return BadRecord([Fault(f"penetration.{name}", words, expected)])

    sides = footprint.Sides(
        *(hole[name] for name in ("front", "right", "back", "left", "diagonal"))
    )
    try:
        found = footprint.corners(sides, tolerance)
    except footprint.Unclosed as unclosed:
        if sides.diagonal is None:
            raise fault(
                "diagonal",
                None,
                f"front {show(sides.front)} and back {show(sides.back)}, left "
                f"{show(sides.left)} and right {show(sides.right)} are out of square; "
                "take the diagonal, front left to back right",
            ) from unclosed
        least, most = footprint.span(sides)
        raise fault(
            "diagonal",
            sides.diagonal,
            "the sides can't close with it: it must lie between "
            f"{show(least)} and {show(most)}; take it again",
        ) from unclosed
    for corner, angle in zip(CORNERS, footprint.angles(found), strict=True):
        if not SHARPEST <= angle <= 180 - SHARPEST:
            raise fault(
                "diagonal",
                sides.diagonal,
                f"the {corner} corner would be {angle:.1f}°; take the sides and the "
                "diagonal again",
            )
    other = hole["other_diagonal"]
    follows = found[3].minus(found[1]).length()
    if other is not None and abs(other - follows) > tolerance:
        raise fault(
            "other_diagonal",
            other,
            f"{show(follows)} follows from the sides and the first diagonal; take "
            "both diagonals again",
        )
    return found


CORNERS = ("front left", "front right", "back right", "back left")
SHARPEST = 45.0
"""No chimney corner is sharper than this, degrees: a slip of the tape."""
