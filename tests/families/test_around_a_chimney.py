"""Check values of the geometry (sections 2, 3, 5) on real laid-out pieces.

Rows named D.nn and C.nn are worked examples. The building code's table of
cricket heights is IRC R1003.20, IBC 2113.20: printed, from memory.
"""

from __future__ import annotations

from itertools import combinations
from math import asin, degrees, radians, tan

import pytest
from shapely import Polygon

from layout.folding import proof
from layout.folding.result import LaidSet
from layout.geometry.space import Vec
from shop.units import read_pitch
from tests import sites
from tests.families import measure
from tests.sites import INCH

SMALL = 1e-6


def wide_saddle(width: float, pitch: str) -> LaidSet:
    """A saddle behind a chimney `width` inches wide, with metal enough above."""
    return sites.laid_with({"width": width, "pitch": pitch, "roof.above": 60})


def corners(made: LaidSet) -> tuple[Vec, Vec, Vec]:
    """C, A and R of a laid saddle's left half: corner, on the wall, on the roof."""
    pattern = sites.piece(made, "BL").pattern
    ring = measure.places(pattern, "saddle")
    low = next(p for p in ring if abs(p.x) < SMALL)
    on_roof = next(p for p in ring if abs(p.z) < SMALL and abs(p.x) > SMALL)
    on_wall = next(p for p in ring if p not in (low, on_roof))
    return low, on_wall, on_roof


# --- section 2: fold angles between roof and walls -------------------------


@pytest.mark.parametrize(
    ("pitch", "front", "back"),
    [
        pytest.param("4:12", 71.57, 108.43, id="D.14"),
        pytest.param("6:12", 63.43, 116.57, id="D.15"),
        pytest.param("8:12", 56.31, 123.69, id="D.16"),
        pytest.param("12:12", 45.00, 135.00, id="D.17"),
    ],
)
def test_apron_and_back_pan_are_folded_to_the_pitch(
    pitch: str, front: float, back: float
) -> None:
    made = sites.laid_with({"pitch": pitch, "back": "flat"})
    apron = sites.piece(made, "A").pattern
    behind = sites.piece(made, "B").pattern
    assert measure.fold_between(apron, "base", "upstand") == pytest.approx(
        front, abs=0.01
    )
    assert measure.fold_between(behind, "base", "upstand") == pytest.approx(
        back, abs=0.01
    )


@pytest.mark.parametrize("pitch", ["3:12", "7:12", "12:12", "20:12"])
def test_side_walls_are_square_to_the_roof_at_any_pitch(pitch: str) -> None:
    made = sites.laid_with({"pitch": pitch})
    for mark in ("PL", "PR"):
        pattern = sites.piece(made, mark).pattern
        assert measure.fold_between(pattern, "base", "upstand") == pytest.approx(90)


# --- section 5: apron -------------------------------------------------------


@pytest.mark.parametrize("pitch", ["2:12", "5°", "33.7°", "8:12", "100%", "60°"])
@pytest.mark.parametrize("hand", ["left", "right"])
def test_between_return_and_ear_a_wedge_of_exactly_the_pitch_opens(
    pitch: str, hand: str
) -> None:
    made = sites.laid_with({"pitch": pitch, "back": "flat"})
    pattern = sites.piece(made, "A").pattern
    corner = Vec(0 if hand == "left" else 33 * INCH, 0, 0)
    taken = [
        measure.sector(pattern, name, corner)
        for name in ("base", "upstand", f"return {hand}")
    ]
    assert 360 - sum(taken) == pytest.approx(read_pitch(pitch), abs=1e-9)


def test_a_return_lies_along_the_roof_line_of_the_side_wall() -> None:
    made = sites.laid_with({})
    ring = measure.places(sites.piece(made, "A").pattern, "return left")
    foot = [p for p in ring if abs(p.z) < SMALL]
    assert len(foot) == 2
    assert all(abs(p.x) < SMALL for p in foot)
    assert abs(foot[0].y - foot[1].y) == pytest.approx(4 * INCH)


def test_the_girth_of_base_flashing_is_its_legs_and_its_hem() -> None:
    # D.22: 8 in up, 4 in on the roof, 1/2 in hem (UFGS 07600 p.17; hem: Copper
    # Flashings 1925 p.8). Our upper edge lies under the counterflashing, unhemmed.
    made = sites.laid_with({"walls.upstand_front": 8, "roof.below": 4})
    pattern = sites.piece(made, "A").pattern
    girth = max(p.y for p in measure.flat(pattern, "upstand"))
    assert min(p.y for p in measure.flat(pattern, "hem")) == 0
    assert girth == pytest.approx((0.5 + 4 + 8) * INCH)


# --- section 3: the pocket on a real pan ------------------------------------


