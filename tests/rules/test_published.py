"""Figures in the code of rules, folds and pieces, typed again from their source."""

from __future__ import annotations

from math import acos, atan, degrees
from typing import Any

import pytest

from layout.figures import figures

INCH, FOOT = 25.4, 304.8
FIGURES = {figure.name: figure.value for figure in figures()}
COVER, PANS = "layout.rules.cover.", "layout.rules.pans.BY_METAL "
SEAMS, STEPS = "layout.rules.seams.", "layout.rules.steps."
UPSLOPE, ALLOWANCE = "layout.rules.upslope.", "layout.folding.allowance."
THICKNESS = "layout.rules.thickness."
INTERVAL = "layout.folding.movement.INTERVAL "

PRINTED: dict[str, Any] = {
    # Trade values 1.60, 1.66, 4.30, 4.36, 4.46 (seen), 4.45 (memory).
    COVER + "UPSTANDS copper handbook stepped": {"least": 4 * INCH},
    COVER + "UPSTANDS copper handbook runner": {"least": 8 * INCH},
    COVER + "UPSTANDS federal guide": {"least": 8 * INCH},
    COVER + "UPSTANDS sheet metal manual": {"least": 10 * INCH},
    COVER + "UPSTANDS NZ code of practice": {"least": 100},
    COVER + "UPSTANDS UK practice": {"least": 150},
    COVER + "ONTO_ROOF": 4 * INCH,  # 1.61
    COVER + "LAP": 4 * INCH,  # 1.64
    # 1.25 and 1.27; 2.07 to 2.09; 2.15 (all seen).
    PANS + "copper": {"fixed": 10 * FOOT, "narrow": 18 * INCH, "wide": 24 * INCH},
    PANS + "zinc": {"fixed": 3000, "longest": 10000, "narrow": 330, "wide": 530},
    PANS + "steel": {"fixed": 4000},
    "layout.rules.pipes.UP_ROOF": 6 * INCH,  # worked example E.17 (seen)
    "layout.rules.pipes.ELSEWHERE": 3 * INCH,  # the same
    SEAMS + "CODE_SLOPE": degrees(atan(0.25 / 12)),  # 4.21
    SEAMS + "COPPER_SLOPE": degrees(atan(4 / 12)),  # 1.30
    SEAMS + "ZINC_SLOPE": 3,  # 2.05
    SEAMS + "ZINC_WISHED": 7,  # 2.05
    SEAMS + "SINGLE_SLOPE": 25,  # 2.06
    SEAMS + "LEAST_HEIGHT": 25,  # 1.58: 1 in (25 mm)
    STEPS + "SIZE": 4 * INCH,  # 4.17 (memory), 1.60 and 1.61 (seen)
    STEPS + "LONGER": 2 * INCH,  # 4.18 (memory)
    STEPS + "LAP": 3 * INCH,  # 4.30 and 12.08
    # A pound is 16 oz and 0.45359237 kg, a foot 0.3048 m, both exact.
    THICKNESS + "OUNCE": 0.45359237 / 16 / 0.3048**2,
    # 4.24, 4.25 (seen), 4.27 and 4.16 (memory).
    THICKNESS + "COVERING aluminium": {"value": 0.024 * INCH},
    THICKNESS + "COVERING copper": {"value": 0.45359237 / 0.3048**2 / 8.93},
    THICKNESS + "COVERING zinc": {"value": 0.027 * INCH},
    THICKNESS + "FLASHING": 0.019 * INCH,
    UPSLOPE + "CODE_WIDTH": 30 * INCH,  # 4.01
    UPSLOPE + "NZ_WIDTH": 600,  # 4.49
    ALLOWANCE + "FLAT_ENOUGH": 180 - 165,  # 3.07 (memory)
    ALLOWANCE + "CRUSHED": 0.43,  # 3.29
    # 3.12 to 3.14 (memory).
    ALLOWANCE + "HANDBOOK": {"soft": 0.55, "half-hard": 0.64, "hard": 0.71},
    # 4.34; 2.08; 4.57; 4.43 (all seen).
    INTERVAL + "copper": {"value": 40 * FOOT},
    INTERVAL + "stainless": {"value": 40 * FOOT},
    INTERVAL + "aluminium": {"value": 32 * FOOT},
    INTERVAL + "zinc": {"value": 10000},
    INTERVAL + "steel": {"value": 18000},
    INTERVAL + "lead": {"value": 1500},
    # Geometry: a tip reaches 1 / cos of half the pocket; twice the height at 60.
    "layout.folding.tuck.WIDEST": degrees(acos(1 / 2)),
    "layout.families.counterflashing.MOST_COURSES": 3,  # 1.65
}


@pytest.mark.parametrize("name", PRINTED)
def test_a_figure_is_as_printed(name: str) -> None:
    assert FIGURES[name] == pytest.approx(PRINTED[name], rel=1e-12)
