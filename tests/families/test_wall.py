"""Flashing along a wall: girth, folds, lengths and their laps, end caps."""

from __future__ import annotations

import pytest

from layout.folding.result import Piece
from tests import elsewhere, sites
from tests.families import measure

FOOT = 12 * sites.INCH


def test_girth_of_eight_up_four_out_and_two_hems() -> None:
    # D.22: UFGS 07600, p.17 (8 up, 4 under the roofing); hem 1/2 in, Copper
    # Flashings p.8: 8 + 4 + 1/2 + 1/2 = 13 in before any bend deduction.
    made = elsewhere.laid("side-wall-copper-in")
    for piece in made.pieces[:2]:
        assert piece.pattern.size()[1] / sites.INCH == pytest.approx(13)


def test_a_side_wall_folds_square_at_any_pitch() -> None:
    # Geometry, section 2: a plumb side wall contains y and z.
    for pitch in ("3:12", "12:12"):
        made = elsewhere.laid("side-wall-copper-in", {"roof.pitch": pitch})
        pattern = made.pieces[0].pattern
        assert measure.fold_between(pattern, "base", "upstand") == pytest.approx(90)


@pytest.mark.parametrize(
    ("pitch", "fold"),
    [("4:12", 71.57), ("6:12", 63.43), ("8:12", 56.31), ("12:12", 45.0)],
)
def test_a_head_wall_folds_by_the_pitch(pitch: str, fold: float) -> None:
    # D.14 to D.17: apron fold from flat, geometry.
    made = elsewhere.laid("head-wall-zinc-mm", {"roof.pitch": pitch})
    found = measure.fold_between(made.pieces[0].pattern, "base", "upstand")
    assert found == pytest.approx(fold, abs=0.01)


@pytest.mark.parametrize("side", ["left", "right"])
def test_the_roof_lies_where_it_is_said_to(side: str) -> None:
    changes: dict[str, object] = {"wall.roof_side": side}
    made = elsewhere.laid("side-wall-copper-in", changes)
    base = measure.places(made.pieces[0].pattern, "base")
    far = max((p.x for p in base), key=abs)
    assert far / sites.INCH == pytest.approx(-4 if side == "left" else 4)
    wall = next(f for f in made.pieces[0].pattern.faces if f.role == "wall")
    assert wall.wall == side
    assert made.refused == ()


def test_twenty_five_feet_out_of_ten_foot_sheets() -> None:
    # D.24: 10 ft strips, 4 in laps (SMACNA) -> 3 strips; brake and sheet 10 ft.
    made = elsewhere.laid("side-wall-copper-in")
    runs = [p for p in made.pieces if p.family == "wall"]
    assert sum(p.quantity for p in runs) == 3
    total = sum(p.quantity * p.pattern.size()[0] for p in runs)
    assert total / sites.INCH == pytest.approx(25 * 12 + 2 * 4)
    assert {"run in lengths", "movement"} <= elsewhere.rules_found(made)


def test_each_length_covers_the_one_below_it() -> None:
    made = elsewhere.laid("side-wall-copper-in", {"wall.length": "18'"})
    first, second = (p for p in made.pieces if p.family == "wall")
    joint = next(j for j in made.joints if j.upper.mark == second.mark)
    assert joint.promised == pytest.approx(4 * sites.INCH)
    assert top(first) - foot(second) == pytest.approx(4 * sites.INCH)
    assert joint.lower.mark == first.mark and first.proof.shed


def top(piece: Piece) -> float:
    return max(p.y for p in piece.pattern.folded)


def foot(piece: Piece) -> float:
    return min(p.y for p in piece.pattern.folded)


def test_a_short_run_is_one_piece() -> None:
    made = elsewhere.laid("side-wall-copper-in", {"wall.length": "9'"})
    assert [p.mark for p in made.pieces] == ["W", "E2"]
    assert made.joints == ()
    assert not {"run in lengths", "movement"} & elsewhere.rules_found(made)


def test_a_long_copper_run_has_an_expansion_joint_every_forty_feet() -> None:
    # B.12: UFGS 07600, p.22: 100 ft of copper: joints at 40 and 80 ft.
    made = elsewhere.laid("side-wall-copper-in", {"wall.length": "100'"})
    found = next(f for f in made.findings if f.rule == "expansion joints")
    assert "480 in, 960 in" in found.message
    moves = next(f for f in made.findings if f.rule == "movement")
    # 480 in x 9.8e-6 per °F x 180 °F (CDA Table 1.1A) = 0.847 in.
    assert "7/8 in" in moves.message


def test_a_low_upstand_and_a_narrow_base_are_found() -> None:
    changes: dict[str, object] = {"wall.upstand": "3", "wall.onto_roof": "3"}
    made = elsewhere.laid("side-wall-copper-in", changes)
    # CDA section 9.8: 4 in up and 4 in on to the roof.
    assert {"upstand height", "metal onto the roof"} <= elsewhere.rules_found(made)


def test_the_caps_of_both_ends_are_mirror_images() -> None:
    made = elsewhere.laid("head-wall-zinc-mm")
    one, two = (sites.piece(made, mark) for mark in ("E1", "E2"))
    assert one.area == pytest.approx(two.area)
    xs = [sorted({round(p.x, 6) for p in piece.pattern.folded}) for piece in (one, two)]
    assert xs[0][0] == 0 and xs[1][-1] == 14000
    assert xs[0][-1] == pytest.approx(14000 - xs[1][0])