@pytest.mark.parametrize("pitch", ["4:12", "8:12", "12:12"])
def test_the_side_pans_upper_corner_is_the_pocket_of_the_table(pitch: str) -> None:
    # At 8:12 the row 90, 90, 56.310 -> 123.690, 90, spare 56.310.
    theta = read_pitch(pitch)
    made = sites.laid_with({"pitch": pitch})
    pattern = sites.piece(made, "PL").pattern
    corner = Vec(0, 26.5 * INCH, 0)

    def sector(name: str) -> float:
        return measure.sector(pattern, name, corner)

    assert measure.fold_between(pattern, "base", "upper end leg 1") == pytest.approx(
        90 - theta
    )
    assert sector("base") == pytest.approx(90)
    assert sector("upstand") == pytest.approx(90 + theta)
    assert sector("upper end leg 1") + sector("upper end leg 2") == pytest.approx(90)
    halves = [sector(f"upper end pocket 1{half}") for half in "ab"]
    assert halves == pytest.approx([(90 - theta) / 2] * 2)


def test_the_side_pans_turned_up_end_is_as_high_as_the_back_pans() -> None:
    made = sites.laid_with({"back": "flat"})
    joint = next(j for j in made.joints if j.name.startswith("B cross seam left"))
    pan, back = sites.piece(made, "PL").pattern, sites.piece(made, "B").pattern
    low = measure.sides(measure.places(pan, "upper end leg 1"))
    high = measure.sides(measure.places(back, "left end leg 1"))
    assert joint.lower.leg + 9.525 == pytest.approx(joint.upper.leg)
    assert low[-1] == pytest.approx(high[-1])


def test_the_pans_length_holds_the_metal_for_its_turned_up_end() -> None:
    made = sites.laid_with({"back": "flat"})
    ring = measure.flat(sites.piece(made, "PL").pattern, "base")
    leg = (1 + 3 / 8) * INCH
    top = max(
        p.y for p in measure.flat(sites.piece(made, "PL").pattern, "upper end turn 1")
    )
    assert top >= max(p.y for p in ring) + leg - SMALL


# --- section 5: saddle -------------------------------------------------------

# S, pitch, rise, CA, AR, CR, valley, wall, fall: the table of section 5.
SADDLES = [
    pytest.param(18, "8:12", 12, 21.633, 18, 28.142, 46.187, 25.239, id="D.09, 8:12"),
    pytest.param(18, "12:12", 18, 25.456, 18, 31.177, 60.000, 35.264, id="12:12"),
    pytest.param(24, "6:12", 12, 26.833, 24, 36.000, 36.870, 19.471, id="D.10, 6:12"),
]


@pytest.mark.parametrize(
    ("half", "pitch", "rise", "ca", "ar", "cr", "valley", "fall"), SADDLES
)
def test_the_table_of_saddles_on_a_laid_half(
    half: float,
    pitch: str,
    rise: float,
    ca: float,
    ar: float,
    cr: float,
    valley: float,
    fall: float,
) -> None:
    made = wide_saddle(2 * half, pitch)
    low, on_wall, on_roof = corners(made)
    up = sites.plumb(made.pitch)
    assert on_wall.dot(up) - Vec(0, low.y, 0).dot(up) == pytest.approx(rise * INCH)
    lengths = [
        on_wall.minus(low).length(),
        on_roof.minus(on_wall).length(),
        on_roof.minus(low).length(),
    ]
    inches = [size / INCH for size in lengths]
    assert inches == pytest.approx([ca, ar, cr], abs=5.1e-4)
    # D.11: the panel is right-angled.
    assert lengths[0] ** 2 + lengths[1] ** 2 == pytest.approx(lengths[2] ** 2)
    pattern = sites.piece(made, "BL").pattern
    assert measure.fold_between(pattern, "base", "saddle") == pytest.approx(
        valley, abs=5.1e-4
    )
    assert measure.fold_between(pattern, "saddle", "upstand") == pytest.approx(90)
    falls = degrees(asin(on_roof.minus(low).unit().dot(up)))
    assert falls == pytest.approx(fall, abs=5.1e-4)


