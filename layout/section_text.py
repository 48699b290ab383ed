"""A bent section written as lines of text: leg 25, fold 60 down, hem 12 closed down.

Takes what a person typed, a part a line (or parted by semicolons), gives the list of
legs, folds and hems that the site record holds.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from typing import Any

from layout import site_record
from layout.faults import Fault
from layout.kinds import end_cap, profile
from shop.units import Unit, as_decimal, read_length

Items = list[dict[str, Any]]

EXAMPLE = "hem 12 closed down\nleg 80\nfold 90 up\nleg 120"
SAY = {
    "leg": "write its width after it, such as leg 25",
    "fold": "write its angle and up or down, such as fold 60 down",
    "hem": "write its width, closed or open, and up or down, such as hem 12 closed "
    "down",
}
LONGEST = 60
"""Signs of one line."""

SENSE: dict[str, Callable[[str, Items], Iterable[Fault]]] = {
    "profile.section": profile.order_faults,
    "profile.far_end": profile.order_faults,
    "end_cap.section": end_cap.order_faults,
}
"""Measure -> what is wrong with parts that can be read one by one."""


def tidy(typed: str) -> str:
    """A part a line, single spaces, no empty lines."""
    lines = (" ".join(line.split()) for line in re.split(r"[\n;]", typed))
    return "\n".join(line for line in lines if line)


def parts(typed: str) -> Items:
    """The parts as the record takes them. Raises ValueError naming the line."""
    return [
        _part(number, line) for number, line in enumerate(tidy(typed).splitlines(), 1)
    ]


def _part(number: int, line: str) -> dict[str, Any]:
    kind, *sizes = line.casefold().split()
    if kind not in SAY:
        words = f'Line {number}: "{line[:30]}" is not known.'
        raise ValueError(f"{words} Begin it with leg, fold or hem.")
    after = {"leg": 0, "fold": 1, "hem": 2}[kind]
    if len(sizes) <= after or len(line) > LONGEST:
        raise ValueError(f'Line {number}: "{line[:30]}": {SAY[kind]}.')
    size = " ".join(sizes[: len(sizes) - after])
    if kind == "leg":
        return {"leg": size}
    if kind == "fold":
        return {"fold": size, "direction": sizes[-1]}
    return {"hem": size, "kind": sizes[-2], "direction": sizes[-1]}


def read(name: str, rule: dict[str, Any], typed: str, unit: Unit) -> Items:
    """The parts in mm and degrees.

    name, rule: the measure and its schema
    Raises ValueError with a sentence for each line that is wrong.
    """
    found = parts(typed)
    faults: list[Fault] = []
    value: Items = site_record.read_field(name, rule, found, unit, faults)
    if not faults:
        faults += SENSE[name](name, value)
    if faults:
        raise ValueError(". ".join(_told(fault) for fault in faults) + ".")
    return value


def _told(fault: Fault) -> str:
    at = re.search(r"\[(\d+)\]", fault.field)
    where = f"Line {int(at[1]) + 1}" if at else "The section"
    wanted = fault.expected.replace("give an object with one of", "begin it with")
    return f"{where} {fault.given}; {wanted}"


def in_mm(found: Items, unit: Unit) -> Items:
    """The same parts, their lengths with the unit they were taken in."""
    sizes = ("leg", "hem")
    return [
        {key: _with_unit(value, unit) if key in sizes else value
         for key, value in part.items()}
        for part in found
    ]  # fmt: skip


def _with_unit(size: str, unit: Unit) -> str:
    exact = read_length(size, unit)
    return f"{as_decimal(exact):f} mm"
