"""Roof pans: widths by seam and sheet (F.01 to F.08), head, foot, rules."""

from __future__ import annotations

from typing import Any

import pytest

from layout.families.pan import finished_width
from layout.faults import BadRecord, CannotBuild
from layout.folding.result import Piece
from layout.folding.seam import Seam
from tests import elsewhere
from tests.families import measure

INCH = 25.4


def pan(name: str, changes: dict[str, object] | None = None) -> Piece:
    return elsewhere.laid(name, changes).pieces[0]


def base_width(piece: Piece) -> float:
    xs = [p.x for p in measure.places(piece.pattern, "base")]
    return max(xs) - min(xs)


# Worked examples F.01 to F.06: Copper Roofings 1920s p.6 (printed legs), CDA Table
# 8.2A (loss 3 1/4 and 2 3/4, from memory; equal turns that lose the same), zinc
# producers' legs 35 and 45, and machine bays that lose 70.
@pytest.mark.parametrize(
    ("units", "sheet", "height", "turn", "width"),
    [
        pytest.param("in", "24", "1", "0.25", 21.25 * INCH, id="F.01"),
        pytest.param("in", "24", "0.75", "0.25", 21.75 * INCH, id="F.02"),
        pytest.param("in", "24", "1", "0.41667", 20.75 * INCH, id="F.03"),
        pytest.param("in", "20", "1", "0.41667", 16.75 * INCH, id="F.04 1 in"),
        pytest.param("in", "20", "0.75", "0.41667", 17.25 * INCH, id="F.04 3/4 in"),
        pytest.param("mm", "600", "25", "10", 520, id="F.05"),
        pytest.param("mm", "500", "25", "6.66667", 430, id="F.06 430"),
        pytest.param("mm", "600", "25", "6.66667", 530, id="F.06 530"),
    ],
)
def test_pan_width_out_of_a_sheet(
    units: str, sheet: str, height: str, turn: str, width: float
) -> None:
    seam: dict[str, Any] = {"fold": "double", "height": height, "turn": turn}
    changes: dict[str, object] = {
        "units": units,
        "pan.sheet_width": sheet,
        "pan.length": "3000 mm",
        "pan.head_height": "100 mm",
        "roof.seam": seam,
    }
    piece = pan("pan-zinc-mm", changes)
    assert base_width(piece) == pytest.approx(width, abs=1e-3)
    wide = float(sheet) * (INCH if units == "in" else 1)
    assert piece.pattern.size()[0] == pytest.approx(wide)


def test_the_folds_of_the_european_seam() -> None:
    # F.07: legs 35 and 45 on 25: first fold 10, second fold 10.
    piece = pan("pan-zinc-mm")
    heights = {
        name: sorted({round(p.z, 6) for p in measure.places(piece.pattern, name)})
        for name in ("left seam turn 1", "right seam turn 1")
    }
    assert heights == {"left seam turn 1": [25, 45], "right seam turn 1": [25, 35]}
    assert finished_width(600, Seam("double", 25, 10)) == 520


def test_sheet_and_pan_width_say_the_same() -> None:
    by_pan: dict[str, object] = {"pan.sheet_width": None, "pan.pan_width": "520"}
    assert pan("pan-zinc-mm", by_pan).area == pytest.approx(pan("pan-zinc-mm").area)


def test_the_pans_seams_meet_when_laid_side_by_side() -> None:
    # Covering leg of one pan and receiving leg of the next stand on one line.
    piece = pan("pan-zinc-mm")
    left = piece.pattern.joint_line("left seam")
    right = piece.pattern.joint_line("right seam")
    assert right.line[0].x - left.line[0].x == pytest.approx(520)
    assert right.line[0].y == pytest.approx(left.line[0].y)
    assert (left.leg, right.leg) == (45, 35)


def test_a_turned_up_head_keeps_its_corners_whole() -> None:
    # Geometry, section 3: 90, 90, 90 -> spare 90, in two halves of 45: the square
    # between leg and head stays on the blank.
    piece = pan("pan-zinc-mm")
    pockets = [f for f in piece.pattern.faces if f.role == "pocket"]
    assert len(pockets) == 4
    for face in pockets:
        ring = piece.pattern.polygon_in_space(face)
        # All behind the head, in its plane, none on the seam's side of it.
        assert all(p.y == pytest.approx(2850) for p in ring)
        assert max(p.z for p in ring) == pytest.approx(25)
    height = 2850 + 60 + 19.05
    assert piece.pattern.size()[1] == pytest.approx(height)


def test_hook_and_lock_hold_each_other() -> None:
    # 3/4 in hooks and locks: CDA section 8.5, UFGS 07600.
    piece = pan("pan-lock-copper-in")
    turns = {f.what: (f.angle, f.direction) for f in piece.folds if f.angle > 170}
    assert turns == {"hook": (180, "down"), "hem": (180, "up")}
    assert piece.pattern.size()[1] / INCH == pytest.approx(94 + 2 * 0.75)


def test_a_pan_too_narrow_for_its_pockets_is_refused() -> None:
    with pytest.raises(CannotBuild, match="pocket at a corner"):
        pan("pan-zinc-mm", {"pan.sheet_width": "100"})


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"pan.pan_width": "500"}, "pan.sheet_width"),
        ({"pan.sheet_width": None}, "pan.sheet_width"),
        ({"pan.sheet_width": "80"}, "pan.sheet_width"),
        ({"pan.head_height": None}, "pan.head_height"),
        ({"pan.head": "plain"}, "pan.head_height"),
        ({"roof.seam.turn": "26"}, "roof.seam.turn"),
    ],
)
def test_faults_name_their_field(changes: dict[str, object], field: str) -> None:
    with pytest.raises(BadRecord) as bad:
        pan("pan-zinc-mm", changes)
    assert [fault.field for fault in bad.value.faults] == [field]


@pytest.mark.parametrize(
    ("name", "changes", "rule"),
    [
        # zinc producers: bays 330-530 wide, up to 10 m, fixed clips up to 3 m.
        ("pan-zinc-mm", {"pan.sheet_width": "615"}, "pan width"),
        ("pan-zinc-mm", {"pan.length": "3100"}, "cleats that slide"),
        ("pan-zinc-mm", {"pan.length": "10100"}, "pan length"),
        ("pan-zinc-mm", {"roof.pitch": "6°"}, "slope for zinc"),
        ("pan-zinc-mm", {"roof.seam.height": "20"}, "seam height"),
        # CDA section 8.2: 18 to 24 in, 4:12; section 8.8: fixed cleats to 10 ft.
        ("pan-lock-copper-in", {"pan.pan_width": "17 3/4"}, "pan width"),
        ("pan-lock-copper-in", {"pan.length": "10' 1\""}, "cleats that slide"),
        (
            "pan-lock-copper-in",
            {"roof.pitch": "3:12"},
            "slope under the handbook's least",
        ),
    ],
)
def test_rules_of_pans(name: str, changes: dict[str, object], rule: str) -> None:
    assert rule in elsewhere.rules_found(elsewhere.laid(name, changes))
    assert rule not in elsewhere.rules_found(elsewhere.laid(name))
