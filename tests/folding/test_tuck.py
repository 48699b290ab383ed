"""The pocket between two flanges of one base, on a real sheet."""

from __future__ import annotations

from math import cos, radians, sin, tan

import pytest

from layout.folding import proof
from layout.folding.corner import CannotFold, NeedsSeam
from layout.folding.pattern import FlatPattern
from layout.folding.sheet import ROOF, Sheet
from layout.folding.tuck import tuck
from layout.geometry.space import Vec


def tray(
    alpha: float, fold1: float, fold2: float, height: float = 10
) -> tuple[FlatPattern, float]:
    """A base corner of alpha degrees with a flange on both edges, and its spare."""
    sheet = Sheet()
    edge2 = Vec(cos(radians(alpha)), sin(radians(alpha)), 0)
    at, far1, far2 = Vec(0, 0, 0), Vec(100, 0, 0), edge2.scaled(100)
    base = sheet.add_folded("base", "roof", ROOF, [at, far1, far2])
    c = corner_line(alpha, fold1, fold2)
    flanges = []
    for far in (far1, far2):
        top = c.scaled(height)
        flanges.append(
            sheet.hang_face(
                "flange", "lap", base, at, far, [at, far, far.plus(top), top], "leg"
            )
        )
    pocket = tuck(sheet, "pocket", base, at, flanges[0], flanges[1], height)
    return sheet.pattern(), pocket.spare


def corner_line(alpha: float, fold1: float, fold2: float) -> Vec:
    """Unit direction both flanges share, by their planes."""
    up, x = Vec(0, 0, 1), Vec(1, 0, 0)
    edge2 = Vec(cos(radians(alpha)), sin(radians(alpha)), 0)
    n1 = x.cross(Vec(0, -1, 0).turned(x, -fold1))
    n2 = edge2.cross(up.cross(edge2).turned(edge2, fold2))
    c = n1.cross(n2).unit()
    return c if c.z > 0 else c.scaled(-1)


# Geometry, section 3: base corner, two folds, spare metal.
@pytest.mark.parametrize(
    ("alpha", "fold1", "fold2", "spare"),
    [
        (90, 90, 90, 90),
        (90, 90, 56.310, 56.310),
        (90, 90, 123.690, 123.690),
        (80, 90, 90, 100),
        (120, 90, 90, 60),
        (90, 100, 80, 90),
    ],
)
def test_the_pocket_folds_back(
    alpha: float, fold1: float, fold2: float, spare: float
) -> None:
    pattern, found = tray(alpha, fold1, fold2)
    assert found == pytest.approx(spare, abs=2e-3)
    landed = proof.refold(pattern)
    assert proof.closure(pattern, landed) < 1e-9
    assert proof.overlap(pattern) < 1e-9


def test_a_square_tray_keeps_the_whole_corner_of_the_blank() -> None:
    # No notch and no cut: the outline of flanges and pocket is one straight edge.
    pattern, _ = tray(90, 90, 90, 10)
    tips = [p for p in pattern.vertices if p.x < 1e-9 and p.y < 1e-9]
    assert len(tips) == 1


def test_the_pocket_stands_as_high_as_its_flanges() -> None:
    pattern, _ = tray(120, 90, 90, 10)
    pockets = [f for f in pattern.faces if f.role == "pocket"]
    tip = max(
        (pattern.folded[i] for f in pockets for i in f.corners), key=lambda p: p.z
    )
    assert tip.z == pytest.approx(10)
    wide = max(abs(pattern.folded[i].y) for f in pockets for i in f.corners)
    assert wide == pytest.approx(10 * tan(radians(30)) * sin(radians(120)))


def test_an_outside_corner_is_refused() -> None:
    sheet = Sheet()
    at = Vec(0, 0, 0)
    base = sheet.add_folded(
        "base",
        "roof",
        ROOF,
        [at, Vec(0, -50, 0), Vec(-50, -50, 0), Vec(-50, 50, 0), Vec(50, 50, 0),
         Vec(50, 0, 0)],
    )  # fmt: skip
    up = Vec(0, 0, 10)
    one = sheet.strip("one", "lap", base, at, Vec(50, 0, 0), up, "leg")
    two = sheet.strip("two", "lap", base, Vec(0, -50, 0), at, up, "leg")
    with pytest.raises(NeedsSeam, match="outside corner"):
        tuck(sheet, "pocket", base, at, one, two, 10)


def test_a_leg_too_short_for_its_pocket_is_refused() -> None:
    with pytest.raises(CannotFold, match="make the flange smaller"):
        tray(90, 90, 90, 120)
