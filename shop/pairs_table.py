"""Metals that must not touch, and run-off from one on to another.

Pure data, like shop/tables.py. Two tables in one: meeting "contact" has no
direction; "run-off" goes from the first on to the second.
"""

from __future__ import annotations

from typing import NamedTuple


class PairRow(NamedTuple):
    """Two kinds of metal and what their meeting does."""

    first: str
    second: str
    meeting: str
    why: str
    source: str


_MIL = "MIL-STD-889 order of metals"
_SEA = "sea-water potentials over 200 mV apart"
_NZ = "NZ Metal Roof and Wall Cladding Code of Practice v3.0, fixing aluminium"
_ROOFS = "What causes galvanic corrosion on metal roofs"

PAIRS: tuple[PairRow, ...] = (
    PairRow(
        "copper",
        "aluminium",
        "contact",
        "aluminium is attacked quickly when wet",
        "Canadian Copper & Brass Development Association, Fundamentals",
    ),
    PairRow(
        "copper",
        "zinc",
        "contact",
        "zinc is eaten away beside copper",
        f"{_MIL}; a town code forbids both in one run",
    ),
    PairRow(
        "copper",
        "steel",
        "contact",
        "the zinc coat, then the steel, is eaten away beside copper",
        f"{_MIL}; {_SEA}",
    ),
    PairRow(
        "stainless",
        "steel",
        "contact",
        "the zinc coat is eaten away beside stainless steel",
        _SEA,
    ),
    PairRow(
        "aluminium",
        "stainless",
        "contact",
        "aluminium is to be kept from stainless steel but for small fasteners",
        _NZ,
    ),
    PairRow("aluminium", "steel", "contact", "aluminium is to be kept from steel", _NZ),
    PairRow(
        "lead", "steel", "contact", "lead on zinc-coated steel eats the coat", _ROOFS
    ),
    PairRow(
        "copper",
        "zinc",
        "run-off",
        "water off copper eats zinc; never above it",
        f"Not all metals get along; {_ROOFS}",
    ),
    PairRow(
        "copper",
        "steel",
        "run-off",
        "water off copper eats a zinc coat; never above it",
        f"Not all metals get along; {_ROOFS}",
    ),
    PairRow(
        "copper",
        "aluminium",
        "run-off",
        "water off copper eats bare aluminium; never above it",
        "producers' run-off tables, from memory",
    ),
    PairRow(
        "lead",
        "steel",
        "run-off",
        "water off lead stains and eats a zinc coat",
        _ROOFS,
    ),
)
