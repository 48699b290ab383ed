"""Published and made instances of cutting, as blanks and stock of our own.

Reads the folder that SEAMBOOK_BENCHMARKS names; its files say where every record
comes from. One unit of a record is taken as 1 mm.
"""

from __future__ import annotations

import json
import os
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from layout.geometry.point import Point
from layout.nesting.blank import ANY_WAY, HEAD_TO_TAIL, Blank
from layout.nesting.stock import Keep, Stock

NO_REST = Keep(worth=0.0)

COUNTED = "counted sheets, over the area"
"""Records of several sizes with no published cost: known is their area bound."""

GROUPS = {
    "equal sheets": ("bin_packing_classes", "cutting_stock"),
    "zero-waste sheets": ("own_zero_waste",),
    "zero-waste coil": ("own_zero_strip",),
    "several sizes": ("variable_sized",),
    COUNTED: ("variable_sized",),
    "shop": ("own_shop",),
    "strip, optimum not guillotine": ("strip",),
    "tapered on coil": ("own_trapezoids",),
}


@dataclass(frozen=True)
class Instance:
    """One record: what is asked, and the least cost known for it."""

    name: str
    group: str
    blanks: tuple[Blank, ...]
    stocks: tuple[Stock, ...]
    known: float
    record: dict[str, Any]


def folder() -> Path | None:
    """Where the records are; None where the variable is not set or empty."""
    named = os.environ.get("SEAMBOOK_BENCHMARKS", "")
    found = Path(named) if named else None
    return found if found and any(found.glob("*.json")) else None


def instances(group: str, where: Path) -> list[Instance]:
    found = []
    for name in GROUPS[group]:
        path = where / f"{name}.json"
        if path.exists():
            records = json.loads(path.read_text())["instances"]
            found += [
                instance(record, group)
                for record in records
                if name != "variable_sized" or (group == COUNTED) == _no_cost(record)
            ]
    return found


def _no_cost(record: dict[str, Any]) -> bool:
    return record["best_known"].get("cost") is None


def instance(record: dict[str, Any], group: str) -> Instance:
    best = record["best_known"]
    known = next(
        best[key]
        for key in ("bins", "cost", "used_length", "lower_bound")
        if best.get(key)
    )
    turns = ANY_WAY if record["rotation"] else HEAD_TO_TAIL
    blanks = []
    for number, piece in enumerate(record["pieces"], start=1):
        for copy in range(1, piece["qty"] + 1):
            blanks.append(_blank(f"B{number}", copy, piece, turns))
    stocks = [_stock(n, row, record) for n, row in enumerate(record["stock"], start=1)]
    return Instance(
        record["name"], group, tuple(blanks), tuple(stocks), float(known), record
    )


def _blank(mark: str, copy: int, piece: dict[str, Any], turns: Any) -> Blank:
    if "polygon" not in piece:
        return Blank(mark, copy, piece["w"], piece["h"], (), turns)
    # The record's strip runs along x; our coil runs along y.
    points = [Point(-y, x) for x, y in piece["polygon"]]
    low_x, low_y = min(p.x for p in points), min(p.y for p in points)
    outline = tuple(Point(p.x - low_x, p.y - low_y) for p in points)
    width, length = max(p.x for p in outline), max(p.y for p in outline)
    return Blank(mark, copy, width, length, outline, turns)


def _stock(number: int, row: dict[str, Any], record: dict[str, Any]) -> Stock:
    w, h = row["w"], row["h"]
    if w is None:
        w, h = h, None
    if h is None:
        cost = row.get("cost_per_length", 1.0)
        longest = row.get("max_length", 0.0)
        return Stock(f"coil {number}", "coil", w, 0.0, cost / w, None, 0.0, longest)
    plain = 1.0 if record["problem"] == "bin_packing" else w * h
    cost = row.get("cost") or plain
    form = "offcut" if row.get("count") == 1 else "sheet"
    return Stock(f"{form} {number}", form, w, h, cost / (w * h), row.get("count"))
