"""Standing seams: slope, height, sweep. H rows: code limits as pass or fail."""

from __future__ import annotations

import pytest

from layout.rules import seams
from shop.units import read_pitch
from tests.rules.judged import findings, levels, of_rule

PLAIN = {"back": "flat", "counterflashing": "none", "width": 20}
CODE, COPPER = "slope under the code's least", "slope under the handbook's least"
ZINC, SINGLE = "slope for zinc", "single fold on a low slope"


@pytest.mark.parametrize(
    ("pitch", "allowed"),
    [
        pytest.param("1/4:12", True, id="H.01 pass"),
        pytest.param("1/8:12", False, id="H.01 fail"),
    ],
)
def test_the_codes_least_slope_of_a_standing_seam(pitch: str, allowed: bool) -> None:
    # IBC 2012 section 1507.4.2 (seen).
    assert seams.code_allows_standing_seam(read_pitch(pitch)) is allowed


def test_the_code_is_silent_at_its_least_slope_and_speaks_below() -> None:
    at = findings({**PLAIN, "pitch": "1.2°"})
    below = findings({**PLAIN, "pitch": "1.1°"})
    assert of_rule(at, CODE) == []
    assert [(f.level, f.kind) for f in of_rule(below, CODE)] == [("warning", "code")]


@pytest.mark.parametrize(
    ("pitch", "warned"), [("4:12", False), ("3.99:12", True), ("12:12", False)]
)
def test_the_copper_handbooks_details_want_4_in_12(pitch: str, warned: bool) -> None:
    # Copper in Architecture Design Handbook, section 8.2 (trade value 1.30, seen).
    found = findings({**PLAIN, "pitch": pitch})
    assert levels(found, COPPER) == ["warning"] * warned
    assert {f.kind for f in of_rule(found, COPPER)} <= {"practice"}


def test_h_04_copper_at_2_in_12_passes_the_code_but_not_the_handbook() -> None:
    found = findings({**PLAIN, "pitch": "2:12"})
    assert of_rule(found, CODE) == []
    assert levels(found, COPPER) == ["warning"]


def test_other_metals_are_not_held_to_the_copper_handbook() -> None:
    found = findings({**PLAIN, "pitch": "2:12", "metal": "zinc 0.7 mm"})
    assert of_rule(found, COPPER) == []


@pytest.mark.parametrize(
    ("pitch", "said"),
    [
        ("2.9°", ["warning"]),
        ("3°", ["note"]),
        ("6.9°", ["note"]),
        ("7°", []),
    ],
)
def test_zinc_wants_3_degrees_and_better_7(pitch: str, said: list[str]) -> None:
    # Zinc producers' standing seam guide (trade value 2.05, seen).
    found = findings({**PLAIN, "pitch": pitch, "metal": "zinc 0.7 mm"})
    assert levels(found, ZINC) == said


@pytest.mark.parametrize(
    ("fold", "pitch", "said"),
    [("single", "24.9°", 1), ("single", "25°", 0), ("double", "24.9°", 0)],
)
def test_a_single_fold_only_from_25_degrees(fold: str, pitch: str, said: int) -> None:
    # Zinc producers' standing seam guide (trade value 2.06, seen).
    found = findings({**PLAIN, "pitch": pitch, "roof.seam.fold": fold})
    assert len(of_rule(found, SINGLE)) == said


@pytest.mark.parametrize(("height", "said"), [("25 mm", 0), ("24.9 mm", 1), ("1", 0)])
def test_a_seam_is_an_inch_high(height: str, said: int) -> None:
    # Copper Flashings 1925, ten rules no. 7; UFGS p.15 (trade value 1.58, seen).
    found = findings({**PLAIN, "roof.seam.height": height})
    assert len(of_rule(found, "seam height")) == said


def test_a_sweep_too_tight_for_the_metal_asks_for_relief_cuts() -> None:
    # Copper stretches 30 % (B370, from memory): a turn w is swept on w / 0.3 + w,
    # 41.3 mm for 3/8 in.
    tight = findings({**PLAIN, "build.sweep_radius": "41.2 mm"})
    wide = findings({**PLAIN, "build.sweep_radius": "41.3 mm"})
    found = of_rule(tight, "sweep too tight")
    assert [f.level for f in found] == ["warning"]
    assert "relief" in found[0].remedy
    assert of_rule(wide, "sweep too tight") == []


def test_aluminium_is_swept_on_a_larger_radius_than_copper() -> None:
    # Stretch 6 % (from memory): 168.3 mm for a turn of 3/8 in.
    asked = {**PLAIN, "upstands": "14", "metal": "aluminium 0.032 in"}
    tight = findings({**asked, "build.sweep_radius": "168 mm"})
    wide = findings({**asked, "build.sweep_radius": "169 mm"})
    assert levels(tight, "sweep too tight") == ["warning"]
    assert levels(wide, "sweep too tight") == []
