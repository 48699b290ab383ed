"""The shop's facts as plain values, from its tables as delivered.

Used where there is no database: the lay_out command. `reading.py` gives the
same values from the shop's own rows.
"""

from __future__ import annotations

from dataclasses import astuple
from difflib import get_close_matches

from layout.faults import BadRecord, Fault
from layout.folding.facts import (
    BrakeFacts,
    MetalFacts,
    PairFacts,
    SeamFacts,
    ShopFacts,
    StockFacts,
)
from shop import tables
from shop.pairs_table import PAIRS
from shop.seams_table import SEAMS

PAIRS_DELIVERED = tuple(sorted((PairFacts(*pair) for pair in PAIRS), key=astuple))
"""Metals that must not meet, by the tables."""

_SEAMS = (
    SeamFacts(
        seam.metal_kind,
        seam.made,
        seam.fold,
        seam.receiving_mm or 0.0,
        seam.covering_mm or 0.0,
        seam.height_mm,
        seam.lost_mm,
        seam.play_mm,
        seam.source,
    )
    for seam in SEAMS
)
SEAMS_DELIVERED = tuple(sorted(_SEAMS, key=astuple))
"""Every standing seam of the tables, of every kind of metal."""


def shop_facts(metal: str) -> ShopFacts:
    """Facts for one metal by its name. Raises BadRecord where it is not kept."""
    rows = {row.name.casefold(): row for row in tables.METALS}
    row = rows.get(" ".join(metal.split()).casefold())
    if row is None:
        raise BadRecord([unknown_metal(metal, [r.name for r in tables.METALS])])
    brake = max(tables.BRAKES, key=lambda b: b.length_mm)
    return ShopFacts(
        MetalFacts(
            row.name,
            row.kind,
            row.thickness_mm,
            row.density_kg_m3,
            row.smallest_radius_mm,
            row.sides,
            row.source,
            row.stretch,
            row.expansion_along_mm_m / 1000,
            row.expansion_across_mm_m / 1000,
            row.expansion_source,
            row.fold_from_c,
            row.fold_source,
        ),
        BrakeFacts(
            brake.name,
            brake.length_mm,
            brake.throat_mm,
            brake.smallest_flange_mm,
            brake.largest_angle_deg,
            brake.radius_mm,
        ),
        tuple(
            StockFacts(stock.metal, stock.form, stock.width_mm, stock.length_mm or 0.0)
            for stock in tables.STOCKS
            if stock.metal == row.name
        ),
        {standard.key: standard.value for standard in tables.LAYOUT_STANDARDS},
        {standard.key: standard.source for standard in tables.LAYOUT_STANDARDS},
        PAIRS_DELIVERED,
        SEAMS_DELIVERED,
    )


def unknown_metal(given: str, known: list[str]) -> Fault:
    """The fault for a metal that the shop does not keep."""
    near = get_close_matches(given, known, n=3, cutoff=0.3) or known
    return Fault("metal", f'was "{given[:60]}"', "give one of " + ", ".join(near))
