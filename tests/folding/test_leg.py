"""Seam legs on a plain pan against a wall square to it: corners, taper, sweep."""

from __future__ import annotations

from math import atan, degrees

import pytest
import shapely

from layout.folding import proof
from layout.folding.corner import NeedsSeam
from layout.folding.leg import Edge, Leg, stand
from layout.folding.pattern import FlatPattern
from layout.folding.seam import Part, Seam
from layout.folding.sheet import ROOF, Sheet
from layout.folding.sweep import (
    Climb,
    SweepDoesNotFit,
    free_edge_strain,
    smallest_radius,
)
from layout.geometry.point import Point, angle_between
from layout.geometry.space import Vec
from tests.families.measure import sector_of
from tests.folding.corners import developed

DOUBLE = Seam("double", 25.4, 9.525)
SINGLE = Seam("single", 25.4, 9.525)
NORTH, UP = Vec(0, 1, 0), Vec(0, 0, 1)
WIDE, LONG, TALL = 300.0, 500.0, 200.0


def corner_pan(
    seam: Seam = DOUBLE,
    part: Part = "receiving",
    climb: Climb | None = None,
    tall: float = TALL,
) -> tuple[FlatPattern, Leg]:
    """A pan with a wall on its right and a leg along its upper end, up the wall.

    The wall is square to the pan, so the leg strip is straight in the flat.
    """
    sheet = Sheet()
    corner, foot = Vec(WIDE, LONG, 0), Vec(WIDE, 0, 0)
    base = sheet.add_folded(
        "base", "roof", ROOF, [Vec(0, 0, 0), foot, corner, Vec(0, LONG, 0)]
    )
    wall = sheet.strip("wall", "wall", base, foot, corner, Vec(0, 0, tall), "upstand")
    edges = [
        Edge(base, Vec(0, LONG, 0), corner),
        Edge(wall, corner, corner.plus(UP, tall)),
    ]
    # The roof pans lie up the slope of this end: the leg stands square to it.
    made = stand(sheet, "end", edges, UP, seam, part, climb)
    return sheet.pattern(), made


def sectors(pattern: FlatPattern) -> dict[str, float]:
    """Degrees each face takes at the corner where pan, wall and leg meet."""
    at = next(
        i
        for i, place in enumerate(pattern.folded)
        if place.minus(Vec(WIDE, LONG, 0)).length() < 1e-9
    )
    return {
        face.name: sector_of(pattern, face, at)
        for face in pattern.faces
        if at in face.corners
    }


def test_a_leg_round_an_inside_corner_is_pocketed_at_45_and_45() -> None:
    # Geometry, section 3: strip of 180 degrees, beta 45 each, spare 90, halved.
    pattern, made = corner_pan()
    found = sectors(pattern)
    assert found["end leg 1"] == pytest.approx(45)
    assert found["end leg 2"] == pytest.approx(45)
    assert found["end pocket 1a"] == pytest.approx(45)
    assert found["end pocket 1b"] == pytest.approx(45)
    assert made.corners[0].spare == pytest.approx(90)


def test_the_pocket_is_halved_by_the_wall_crease_drawn_on() -> None:
    pattern, _ = corner_pan()
    halving = next(c for c in pattern.creases if abs(c.angle) == 180)
    upstand = next(c for c in pattern.creases if c.what == "upstand")
    lines = [
        pattern.vertices[c.b].minus(pattern.vertices[c.a]) for c in (halving, upstand)
    ]
    assert abs(angle_between(*lines)) % 180 == pytest.approx(0, abs=1e-9)


def test_a_pocketed_pan_folds_up_from_one_uncut_sheet() -> None:
    pattern, _ = corner_pan()
    assert proof.closure(pattern, proof.refold(pattern)) < 1e-9
    assert sum(sectors(pattern).values()) == pytest.approx(360)
    assert len(pattern.outlines) == 1


