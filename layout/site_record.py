"""The site record (seambook.site/1): from what was written to a measured Site.

Takes a parsed JSON value, gives the Site of the core and the record as read,
in mm. Every fault is named by its field; nothing stops at the first one.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from layout.faults import BadRecord, Fault
from layout.kinds import SENSE
from shop.units import Unit, read_angle, read_length, read_pitch, show_length

FORMAT = "seambook.site/1"
SCHEMA_OF = {
    "penetration": "chimney",
    "pipe": "pipe",
    "profile": "profile",
    "valley": "valley",
    "wall": "wall",
    "steps": "steps",
    "pan": "pan",
    "cap": "cap",
    "pitch_change": "pitch_change",
    "end_cap": "end_cap",
}
"""The field that tells a record's kind -> the schema it is read by."""
AS_SAID = {"end cap": "end_cap", "pitch change": "pitch_change"}
"""Kinds of two words, as they are said and as the field is written."""
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


def bundled(name: str) -> dict[str, Any]:
    """The same for those who have no folder: the schemas it refers to inside it."""
    whole = schema(name)
    if name != "several":
        return whole
    kept = {f"{kind}.json": schema(kind) for kind in SCHEMA_OF.values()}
    words = json.dumps(whole).replace('"$ref": "', '"$ref": "#/$defs/')
    bundle: dict[str, Any] = json.loads(words)
    return {**bundle, "$defs": kept}


def read(record: object) -> Reading:
    """Reads a record. Raises BadRecord with every fault found."""
    if not isinstance(record, dict):
        raise BadRecord(
            [Fault("record", f"was {_shown(record)}", "give a JSON object")]
        )
    if record.get("format") != FORMAT:
        raise BadRecord(
            [Fault("format", f"was {_shown(record.get('format'))}", f"give {FORMAT}")]
        )
    record = {AS_SAID.get(name, name): value for name, value in record.items()}
    kinds = [kind for kind in SCHEMA_OF if kind in record]
    if len(kinds) != 1:
        given = " and ".join(kinds) if kinds else "none of them"
        known = ", ".join(SCHEMA_OF)
        raise BadRecord(
            [Fault("record", f"has {given}", f"give exactly one of {known}")]
        )
    faults: list[Fault] = []
    units = record.get("units")
    unit: Unit = "in" if units not in ("in", "mm") else units
    kind = kinds[0]
    as_read = _walk(record, schema(SCHEMA_OF[kind]), "", unit, faults)
    if not faults:
        faults += SENSE[kind](as_read)
    if faults:
        raise BadRecord(faults)
    return Reading(kind, unit, as_read["metal"], as_read)


def _walk(
    given: object, rule: dict[str, Any], path: str, unit: Unit, faults: list[Fault]
) -> Any:
    """One value by its schema. Only the keywords our schemas use."""
    if rule.get("type") == "object":
        return _object(given, rule, path, unit, faults)
    if given is None and "null" in rule.get("type", ()):
        return None
    if "array" in rule.get("type", ()):
        return _array(given, rule, path, unit, faults)
    if "const" in rule:
        allowed = [rule["const"]]
    else:
        allowed = rule.get("enum", [])
    if allowed:
        if not isinstance(given, str) or given not in allowed:
            words = [repr(word) for word in allowed if word is not None]
            _fault(faults, path, given, "give " + " or ".join(words))
        return given
    if "x-reads" in rule:
        return _measure(given, rule, path, unit, faults)
    if not isinstance(given, str) or not (
        rule.get("minLength", 0) <= len(given.strip())
        and len(given) <= rule["maxLength"]
        and given.isprintable()
    ):
        example = rule["examples"][0]
        _fault(faults, path, given, f"give words such as {example}")
    return given


def read_field(
    name: str, rule: dict[str, Any], given: object, unit: Unit, faults: list[Fault]
) -> Any:
    """One field of a record by its path and its schema, in mm, degrees or words.

    What is wrong with it is added to faults.
    """
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
            plain = name if name.isidentifier() else _shown(name)
            faults.append(
                Fault(
                    (f"{path}.{plain}" if path else plain)[:SHOWN],
                    "is not known",
                    "leave it out; known are " + ", ".join(fields),
                )
            )
    return read


def _array(
    given: object, rule: dict[str, Any], path: str, unit: Unit, faults: list[Fault]
) -> Any:
    """A list whose items are told apart by their first field."""
    variants = {item["required"][0]: item for item in rule["items"]["oneOf"]}
    most = rule["maxItems"]
    if not isinstance(given, list) or not rule["minItems"] <= len(given) <= most:
        _fault(faults, path, given, f"give a list of 1 to {most} items")
        return []
    read = []
    for i, item in enumerate(given):
        here = f"{path}[{i}]"
        named = [v for v in variants if isinstance(item, dict) and v in item]
        if len(named) != 1:
            known = " or ".join(variants)
            _fault(faults, here, item, f"give an object with one of {known}")
            continue
        read.append(_object(item, variants[named[0]], here, unit, faults))
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
        if rule["x-reads"] == "angle":
            return _angle(given, rule)
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


def _angle(given: str | int | float, rule: dict[str, Any]) -> float:
    angle = read_angle(given)
    if angle <= rule["x-above"] or angle > rule["x-most"]:
        raise ValueError(
            f"give more than {rule['x-above']}°, at most {rule['x-most']}°"
        )
    return angle


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
    words = "".join(c if c.isprintable() else " " for c in words)
    words = " ".join(words.split())
    return words if len(words) <= SHOWN else words[: SHOWN - 3] + "..."
