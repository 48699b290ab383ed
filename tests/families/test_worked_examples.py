"""Worked examples the rest of the tests do not meet: pitch, cleats, weight.

Each row is named by its number in the table of worked examples; its source
stands beside it. "computed" is arithmetic from the stated rule, kept as a
regression value.
"""

from __future__ import annotations

from math import cos, radians, tan

import pytest

from layout.families.cleat import count
from layout.families.counterflashing import step_run
from layout.families.proven import weight
from layout.rules.upslope import code_height
from layout.shop_facts import shop_facts
from shop.units import read_pitch
from tests import sites
from tests.sites import INCH

FOOT2 = (12 * INCH) ** 2  # square mm
POUND = 0.45359237  # kg, exact by definition


@pytest.mark.parametrize(
    ("pitch", "angle", "percent"),
    [
        pytest.param("3:12", 14.04, 25.00, id="C.01 computed"),
        pytest.param("4:12", 18.43, 33.33, id="C.02 computed"),
        pytest.param("6:12", 26.57, 50.00, id="C.03 printed, seen"),
        pytest.param("8:12", 33.69, 66.67, id="C.04 computed"),
        pytest.param("12:12", 45.00, 100.00, id="C.05 computed"),
    ],
)
def test_pitch_in_twelfths_degrees_and_percent(
    pitch: str, angle: float, percent: float
) -> None:
    assert read_pitch(pitch) == pytest.approx(angle, abs=0.01)
    assert read_pitch(f"{percent}%") == pytest.approx(read_pitch(pitch), abs=0.01)


@pytest.mark.parametrize(
    ("plan", "pitch", "roof"),
    [
        # Slope-factor web note (printed, seen).
        pytest.param(5000, "6:12", 5590, id="C.06"),
        # Estimating Building Costs (printed, seen); the exact areas computed.
        pytest.param(1008, "12:12", 1425.5, id="C.07"),
        pytest.param(1008, "8:12", 1211.5, id="C.08"),
        pytest.param(1008, "6:12", 1127.0, id="C.09"),
        pytest.param(1008, "18:12", 1817.2, id="C.10"),
    ],
)
def test_area_of_a_pitched_roof_from_its_plan(
    plan: float, pitch: str, roof: float
) -> None:
    assert plan / cos(radians(read_pitch(pitch))) == pytest.approx(roof, abs=1)


@pytest.mark.parametrize(
    ("ridge", "pitch"),
    [
        pytest.param(12, "12:12", id="C.11 half"),
        pytest.param(8, "8:12", id="C.11 third"),
        pytest.param(6, "6:12", id="C.11 quarter"),
    ],
)
def test_a_24_foot_house_by_the_height_of_its_ridge(ridge: float, pitch: str) -> None:
    # Estimating Building Costs (printed, seen).
    assert read_pitch(f"{ridge}:12") == pytest.approx(read_pitch(pitch))


def test_c_12_fifteen_degrees_is_not_one_on_four() -> None:
    # Copper Flashings 1925, p.55, calls them equal; computed: 3.215:12, 14.04.
    assert 12 * tan(radians(read_pitch("15°"))) == pytest.approx(3.215, abs=0.005)
    assert read_pitch("1:4") == pytest.approx(14.04, abs=0.005)


@pytest.mark.parametrize("pitch_in_12", [12, 8, 6, 4, 3])
def test_d_06_the_codes_height_is_half_the_width_at_the_roofs_pitch(
    pitch_in_12: float,
) -> None:
    # IRC R1003.20, from memory: the laid saddle is the table's own.
    made = sites.laid_with(
        {"width": 36, "pitch": f"{pitch_in_12}:12", "roof.above": 60}
    )
    places = sites.piece(made, "BL").pattern.folded
    raised = code_height(36, pitch_in_12) * INCH
    up = sites.plumb(made.pitch)
    foot = up.y * 26.5 * INCH
    assert any(
        abs(p.dot(up) - foot - raised) < 1e-6 and abs(p.x - 18 * INCH) < 1e-6
        for p in places
    )


@pytest.mark.parametrize(
    ("course", "courses", "pitch", "run", "within"),
    [
        pytest.param(8 / 3, 1, "6:12", 5.333, 0.001, id="D.20 one course"),
        pytest.param(8 / 3, 3, "6:12", 16.0, 0.001, id="D.20 three courses"),
        pytest.param(75, 1, "30°", 129.9, 0.1, id="D.21"),
    ],
)
def test_run_of_a_stepped_flashing(
    course: float, courses: int, pitch: str, run: float, within: float
) -> None:
    # Rise over the tangent of the pitch, computed; three bricks at most: Copper in
    # Architecture Design Handbook, section 9.8 (seen).
    found = step_run(course, courses, tan(radians(read_pitch(pitch))))
    assert found == pytest.approx(run, abs=within)


