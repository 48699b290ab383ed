"""Behind the chimney: saddle needed or not, fall of the trough, metal above."""

from __future__ import annotations

import pytest

from layout.rules import upslope
from tests.rules.judged import findings, levels, of_rule

FLAT = {"back": "flat", "counterflashing": "none"}


@pytest.mark.parametrize(
    ("inches", "needed"),
    [
        pytest.param("30", False, id="D.07 30 in"),
        pytest.param("30 1/16", True, id="D.07 30 1/16 in"),
        pytest.param("29 5/8", False, id="29 5/8 in"),
        pytest.param("48", True, id="48 in"),
    ],
)
def test_the_code_wants_a_saddle_over_30_inches_strictly(
    inches: str, needed: bool
) -> None:
    # 2003 IRC R905.2.8.3 (seen); a chimney of 29 5/8 in needs none (seen).
    found = findings({**FLAT, "width": inches})
    assert levels(found, "saddle by code") == (["warning"] if needed else [])
    assert [f.kind for f in of_rule(found, "saddle by code")] == ["code"] * needed


@pytest.mark.parametrize("back", ["saddle", "falling left", "falling right"])
def test_a_back_that_parts_the_water_needs_no_saddle(back: str) -> None:
    found = findings({"back": back, "width": 48, "counterflashing": "none"})
    for rule in ("saddle by code", "saddle by the handbook"):
        assert of_rule(found, rule) == []


@pytest.mark.parametrize(
    ("width", "pitch_in_12", "height"),
    [
        pytest.param(36, 12, 18, id="D.01"),
        pytest.param(36, 8, 12, id="D.02"),
        pytest.param(36, 6, 9, id="D.03"),
        pytest.param(36, 4, 6, id="D.04"),
        pytest.param(36, 3, 4.5, id="D.05"),
        pytest.param(48, 5, 10, id="D.08"),
    ],
)
def test_the_codes_table_of_cricket_heights(
    width: float, pitch_in_12: float, height: float
) -> None:
    # IRC Table R1003.20 / IBC 2113.20, printed, from memory; D.08 between its rows.
    assert upslope.code_height(width, pitch_in_12) == height


def test_d_13_the_flattest_roof_whose_45_degree_valley_falls_a_degree_and_a_half() -> (
    None
):
    # NZ code of practice: 1.5 degrees (seen); 2.12 computed.
    assert upslope.least_pitch_for(1.5) == pytest.approx(2.12, abs=0.01)


def test_the_shops_rule_binds_where_the_shop_chose_it() -> None:
    shop = {"saddle_rule": "shop", "saddle_shop_width": 609.6}
    wide = findings({**FLAT, "width": "24 1/16"}, standards=shop)
    narrow = findings({**FLAT, "width": "24"}, standards=shop)
    other = findings({**FLAT, "width": "28"}, standards={"saddle_rule": "code"})
    assert levels(wide, "saddle by the shop's rule") == ["warning"]
    assert levels(narrow, "saddle by the shop's rule") == []
    assert levels(other, "saddle by the shop's rule") == []


@pytest.mark.parametrize(
    ("chosen", "level"), [("handbook", "warning"), ("code", "note"), ("shop", "note")]
)
def test_the_handbooks_stricter_rule_is_always_said(chosen: str, level: str) -> None:
    # Copper in Architecture Design Handbook, section 9.8 (trade value 1.69, seen).
    found = findings({**FLAT, "width": 20}, standards={"saddle_rule": chosen})
    assert levels(found, "saddle by the handbook") == [level]


@pytest.mark.parametrize(
    ("width", "pitch", "said"),
    [(600, "30°", 0), (600.5, "30°", 1), (500, "10°", 0), (500, "9.9°", 1)],
)
def test_the_nz_rule_600_mm_or_a_pitch_under_10(
    width: float, pitch: str, said: int
) -> None:
    # NZ Metal Roof and Wall Cladding Code of Practice (trade value 4.49, seen).
    found = findings({**FLAT, "width": f"{width} mm", "pitch": pitch})
    assert len(of_rule(found, "saddle by the NZ code of practice")) == said


def test_a_saddles_valley_is_judged_by_the_shops_least_fall() -> None:
    steep = findings({"counterflashing": "none"})
    low = findings({"counterflashing": "none"}, standards={"trough_fall": 30.0})
    assert levels(steep, "trough fall") == ["note"]
    assert levels(low, "trough fall") == ["blocking"]


def test_metal_carried_further_up_than_measured_is_said() -> None:
    # 33 in wide at 12:12: the ridge ends 33/2 tan 45 / sin 45 = 23 1/3 in up the
    # slope, and 4 in more are kept.
    steep = {"counterflashing": "none", "pitch": "12:12"}
    short = findings({**steep, "roof.above": "27 1/4"})
    enough = findings({**steep, "roof.above": "27 3/8"})
    assert levels(short, "metal above") == ["warning"]
    assert of_rule(enough, "metal above") == []


def test_a_smaller_sweep_at_the_troughs_high_end_is_said() -> None:
    asked = {"back": "falling left", "counterflashing": "none"}
    tight = findings({**asked, "build.sweep_radius": "5"})
    assert levels(tight, "smaller sweep") == ["note"]


@pytest.mark.parametrize("pitch_in_12", [3, 4, 6, 8, 12])
def test_d_06_the_codes_heights_are_half_the_width_at_the_roofs_pitch(
    pitch_in_12: int,
) -> None:
    # Every row of IRC Table R1003.20 (printed, from memory) is W/2 times the pitch.
    for width in (31.0, 36.0, 47.5):
        level = width / 2 * pitch_in_12 / 12
        assert upslope.code_height(width, pitch_in_12) == pytest.approx(level, abs=1e-9)
