"""The shop's figures against what was printed, typed again from the source."""

from __future__ import annotations

from typing import get_args

import pytest

from layout.folding.allowance import Rule
from shop.pairs_table import PAIRS
from shop.seams_table import SEAMS
from shop.tables import METALS, STANDARDS, STOCK_OF_KIND, MetalRow
from shop.warmth_table import WARMTH

INCH = 25.4
STANDARD = {row.key: row for row in STANDARDS}

PRINTED = {
    "slope_lap": 4 * INCH,  # SMACNA manual as quoted: joint lap (trade value 4.37)
    "hem": INCH / 2,  # Copper Flashings 1925, p.8 (1.75)
    "cleat_spacing": 12 * INCH,  # Copper in Architecture, section 8.2 (1.26)
    "cleat_width": 2 * INCH,  # the same, section 7.1A (1.43)
    "cleat_length": 3 * INCH,  # UFGS 07600, p.15: 2 x 3 in (1.45)
    "saddle_margin": 4 * INCH,  # UFGS 07600, p.17: under the roofing (4.30)
    "counterflashing_lap": 4 * INCH,  # Copper in Architecture, section 9.8 (1.64)
    "step_lap": 3 * INCH,  # UFGS 07600, p.17 (12.08)
    "reglet_depth": 1.25 * INCH,  # UFGS 07600, p.18 (4.32)
    "reglet_turn": INCH / 4,  # UFGS 07600, p.18 (4.31)
    "clear_of_roof": INCH,  # SMACNA manual as quoted (4.38)
    "trough_fall": 1.5,  # NZ code of practice, degrees (4.50)
    "temperature_swing": 100,  # CDA UK publication 156, per 100 °C (1.07)
    "step_flashing_lap": 2 * INCH,  # NRCA practice, from memory (4.18)
    "lock": 0.75 * INCH,  # Copper in Architecture, section 8.5; UFGS (1.59, 12.03)
}


@pytest.mark.parametrize("key", PRINTED)
def test_a_standard_is_as_printed(key: str) -> None:
    assert STANDARD[key].value == pytest.approx(PRINTED[key], rel=1e-12)


def test_the_allowances_are_the_rules_known() -> None:
    assert STANDARD["allowance"].choices == get_args(Rule)


# Kind: inside radius of that thickness t in mm, stretch, density in kg/m3 from and to.
# Radius: trade values 6.01 (UL 580 roof, seen), 6.14 (memory), 6.18 and 6.19 (memory),
# 6.06 (Aluminum Design Manual, seen), 6.16 (memory). Density: 1.01, 5.31, 5.35, 5.38,
# 5.22 (0.098 lb/in3, memory); galvanized sheet with its coats, 5.10 to 5.12. Stretch:
# zinc A50 >= 35 % seen (5.33); the others from memory.
SHEETS = {
    "copper": (lambda t: 2 * t, 0.30, 0.322 * 27679.9, 0.322 * 27679.9),
    "zinc": (lambda t: 1.75, 0.35, 7140, 7200),
    "galvanized": (lambda t: t, 0.20, 7850, 8100),
    "painted": (lambda t: 2 * t, 0.20, 7850, 7850),
    "stainless": (lambda t: t, 0.40, 7900, 8000),
    "aluminium": (lambda t: t / 2, 0.06, 0.098 * 27679.9, 0.098 * 27679.9),
}


@pytest.mark.parametrize("row", METALS, ids=lambda row: row.name)
def test_a_metals_radius_stretch_and_density_are_as_printed(row: MetalRow) -> None:
    radius, stretch, least, most = SHEETS[row.name.split()[0]]
    assert row.smallest_radius_mm == pytest.approx(radius(row.thickness_mm), abs=0.006)
    assert row.stretch == stretch
    assert least - 0.5 <= row.density_kg_m3 <= most + 0.5


# mm a metre for 1 °C, along and across, and °C: trade values 1.04 (seen), 5.32 and
# 6.11 (seen), 5.42 (memory), 6.16 (memory), 5.39 and 5.40 (seen).
@pytest.mark.parametrize(
    ("kind", "along", "across", "fold_from"),
    [
        ("copper", 9.8e-3 * 9 / 5, 9.8e-3 * 9 / 5, None),
        ("zinc", 0.022, 0.017, 10),
        ("steel", 0.012, 0.012, None),
        ("painted steel", 0.012, 0.012, 10),
        ("stainless", 0.0173, 0.0173, None),
        ("aluminium", 0.0236, 0.0236, None),
        ("lead", 0.0293, 0.0293, None),
    ],
)
def test_the_warmth_of_a_metal_is_as_printed(
    kind: str, along: float, across: float, fold_from: float | None
) -> None:
    warmth = WARMTH[kind]
    assert warmth.expansion_along_mm_m == pytest.approx(along)
    assert warmth.expansion_across_mm_m == pytest.approx(across)
    assert warmth.fold_from_c == fold_from


def test_every_metal_has_the_warmth_of_its_kind() -> None:
    for row in METALS:
        warmth = WARMTH["painted steel" if "painted" in row.name else row.kind]
        assert row[-len(warmth) :] == warmth


# Receiving leg, covering leg, height, loss: trade values 1.33 to 1.38, 2.01 to 2.04,
# 2.19, 2.21, 2.24; inches where the source prints inches.
PRINTED_SEAMS = [
    ("copper", "hand", 1.25 * INCH, 1.5 * INCH, INCH, 2.75 * INCH),
    ("copper", "hand", INCH, 1.25 * INCH, 0.75 * INCH, 2.25 * INCH),
    ("copper", "hand", 1.5 * INCH, 1.75 * INCH, INCH, 3.25 * INCH),
    ("copper", "hand", 0, 0, 0.75 * INCH, 2.75 * INCH),
    ("copper", "hand", 0, 0, 25, 75),
    ("zinc", "hand", 35, 45, 25, 80),
    ("zinc", "machine", 0, 0, 25, 70),
    ("stainless", "hand", 35, 45, 25, 80),
    ("steel", "hand", 1.5 * INCH, 1.75 * INCH, INCH, 3.25 * INCH),
]


def test_a_seam_is_as_printed() -> None:
    assert len(SEAMS) == len(PRINTED_SEAMS)
    for row, printed in zip(SEAMS, PRINTED_SEAMS, strict=True):
        assert (row.metal_kind, row.made, row.fold) == (*printed[:2], "double")
        kept = (row.receiving_mm or 0, row.covering_mm or 0, row.height_mm, row.lost_mm)
        assert kept == pytest.approx(printed[2:])


def test_every_pair_and_seam_has_a_source() -> None:
    for row in (*PAIRS, *SEAMS):
        assert len(row.source) > 10, row


def test_copper_comes_as_it_was_printed() -> None:
    # Copper Roofings, 1920s, p.6: widths in multiples of 2 in (trade value 1.39);
    # Copper in Architecture, section 9.3: lengths of 8 or 10 ft (1.79).
    for _, width, length in STOCK_OF_KIND["copper"]:
        assert round(width / INCH, 6) % 2 == 0
        assert length is not None and round(length / INCH / 12, 6) in (8, 10)


def test_zinc_comes_as_the_standard_prefers() -> None:
    # EN 988 section 5: strip 100 to 1000 mm, lengths 2000 and 3000 (trade value 5.30).
    for form, width, length in STOCK_OF_KIND["zinc"]:
        assert 100 <= width <= 1000
        assert length in (2000, 3000) if form == "sheet" else length is None