@pytest.mark.parametrize(
    ("length", "spacing", "cleats"),
    [(1000, 305, 5), (10 * 12 * INCH, 12 * INCH, 11), (300, 305, 2), (305, 305, 2)],
)
def test_cleats_of_a_seam_by_their_spacing(
    length: float, spacing: float, cleats: int
) -> None:
    # One at each end, none further apart than 12 in: Copper in Architecture Design
    # Handbook, section 8.2 (trade value 1.26, seen).
    assert count(length, spacing) == cleats


def test_the_set_holds_the_cleats_of_its_four_seams() -> None:
    made = sites.laid_with({"back": "flat"})
    run = 26.5 + 26 + 4  # beside the chimney, above it, the lap below
    seams = [run, run, 11.25, 13.625]
    wanted = sum(-(-size // 12) + 1 for size in seams)
    assert sites.piece(made, "K").quantity == wanted


@pytest.mark.parametrize(
    ("metal", "thickness", "within"),
    [
        # CDA Table 1.1A density (seen); nominal ASTM B370 (from memory).
        pytest.param("copper 16 oz", 0.0216, 1e-4, id="G.01"),
        pytest.param("copper 20 oz", 0.0270, 1e-4, id="G.02 20 oz"),
        pytest.param("copper 24 oz", 0.0323, 1e-4, id="G.02 24 oz"),
        pytest.param("copper 32 oz", 0.0431, 1e-4, id="G.02 32 oz"),
        pytest.param("copper 48 oz", 0.0647, 2e-4, id="G.03"),
        # Chart prints 0.0306 beside 0.853 mm: a copy error (trade value 5.09).
        pytest.param("galvanized steel 22 ga", 0.0336, 1e-4, id="G.12"),
    ],
)
def test_thickness_of_the_metals_the_shop_keeps(
    metal: str, thickness: float, within: float
) -> None:
    found = shop_facts(metal).metal.thickness / INCH
    assert found == pytest.approx(thickness, abs=within)


@pytest.mark.parametrize(
    ("metal", "area", "pounds", "within"),
    [
        # Definition: 16 oz copper is a pound a square foot.
        pytest.param("copper 16 oz", FOOT2, 1.0, 0.001, id="G.04"),
        # Computed from 1.25 lb a square foot: 14 in girth, 10 ft long.
        pytest.param("copper 20 oz", 14 / 12 * 10 * FOOT2, 14.58, 0.01, id="G.10"),
        # Sheet Metal Drafting p.102: 1.156 lb a square foot (seen).
        pytest.param("galvanized steel 24 ga", 8 * FOOT2, 9.25, 0.01, id="G.11"),
    ],
)
def test_weight_in_pounds(
    metal: str, area: float, pounds: float, within: float
) -> None:
    facts = shop_facts(metal).metal
    found = weight(area, facts.thickness, facts.density) / POUND
    assert found == pytest.approx(pounds, abs=within)


@pytest.mark.parametrize(
    ("thickness", "density", "share", "kilograms"),
    [
        # CDA UK Pub. 156 density; it prints 5.45, which belongs to 0.610 mm.
        pytest.param(0.6, 8930, 1.0, 5.36, id="G.07"),
        pytest.param(0.610, 8930, 1.0, 5.45, id="G.07 as printed"),
        # Zinc producers' densities, 7.2 and 7.14.
        pytest.param(0.7, 7200, 1.0, 5.04, id="G.08 7.2"),
        pytest.param(0.7, 7140, 1.0, 5.00, id="G.08 7.14"),
        # 500 mm coil on a 430 mm bay, per covered square metre.
        pytest.param(0.8, 7200, 500 / 430, 6.70, id="G.09"),
        # G.04: 16 oz a square foot.
        pytest.param(0.5478, 8912.9, 1.0, 4.882, id="G.04 metric"),
    ],
)
def test_weight_of_a_square_metre(
    thickness: float, density: float, share: float, kilograms: float
) -> None:
    found = weight(1e6 * share, thickness, density)
    assert found == pytest.approx(kilograms, abs=0.01)


def test_a_laid_piece_weighs_what_its_outline_does() -> None:
    # G.10 on a real piece: pounds a square foot times its area.
    made = sites.laid(sites.sample("saddle-copper-in"))
    for piece in made.pieces:
        assert piece.weight / POUND == pytest.approx(
            1.25 * piece.area / FOOT2, rel=2e-4
        )
