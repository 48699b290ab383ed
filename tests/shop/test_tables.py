from __future__ import annotations

import subprocess
import sys

import pytest

from shop.tables import BRAKES, INCH, METALS, STANDARDS, STOCKS

POUNDS_A_SQUARE_FOOT = 4.882428  # kg/m2, by definition
METAL = {metal.name: metal for metal in METALS}


def weight(name: str) -> float:
    metal = METAL[name]
    return metal.thickness_mm / 1000 * metal.density_kg_m3


# ASTM B370 nominal thickness, inches, from memory (trade values 1.12 to 1.17).
@pytest.mark.parametrize(
    ("ounces", "inches"),
    [
        (12, 0.0162),
        (16, 0.0216),
        (20, 0.0270),
        (24, 0.0323),
        (32, 0.0431),
        (48, 0.0646),
    ],
)
def test_copper_has_its_nominal_thickness(ounces: int, inches: float) -> None:
    thickness = METAL[f"copper {ounces} oz"].thickness_mm
    assert thickness / INCH == pytest.approx(inches, abs=0.00015)


def test_sixteen_ounces_is_a_pound_a_square_foot() -> None:
    # Worked example G.04: 4.882 kg/m2, by definition.
    assert weight("copper 16 oz") == pytest.approx(4.882, abs=0.001)


def test_a_ten_foot_piece_of_twenty_ounce_copper() -> None:
    # Worked example G.10: girth 14 in, 10 ft long, 14.58 lb, from 1.25 lb/ft2.
    pounds = weight("copper 20 oz") / POUNDS_A_SQUARE_FOOT * 14 / 12 * 10
    assert pounds == pytest.approx(14.58, abs=0.01)


def test_zinc_weighs_what_producers_print() -> None:
    # Worked example G.08: 0.7 mm at 7.2 g/cm3 is 5.04 kg/m2.
    assert weight("zinc 0.7 mm") == pytest.approx(5.04, abs=0.01)


def test_twenty_four_gauge_galvanized_offset_fitting() -> None:
    # Worked example G.11: 8 ft2 at 1.156 lb/ft2 (Sheet Metal Drafting p.102).
    pounds = weight("galvanized steel 24 ga") / POUNDS_A_SQUARE_FOOT * 8
    assert pounds == pytest.approx(9.25, abs=0.01)


def test_names_slugs_and_keys_are_used_once() -> None:
    for names in (
        [metal.name for metal in METALS],
        [metal.slug for metal in METALS],
        [row.key for row in STANDARDS],
        [brake.name for brake in BRAKES],
        STOCKS,
    ):
        assert len(set(names)) == len(names)


def test_every_figure_has_a_source() -> None:
    for row in (*METALS, *STANDARDS):
        assert len(row.source) > 10, row


def test_standards_are_figures_with_a_unit_or_one_of_their_words() -> None:
    for row in STANDARDS:
        assert row.words.endswith("."), row.key
        if row.unit == "word":
            assert row.value in row.choices
        else:
            assert row.unit in ("mm", "deg", "count")
            assert float(row.value) >= 0


def test_every_metal_has_stock() -> None:
    assert {stock.metal for stock in STOCKS} == set(METAL)
    for stock in STOCKS:
        assert (stock.length_mm is None) == (stock.form == "coil")


def test_the_tables_load_without_a_framework() -> None:
    code = "import shop.tables, sys; assert 'django' not in sys.modules"
    subprocess.run([sys.executable, "-c", code], check=True)