@pytest.mark.parametrize(
    ("pitch", "share", "slope_factor", "valley_factor"),
    [
        pytest.param("12:12", 1 / 2, 1.4142, 1.7321, id="D.01 C.05"),
        pytest.param("8:12", 1 / 3, 1.2019, 1.5635, id="D.02 C.04"),
        pytest.param("6:12", 1 / 4, 1.1180, 1.5000, id="D.03 C.03"),
        pytest.param("4:12", 1 / 6, 1.0541, 1.4530, id="D.04 C.02"),
        pytest.param("3:12", 1 / 8, 1.0308, 1.4361, id="D.05 C.01"),
    ],
)
def test_a_laid_saddle_rises_as_the_codes_table_and_slopes_as_the_roof(
    pitch: str, share: float, slope_factor: float, valley_factor: float
) -> None:
    # Height at the wall: IRC R1003.20 (from memory). Its edge on the wall is as
    # long as a rafter over half the width, its valley as a hip or valley rafter
    # (slope and hip/valley factors; 6:12 seen, the others computed).
    made = wide_saddle(36, pitch)
    low, on_wall, on_roof = corners(made)
    up = sites.plumb(made.pitch)
    assert on_wall.minus(low).dot(up) == pytest.approx(36 * INCH * share)
    half = 18 * INCH
    assert on_wall.minus(low).length() / half == pytest.approx(slope_factor, abs=6e-5)
    assert on_roof.minus(low).length() / half == pytest.approx(valley_factor, abs=6e-5)


def test_d_12_a_45_degree_valley_on_a_3_degree_roof_falls_2_12() -> None:
    # NZ code of practice: at least 1.5 degrees (seen); the fall computed.
    made = sites.laid_with({"pitch": "3°", "roof.above": 40})
    low, _, on_roof = corners(made)
    along = on_roof.minus(low).unit()
    assert degrees(asin(along.dot(sites.plumb(3)))) == pytest.approx(2.12, abs=0.01)


def test_a_raised_ridge_never_folds_from_one_sheet() -> None:
    # Section 5: the angles at R add to more than 360 degrees.
    made = wide_saddle(36, "8:12")
    _, _, on_roof = corners(made)
    pattern = sites.piece(made, "BL").pattern
    half = sum(measure.sector(pattern, name, on_roof) for name in ("base", "saddle"))
    assert 2 * half > 360


def test_the_halves_meet_in_the_upright_plane_of_the_ridge() -> None:
    made = wide_saddle(36, "8:12")
    for mark in ("BL", "BR"):
        pattern = sites.piece(made, mark).pattern
        for name in ("ridge leg 1", "ridge leg 2", "ridge leg 3"):
            for place in measure.places(pattern, name):
                assert place.x == pytest.approx(18 * INCH)


# --- section 5: back pans ----------------------------------------------------


def test_a_falling_trough_is_one_flat_face_through_three_points() -> None:
    made = sites.laid(sites.sample("falling-left-stainless-mm"))
    pattern = sites.piece(made, "B").pattern
    ring = measure.places(pattern, "trough")
    assert len(ring) == 3
    low = next(p for p in ring if abs(p.x) < SMALL)
    assert low.minus(Vec(0, 580, 0)).length() < SMALL
    assert {round(p.x, 6) for p in ring if p is not low} == {625.0}


def test_a_falling_troughs_creases_meet_only_at_the_low_corner() -> None:
    made = sites.laid(sites.sample("falling-left-stainless-mm"))
    pattern = sites.piece(made, "B").pattern
    valley = measure.creases_between(pattern, "base", "trough")
    wall = measure.creases_between(pattern, "trough", "upstand")
    shared = {c.a for c in valley} | {c.b for c in valley}
    shared &= {c.a for c in wall} | {c.b for c in wall}
    assert [pattern.folded[i] for i in shared] == [
        pytest.approx(Vec(0, 580, 0), abs=SMALL)
    ]


def test_falling_left_and_right_are_each_others_mirror() -> None:
    left = sites.laid_with({"back": "falling left"})
    right = sites.laid_with(
        {
            "back": "falling right",
            "roof.left_pan": "13 5/8",
            "roof.right_pan": "11 1/4",
        }
    )
    one, two = sites.piece(left, "B").pattern, sites.piece(right, "B").pattern
    across = one.size()[0]
    assert {(round(across - p.x, 6), round(p.y, 6)) for p in one.vertices} == {
        (round(p.x, 6), round(p.y, 6)) for p in two.vertices
    }


# --- section 5: counterflashing ------------------------------------------------


@pytest.mark.parametrize("pitch", ["4:12", "8:12", "14:12"])
def test_a_raked_piece_is_a_parallelogram_cut_at_the_pitch(pitch: str) -> None:
    made = sites.laid_with(
        {"pitch": pitch, "counterflashing": "level and raked", "back": "flat"}
    )
    ring = measure.places(sites.piece(made, "CL").pattern, "cover")
    assert len(ring) == 4
    lengths = measure.sides(ring)
    assert lengths[0] == pytest.approx(lengths[1])
    assert lengths[2] == pytest.approx(lengths[3])
    angles = sorted(_angles(ring))
    assert angles[0] == pytest.approx(90 - read_pitch(pitch))
    assert angles[-1] == pytest.approx(90 + read_pitch(pitch))