@pytest.mark.parametrize(
    ("seam", "part", "leg"),
    [
        (DOUBLE, "receiving", 34.925),
        (DOUBLE, "covering", 44.45),
        (SINGLE, "receiving", 25.4),
        (SINGLE, "covering", 34.925),
    ],
)
def test_each_leg_has_its_height_and_turns_in_the_flat(
    seam: Seam, part: Part, leg: float
) -> None:
    # Geometry, section 4: H + t and H + 2t; single fold H and H + t.
    pattern, _ = corner_pan(seam, part)
    assert pattern.size()[1] == pytest.approx(LONG + leg)


def test_a_taper_brings_the_seam_down_and_keeps_the_turn_parallel() -> None:
    climb = Climb(0.0, 12.7, 25.4)
    pattern, _ = corner_pan(climb=climb)
    edge = {
        round(place.y - LONG, 6)
        for place in pattern.folded
        if abs(place.z - TALL) < 1e-9
    }
    top = sorted(developed(pattern, "end leg 2", "end turn 2", TALL))
    assert top == pytest.approx([0.0, 12.7, 12.7 + 9.525])
    assert 0.0 in edge


def test_a_sweep_is_an_arc_of_the_asked_radius() -> None:
    climb = Climb(60.0, 12.7, 25.4)
    pattern, _ = corner_pan(climb=climb)
    sweep = pattern.sweeps[0]
    assert sweep.radius == 60
    for path, radius in ((sweep.turn_lines, 60.0), (sweep.cut_lines, 60 - 9.525)):
        for line in path:
            assert _radius(line) == pytest.approx(radius, rel=1e-6)


