"""Curbs whose walls stand square to the roof, closed on four sides."""

from __future__ import annotations

import pytest

from layout.families.footprint import Sides, corners
from layout.families.site import square_leans
from layout.faults import BadRecord
from layout.folding.result import LaidSet
from layout.geometry.space import Vec
from tests import elsewhere, sites

SKEW = {"penetration.left": "27", "penetration.right": "26", "penetration.back": "33"}


def curb(changes: dict[str, object] | None = None) -> LaidSet:
    plain: dict[str, object] = {
        "penetration.kind": "curb",
        "walls.stand": "square to the roof",
        "counterflashing": "none",
        "roof.above": "40",
    }
    return sites.laid_with({**plain, **(changes or {})})


def test_walls_square_to_the_roof_lean_by_the_pitch() -> None:
    found = square_leans(corners(Sides(800, 600, 800, 600), 3), 30)
    assert found == pytest.approx((30, 0, -30, 0))


@pytest.mark.parametrize("back", ["flat", "saddle", "falling left", "falling right"])
@pytest.mark.parametrize("pitch", ["3:12", "12:12"])
@pytest.mark.parametrize("skew", [False, True])
def test_all_four_sides_are_closed_and_proven(
    back: str, pitch: str, skew: bool
) -> None:
    changes: dict[str, object] = {"back": back, "pitch": pitch}
    if skew:
        changes |= {**SKEW, "penetration.diagonal": "42 1/2"}
    made = curb(changes)
    assert made.refused == ()
    marks = {p.mark for p in made.pieces}
    assert {"A", "PL", "PR"} < marks and ({"B"} < marks or {"BL", "BR"} < marks)
    for piece in made.pieces:
        figures = piece.proof
        lengths = (figures.closure, figures.seat, figures.overlap, figures.meeting)
        assert max(lengths) < 1e-6 and figures.shed
        for face in piece.pattern.faces:
            if face.role == "wall":
                # Square to the roof: the wall's plane holds the roof's own square.
                ring = piece.pattern.polygon_in_space(face)
                normal = normal_of(ring)
                assert abs(normal.z) < 1e-9


def normal_of(ring: list[Vec]) -> Vec:
    a, b = ring[0], ring[1]
    c = max(ring, key=lambda p: p.minus(a).cross(b.minus(a)).length())
    return b.minus(a).cross(c.minus(a)).unit()


def test_apron_and_back_pan_fold_square() -> None:
    made = curb({"back": "flat", "pitch": "8:12"})
    for mark in ("A", "B"):
        folds = sites.piece(made, mark).folds
        assert {round(f.angle, 6) for f in folds if f.what == "upstand"} == {90}


def test_a_curb_without_a_word_is_plumb_and_said_so() -> None:
    # D.16: 8:12 apron and back pan fold 56.31 and 123.69 degrees, geometry.
    made = curb({"walls.stand": None, "back": "flat", "pitch": "8:12"})
    apron = sites.piece(made, "A").folds
    assert any(f.angle == pytest.approx(56.31, abs=0.01) for f in apron)
    assert "curb taken as plumb" in elsewhere.rules_found(made)
    assert "curb taken as plumb" not in elsewhere.rules_found(curb())


def test_steps_need_level_courses() -> None:
    with pytest.raises(BadRecord, match="build.counterflashing"):
        curb({"counterflashing": "stepped"})
