"""Seam legs: pan widths and seam losses (worked examples F.01 to F.08)."""

from __future__ import annotations

from dataclasses import replace

import pytest

from layout.faults import BadRecord
from layout.folding.facts import SeamFacts
from layout.folding.seam import Seam
from layout.shop_facts import SEAMS_DELIVERED
from tests import elsewhere, sites

INCH = 25.4
MODERN_INCH = Seam("double", 1, 0.5, first_turn=0.25)


def row(kind: str, made: str, height: float, lost: float) -> SeamFacts:
    """The shop's own row for a seam, by its height and loss in mm."""
    (found,) = (
        seam
        for seam in SEAMS_DELIVERED
        if (seam.metal_kind, seam.made) == (kind, made)
        and seam.height == pytest.approx(height)
        and seam.lost == pytest.approx(lost)
    )
    return found


# Sources: Copper Roofings, 1920s, p.6 (printed, seen; F.02 legs printed, pan
# computed); Copper in Architecture Design Handbook Table 8.2A (from memory); zinc
# producers' guides (legs and bays seen, strip widths of the machine bays from memory).
@pytest.mark.parametrize(
    ("seam", "strip", "bay"),
    [
        pytest.param(("copper", "hand", 25.4, 69.85), 24, 21.25, id="F.01"),
        pytest.param(("copper", "hand", 19.05, 57.15), 24, 21.75, id="F.02"),
        pytest.param(("copper", "hand", 25.4, 82.55), 24, 20.75, id="F.03"),
        pytest.param(("copper", "hand", 19.05, 69.85), 20, 17.25, id="F.04 3/4 in"),
        pytest.param(("copper", "hand", 25.4, 82.55), 20, 16.75, id="F.04 1 in"),
        # The rest of Table 8.2A: sheets of 22 to 28 in (trade values 1.33, 1.34).
        pytest.param(("copper", "hand", 19.05, 69.85), 22, 19.25, id="1.33 22 in"),
        pytest.param(("copper", "hand", 19.05, 69.85), 28, 25.25, id="1.33 28 in"),
        pytest.param(("copper", "hand", 25.4, 82.55), 26, 22.75, id="1.34 26 in"),
    ],
)
def test_the_printed_loss_leaves_the_printed_pan(
    seam: tuple[str, str, float, float], strip: float, bay: float
) -> None:
    assert row(*seam).bay(strip * INCH) == pytest.approx(bay * INCH)


@pytest.mark.parametrize(
    ("made", "lost", "strip", "bay"),
    [
        pytest.param("hand", 80, 600, 520, id="F.05"),
        pytest.param("machine", 70, 500, 430, id="F.06 500"),
        pytest.param("machine", 70, 600, 530, id="F.06 600"),
    ],
)
def test_zinc_bays_differ_by_how_they_are_made(
    made: str, lost: float, strip: float, bay: float
) -> None:
    assert row("zinc", made, 25, lost).bay(strip) == bay


@pytest.mark.parametrize(
    ("seam", "folds"),
    [
        pytest.param(("zinc", "hand", 25, 80), (10, 10), id="F.07"),
        pytest.param(("copper", "hand", 25.4, 82.55), (INCH / 4, INCH / 2), id="F.08"),
    ],
)
def test_both_folds_follow_from_the_legs(
    seam: tuple[str, str, float, float], folds: tuple[float, float]
) -> None:
    kept = row(*seam)
    assert (kept.first_fold(), kept.second_fold()) == pytest.approx(folds)


def test_a_row_without_legs_has_no_folds() -> None:
    kept = row("zinc", "machine", 25, 70)
    assert (kept.first_fold(), kept.second_fold()) == (0, 0)


def test_legs_folded_up_by_hand_lose_what_they_measure() -> None:
    for kept in SEAMS_DELIVERED:
        if kept.receiving:
            assert kept.lost == pytest.approx(kept.receiving + kept.covering)
            assert kept.covering > kept.receiving >= kept.height


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
    # CDA Table 8.2A, from memory: loss 3 1/4 in, legs 1 1/2 and 1 3/4.
    assert sheet - MODERN_INCH.lost() == pan


def test_the_modern_inch_seam_is_folded_by_a_quarter_and_then_a_half() -> None:
    # F.08 (computed): a 1 1/2, b 1 3/4, H 1 -> 1/4 and 1/2. Legs: Unified Facilities
    # Guide Specification p.14 (b and H seen) and CDA Table 8.2A (a, from memory).
    assert (MODERN_INCH.leg("receiving"), MODERN_INCH.leg("covering")) == (1.5, 1.75)
    assert MODERN_INCH.leg("covering") - MODERN_INCH.leg("receiving") == 0.25
    assert MODERN_INCH.first_line("covering") == 0.5


def test_play_is_in_the_covering_leg_alone() -> None:
    # Common practice, no source: the covering leg closes over the other's layers.
    with_play = replace(MODERN_INCH, play=1 / 16)
    assert with_play.leg("receiving") == 1.5
    assert with_play.leg("covering") == 1.8125
    assert with_play.first_line("covering") == 0.5625
    single = Seam("single", 1, 0.5, play=1 / 16)
    assert (single.leg("receiving"), single.leg("covering")) == (1, 1.5625)


def test_a_pan_of_the_modern_inch_seam_is_as_wide_as_its_sheet() -> None:
    # F.03 on the real pan: 24 in sheet, 20 3/4 in from seam to seam.
    record = elsewhere.record("pan-lock-copper-in")
    record["roof"]["seam"] |= {"height": "1", "turn": "1/2", "first_turn": "1/4"}
    record["pan"] |= {"sheet_width": "24", "pan_width": None}
    pan = sites.piece(sites.laid(record), "RP")
    assert pan.pattern.size()[0] == pytest.approx(24 * INCH)
    legs = sorted(f.line[0].x for f in pan.folds if f.what == "leg")
    assert legs == pytest.approx([1.75 * INCH, 22.5 * INCH])
    turns = sorted(
        (round(line.line[0].x / INCH, 6), line.what) for line in pan.pattern.roof_lines
    )
    assert turns == [(0.25, "second turn"), (0.75, "turn"), (23.5, "turn")]


@pytest.mark.parametrize(
    ("seam", "told"),
    [
        ({"first_turn": "5/8"}, "give no more than the turn it is folded into"),
        ({"fold": "single", "first_turn": "1/4"}, "leave it null for a single fold"),
    ],
)
def test_a_first_turn_that_cannot_be_folded_is_refused(
    seam: dict[str, str], told: str
) -> None:
    with pytest.raises(BadRecord) as refused:
        named = {f"roof.seam.{key}": value for key, value in seam.items()}
        sites.laid_with({"roof.seam.turn": "1/2", **named})
    (fault,) = refused.value.faults
    assert fault.field == "roof.seam.first_turn"
    assert fault.expected.startswith(told)


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
