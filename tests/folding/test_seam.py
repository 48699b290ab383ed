"""Seam legs: pan widths and seam losses (worked examples F.01 to F.08)."""

from __future__ import annotations

import pytest

from layout.folding.seam import Seam
from tests import sites


# Copper Roofings, p.6, prints the 1920s legs (trade values 1.36, 1.37): the first
# fold and the second are 1/4 in, on a finished seam of 1 in or 3/4 in.
@pytest.mark.parametrize(
    ("row", "sheet", "seam", "pan"),
    [
        pytest.param("F.01", 24, Seam("double", 1, 0.25), 21.25, id="F.01"),
        pytest.param("F.02", 24, Seam("double", 0.75, 0.25), 21.75, id="F.02"),
    ],
)
def test_pan_width_of_a_sheet_with_the_printed_1920s_legs(
    row: str, sheet: float, seam: Seam, pan: float
) -> None:
    # Copper Roofings, p.6 (printed, seen; F.02 legs printed, pan computed).
    assert sheet - seam.lost() == pan


@pytest.mark.parametrize(
    ("sheet", "pan"),
    [
        pytest.param(24, 20.75, id="F.03"),
        pytest.param(20, 16.75, id="F.04"),
    ],
)
def test_pan_width_of_the_modern_inch_seam_by_its_printed_loss(
    sheet: float, pan: float
) -> None:
    # CDA Table 8.2A, from memory: loss 3 1/4 in, legs 1 1/2 and 1 3/4. Its folds
    # of 1/4 and 1/2 in are not equal; equal turns that lose the same are 5/12 in.
    seam = Seam("double", 1, 5 / 12)
    assert sheet - seam.lost() == pytest.approx(pan)


def test_european_legs_of_35_and_45_leave_a_bay_of_520() -> None:
    # F.05: zinc producer's guide prints legs 35 and 45 for a 25 mm seam (seen).
    seam = Seam("double", 25, 10)
    assert (seam.leg("receiving"), seam.leg("covering")) == (35, 45)
    assert 600 - seam.lost() == 520


def test_the_european_folds_are_10_and_10() -> None:
    # F.07: a 35, b 45, H 25 -> first fold 10, second 10.
    seam = Seam("double", 25, 10)
    assert seam.leg("receiving") - seam.height == 10
    assert seam.leg("covering") - seam.leg("receiving") == 10


def test_laid_side_pans_lose_what_the_legs_say() -> None:
    # F.05 on a real piece: covering leg 45 at the roof seam, upstand 170.
    made = sites.laid(sites.sample("stepped-steep-copper-mm"))
    pan = sites.piece(made, "PL")
    leg = next(f for f in pan.folds if f.what == "leg" and f.line[0].x == f.line[1].x)
    assert leg.line[0].x == pytest.approx(45)
    upstand = next(f for f in pan.folds if f.what == "upstand")
    assert upstand.line[0].x - leg.line[0].x == pytest.approx(260)
    assert pan.pattern.size()[0] == pytest.approx(45 + 260 + 170)


def test_single_folds_have_one_turn_less() -> None:
    # Geometry, section 4: receiving leg H with no turn, covering leg H + t.
    seam = Seam("single", 25, 10)
    assert (seam.leg("receiving"), seam.leg("covering")) == (25, 35)