def _angles(ring: list[Vec]) -> list[float]:
    return [
        measure.between(ring[i - 1].minus(p), ring[(i + 1) % len(ring)].minus(p))
        for i, p in enumerate(ring)
    ]


def test_its_lower_edge_covers_the_upstand_by_the_shops_lap() -> None:
    made = sites.laid_with({"counterflashing": "level and raked", "back": "flat"})
    ring = measure.places(sites.piece(made, "CL").pattern, "cover")
    assert min(p.z for p in ring) == pytest.approx((7 - 4) * INCH)


def step_run(made: LaidSet, first: str, second: str) -> float:
    """Level distance from one step's front edge to the next one's."""
    theta = radians(made.pitch)
    fronts = []
    for mark in (first, second):
        ring = measure.places(sites.piece(made, mark).pattern, "cover")
        level = Vec(0, 1, -tan(theta)).unit()
        fronts.append(min(p.dot(level) for p in ring))
    return fronts[1] - fronts[0]


def test_d_20_three_modular_courses_run_16_inches_at_6_in_12() -> None:
    # Rise over tan of the pitch (computed); at most three bricks a step: Copper
    # in Architecture Design Handbook, section 9.8 (seen).
    made = sites.laid_with({"pitch": "6:12", "depth": 48, "walls.course": "2 2/3"})
    run = step_run(made, "CL1", "CL2") / INCH
    courses = run / (16 / 3)
    assert run in (pytest.approx(k * 16 / 3, abs=1e-3) for k in (1, 2, 3))
    assert courses == pytest.approx(round(courses))


def test_d_21_a_75_mm_course_runs_129_9_mm_at_30_degrees() -> None:
    made = sites.laid_with(
        {
            "units": "mm",
            "pitch": "30°",
            "width": 700,
            "depth": 900,
            "roof.left_pan": 280,
            "roof.right_pan": 280,
            "roof.below": 250,
            "roof.above": 700,
            "roof.seam.height": 25,
            "roof.seam.turn": 10,
            "upstands": 160,
            "walls.course": 75,
            "walls.reglet": 220,
            "build.sweep_radius": 60,
            "build.leg_at_wall_top": 12,
        }
    )
    run = step_run(made, "CL1", "CL2")
    assert run / 129.9038 == pytest.approx(round(run / 129.9038), abs=1e-4)
    assert run == pytest.approx(round(run / 129.9) * 129.9, abs=0.3)


def test_each_step_laps_the_one_below_it() -> None:
    made = sites.laid_with({"depth": 48})
    laps = [j for j in made.joints if j.name == "CL2 front end over CL1 back end"]
    assert [j.promised for j in laps] == [pytest.approx(3 * INCH)]


def test_step_tops_are_level() -> None:
    made = sites.laid_with({"depth": 48})
    up = sites.plumb(made.pitch)
    for piece in made.pieces:
        if piece.mark.startswith("CL"):
            heights = [p.dot(up) for p in measure.places(piece.pattern, "cover")]
            top = max(heights)
            assert sum(abs(h - top) < SMALL for h in heights) >= 2


# --- sections 4 and 8 ---------------------------------------------------------


def test_the_swept_leg_keeps_its_straight_run_at_the_top() -> None:
    made = sites.laid_with({})
    pattern = sites.piece(made, "PL").pattern
    sweep = pattern.sweeps[0]
    longest = max(
        b.minus(a).length()
        for path in sweep.turn_lines
        for a, b in zip(path, path[1:], strict=False)
    )
    assert longest >= 1 * INCH - SMALL


@pytest.mark.parametrize("name", sites.samples())
def test_every_sample_is_proven_whole(name: str) -> None:
    made = sites.laid(sites.sample(name))
    assert made.refused == ()
    for piece in made.pieces:
        figures = piece.proof
        worst = max(figures.closure, figures.seat, figures.overlap, figures.meeting)
        assert worst < proof.LIMIT
        assert figures.shed


@pytest.mark.parametrize("back", ["falling left", "falling right"])
@pytest.mark.parametrize("pitch", ["59.5°", "56°", "60°"])
def test_the_back_counterflashing_of_a_steep_narrow_trough_clears_its_own_tab(
    back: str, pitch: str
) -> None:
    # The tab dips under the lower edge in the flat, where the drip would lie.
    made = sites.laid_with(
        {
            "back": back,
            "pitch": pitch,
            "width": "363 mm",
            "counterflashing": "level and raked",
        }
    )
    assert made.refused == ()
    cover = sites.piece(made, "CB")
    assert cover.proof.overlap < proof.LIMIT
    rings = [Polygon(cover.pattern.polygon(face)) for face in cover.pattern.faces]
    # shapely, a general geometry library, sees no two faces on each other either.
    for one, two in combinations(rings, 2):
        assert one.intersection(two).area < 1e-6