def _radius(path: tuple[Point, ...]) -> float:
    """Radius through three neighbouring corners inside the swept part."""
    chords = [b.minus(a).length() for a, b in zip(path, path[1:], strict=False)]
    short = sorted(chords)[len(chords) // 2]
    at = next(
        i
        for i in range(1, len(path) - 1)
        if abs(chords[i - 1] - short) < 1e-6 and abs(chords[i] - short) < 1e-6
    )
    a, b, c = path[at - 1 : at + 2]
    twice_area = abs(b.minus(a).cross(c.minus(a)))
    sides = b.minus(a).length() * c.minus(b).length() * a.minus(c).length()
    return sides / (2 * twice_area)


def test_the_strain_of_a_swept_turn() -> None:
    # Geometry, section 4: e = w / (r - w) where the edge lies inside the curve.
    assert free_edge_strain(9.525, 76.2) == pytest.approx(1 / 7)
    assert free_edge_strain(10, 70) == pytest.approx(1 / 6)


def test_the_smallest_radius_is_where_the_strain_reaches_the_stretch() -> None:
    radius = smallest_radius(9.525, 0.30)
    assert free_edge_strain(9.525, radius) == pytest.approx(0.30)
    assert smallest_radius(9.525, 0.0) == 0.0


def test_a_sweep_with_no_room_is_refused_with_the_largest_that_fits() -> None:
    with pytest.raises(SweepDoesNotFit) as refused:
        corner_pan(climb=Climb(190.0, 12.7, 25.4))
    assert "does not fit" in str(refused.value)


def test_a_sweep_as_tight_as_its_turn_is_refused() -> None:
    with pytest.raises(SweepDoesNotFit):
        corner_pan(climb=Climb(9.0, 12.7, 25.4))


def test_a_wall_too_low_for_its_seam_is_refused_in_words() -> None:
    with pytest.raises(SweepDoesNotFit, match="wall edge"):
        corner_pan(climb=Climb(0.0, 12.7, 25.4), tall=40.0)


@pytest.mark.parametrize("part", ["receiving", "covering"])
@pytest.mark.parametrize("tall", [51.0, 55.0, 60.0, 66.0, 80.0])
def test_a_mitred_climb_has_room_for_its_turns_or_is_refused(
    tall: float, part: Part
) -> None:
    try:
        pattern, _ = corner_pan(part=part, climb=Climb(0.0, 12.7, 25.4), tall=tall)
    except SweepDoesNotFit:
        assert tall < 75
        return
    for face in pattern.faces:
        assert shapely.Polygon(pattern.polygon(face)).is_valid, face.name


def test_an_edge_shorter_than_its_two_mitres_is_refused_in_words() -> None:
    # A tray of three walls: the middle one too short for a seam this high.
    sheet = Sheet()
    places = [Vec(0, 0, 0), Vec(30, 0, 0), Vec(30, 200, 0), Vec(0, 200, 0)]
    base = sheet.add_folded("base", "roof", ROOF, places)
    edges = [
        Edge(base, places[3], places[0]),
        Edge(base, places[0], places[1]),
        Edge(base, places[1], places[2]),
    ]
    with pytest.raises((SweepDoesNotFit, NeedsSeam)):
        stand(sheet, "tray", edges, Vec(-1, 0, 0), DOUBLE, "receiving")


def test_an_outside_corner_of_a_leg_is_refused_with_its_seam() -> None:
    # The wall falls away from the leg: metal is missing along the corner line.
    sheet = Sheet()
    corner = Vec(WIDE, LONG, 0)
    base = sheet.add_folded(
        "base",
        "roof",
        ROOF,
        [Vec(0, 0, 0), Vec(WIDE, 0, 0), corner, Vec(0, LONG, 0)],
    )
    down = sheet.strip(
        "face", "face", base, Vec(WIDE, 0, 0), corner, Vec(0, 0, -TALL), "drip"
    )
    edges = [
        Edge(base, Vec(0, LONG, 0), corner),
        Edge(down, corner, corner.plus(UP, -TALL)),
    ]
    with pytest.raises(NeedsSeam, match="outside corner"):
        stand(sheet, "end", edges, UP, DOUBLE, "receiving")


def test_angles_of_the_pocket_stay_right_on_a_leaning_wall() -> None:
    # A wall that stands open by 11 degrees takes less metal into its pocket.
    lean = Vec(0.2, 0, 1).unit()
    sheet = Sheet()
    corner, foot = Vec(WIDE, LONG, 0), Vec(WIDE, 0, 0)
    base = sheet.add_folded(
        "base", "roof", ROOF, [Vec(0, 0, 0), foot, corner, Vec(0, LONG, 0)]
    )
    wall = sheet.strip("wall", "wall", base, foot, corner, lean.scaled(TALL), "upstand")
    edges = [
        Edge(base, Vec(0, LONG, 0), corner),
        Edge(wall, corner, corner.plus(lean, TALL)),
    ]
    made = stand(sheet, "end", edges, UP, DOUBLE, "receiving")
    pattern = sheet.pattern()
    open_by = degrees(atan(0.2))
    assert made.corners[0].beta1 == pytest.approx((90 + open_by) / 2)
    assert made.corners[0].spare == pytest.approx(90 - open_by)
    assert proof.closure(pattern, proof.refold(pattern)) < 1e-9


def overhung(lean: Vec) -> tuple[Sheet, list[Edge]]:
    """A pan whose wall overhangs it: more spare metal than half the leg hides."""
    sheet = Sheet()
    corner, foot = Vec(WIDE, LONG, 0), Vec(WIDE, 0, 0)
    base = sheet.add_folded(
        "base", "roof", ROOF, [Vec(0, 0, 0), foot, corner, Vec(0, LONG, 0)]
    )
    wall = sheet.strip("wall", "wall", base, foot, corner, lean.scaled(TALL), "upstand")
    return sheet, [
        Edge(base, Vec(0, LONG, 0), corner),
        Edge(wall, corner, corner.plus(lean, TALL)),
    ]


def test_the_second_leg_takes_what_a_wide_pocket_needs() -> None:
    sheet, edges = overhung(Vec(-0.2, 0, 1).unit())
    made = stand(sheet, "end", edges, UP, DOUBLE, "receiving")
    pattern = sheet.pattern()
    found = made.corners[0]
    assert found.beta2 == pytest.approx(found.spare / 2)
    assert found.beta1 + found.beta2 == pytest.approx(90 - degrees(atan(0.2)))
    assert proof.closure(pattern, proof.refold(pattern)) < 1e-9
    assert proof.overlap(pattern) < 1e-9


def test_a_pocket_that_leaves_a_needle_of_leg_is_refused() -> None:
    sheet, edges = overhung(Vec(-0.8, 0, 1).unit())
    with pytest.raises(NeedsSeam, match="two pieces with a seam"):
        stand(sheet, "end", edges, UP, DOUBLE, "receiving")
