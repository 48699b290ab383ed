"""Thermal movement: worked examples B.01 to B.10."""

from __future__ import annotations

import pytest

from layout.folding.movement import INTERVAL, movement
from layout.shop_facts import shop_facts
from shop.tables import METALS
from shop.warmth_table import WARMTH

# Per °C along the rolling direction, as the layout takes it from the shop's metals.
EXPANSION = {
    kind: warmth.expansion_along_mm_m / 1000 for kind, warmth in WARMTH.items()
}


def test_an_inch_of_copper() -> None:
    # B.01: Copper Flashings, 2nd ed. 1925, p.60 (printed): 9.5e-6, 60 °F.
    assert movement(1, 9.5e-6, 60) == pytest.approx(0.00057, abs=1e-6)


def test_stress_of_restrained_copper() -> None:
    # B.02: the same page: E 18,300,000 psi; restrained, the strain is the movement.
    assert 18_300_000 * movement(1, 9.5e-6, 60) == pytest.approx(10431, abs=1)


def test_a_ten_metre_zinc_bay() -> None:
    # B.03: producer's standing seam system prints 20 mm; 0.022 mm/m per °C.
    zinc = EXPANSION["zinc"]
    assert movement(10000, zinc, 90) == pytest.approx(20, abs=0.3)
    assert movement(10000, zinc, 100) == pytest.approx(22)


def test_a_ten_foot_copper_pan_by_the_handbook() -> None:
    # B.04: CDA Table 1.1A, 9.8e-6 per °F; 150 °F are 83.3 °C.
    copper = EXPANSION["copper"]
    assert movement(120, copper, 150 * 5 / 9) == pytest.approx(0.1764, abs=1e-4)


def test_the_same_pan_by_the_alloy_data() -> None:
    # B.05: C11000, 9.4e-6 per °F, 68 to 212 °F.
    assert movement(120, 9.4e-6, 150) == pytest.approx(0.1692, abs=1e-4)


def test_ten_metres_of_copper_european_practice() -> None:
    # B.06: CDA UK publication 156, misprint corrected: 1.7 mm/m per 100 °C.
    assert movement(10, 1.7 / 100, 100) == pytest.approx(17)


def test_no_metal_moves_as_the_misprint_says() -> None:
    # B.07: 1.7 mm/m per ONE degree would be 1700 mm; ours stay under 30 mm.
    for expansion in EXPANSION.values():
        assert movement(10000, expansion, 100) < 30


def test_swing_implied_by_the_fastener_allowance() -> None:
    # B.08: NZ code of practice, 8 mm per 10 m of steel sheet.
    steel = EXPANSION["steel"]
    assert 8 / movement(10000, steel, 1) == pytest.approx(66.7, abs=0.5)


def test_a_lead_piece() -> None:
    # B.09: materials textbook Table B.6; length limit of the UK lead guide.
    lead = INTERVAL["lead"].value
    assert movement(lead, EXPANSION["lead"], 100) == pytest.approx(4.4, abs=0.05)


def test_zinc_across_rolling() -> None:
    # B.10: zinc producer's characteristics, 0.017 mm/m per °C across.
    across = shop_facts("zinc 0.7 mm").metal.expansion_across
    assert movement(530, across, 100) == pytest.approx(0.90, abs=0.01)


def test_ten_metres_over_a_hundred_degrees() -> None:
    # Trade value 5.45, computed from the coefficients.
    found = {k: round(movement(10000, e, 100), 1) for k, e in EXPANSION.items()}
    assert found["steel"] == 12 and found["stainless"] == 17.3 and found["zinc"] == 22


def test_every_metal_of_the_shop_has_both_figures() -> None:
    for metal in METALS:
        assert metal.kind in INTERVAL
        assert shop_facts(metal.name).metal.expansion == EXPANSION[metal.kind]
