"""The proof must fail when it should: broken angles, vertices, planes, joints."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from math import cos, radians, sin

import pytest

from layout.folding import proof
from layout.folding.pattern import FlatPattern
from layout.folding.proof import LIMIT, NotProven
from layout.folding.result import Piece
from layout.geometry.point import Point
from layout.geometry.space import Plane, Vec
from tests import sites

ROOF = Plane(Vec(0, 0, 0), Vec(0, 0, 1))
CASES = [
    ("saddle-copper-in", mark)
    for mark in ("A", "PL", "PR", "BL", "BR", "CF", "CL1", "CBR", "K")
] + [
    ("flat-back-zinc-mm", "B"),
    ("flat-back-zinc-mm", "CL"),
    ("falling-left-stainless-mm", "B"),
    ("falling-left-stainless-mm", "PR"),
    ("falling-right-steel-in", "B"),
]


@cache
def laid_piece(site: str, mark: str) -> Piece:
    return sites.piece(sites.laid(sites.sample(site)), mark)


def crease_cases() -> Iterator[tuple[str, str, int]]:
    """Every crease of the pieces above that is folded, and of the unfolded
    ones the first and last along each line."""
    for site, mark in CASES:
        pattern = laid_piece(site, mark).pattern
        last: dict[tuple[int, int], int] = {}
        for i, crease in enumerate(pattern.creases):
            if crease.angle or crease.faces not in last:
                yield site, mark, i
            last[crease.faces] = i
        for i in last.values():
            yield site, mark, i


def closure_with(pattern: FlatPattern) -> float:
    return proof.closure(pattern, proof.refold(pattern))


def with_angle(pattern: FlatPattern, index: int, by: float) -> FlatPattern:
    creases = list(pattern.creases)
    creases[index] = replace(creases[index], angle=creases[index].angle + by)
    return replace(pattern, creases=tuple(creases))


@pytest.mark.parametrize(("site", "mark"), CASES)
def test_a_sound_pattern_closes_far_within_the_limit(site: str, mark: str) -> None:
    assert closure_with(laid_piece(site, mark).pattern) < 1e-9


def test_any_crease_off_by_a_tenth_of_a_degree_opens_the_piece() -> None:
    tried = 0
    for site, mark, index in crease_cases():
        pattern = laid_piece(site, mark).pattern
        for by in (0.1, -0.1):
            broken = with_angle(pattern, index, by)
            found = closure_with(broken)
            assert found > LIMIT, (site, mark, pattern.creases[index], found)
            tried += 1
    assert tried > 300


def test_every_single_crease_of_one_swept_side_pan_is_watched() -> None:
    pattern = laid_piece("saddle-copper-in", "PL").pattern
    for index in range(len(pattern.creases)):
        assert closure_with(with_angle(pattern, index, 0.1)) > LIMIT, index


def test_a_wall_crease_off_by_a_tenth_leaves_its_measured_plane() -> None:
    made = sites.laid(sites.sample("flat-back-zinc-mm"))
    pattern = sites.piece(made, "A").pattern
    theta = radians(made.pitch)
    front = Plane(Vec(0, 0, 0), Vec(0, -cos(theta), sin(theta)))
    at = next(i for i, c in enumerate(pattern.creases) if c.what == "upstand")
    sound = proof.seat(pattern, proof.refold(pattern), {"front": front}, ROOF)
    broken = with_angle(pattern, at, 0.1)
    off = proof.seat(broken, proof.refold(broken), {"front": front}, ROOF)
    assert sound < 1e-9
    assert off == pytest.approx(160 * sin(radians(0.1)), rel=1e-6)


FEW = [CASES[0], CASES[1], CASES[6], CASES[7], CASES[9], CASES[11]]


@pytest.mark.parametrize(("site", "mark"), FEW)
def test_any_vertex_off_by_a_tenth_of_a_millimetre_is_found(
    site: str, mark: str
) -> None:
    pattern = laid_piece(site, mark).pattern
    for i, place in enumerate(pattern.vertices):
        for away in (Point(0.1, 0), Point(0, 0.1)):
            moved = list(pattern.vertices)
            moved[i] = place.plus(away)
            assert closure_with(replace(pattern, vertices=tuple(moved))) > LIMIT


@pytest.mark.parametrize(("site", "mark"), CASES)
def test_any_folded_place_off_by_a_tenth_of_a_millimetre_is_found(
    site: str, mark: str
) -> None:
    pattern = laid_piece(site, mark).pattern
    landed = proof.refold(pattern)
    for i, place in enumerate(pattern.folded):
        moved = list(pattern.folded)
        moved[i] = place.plus(Vec(0, 0, 0.1))
        assert proof.closure(replace(pattern, folded=tuple(moved)), landed) > LIMIT


def test_a_face_that_hangs_on_no_crease_is_not_proven() -> None:
    pattern = laid_piece("saddle-copper-in", "A").pattern
    loose = replace(
        pattern, creases=tuple(c for c in pattern.creases if c.what != "hem")
    )
    with pytest.raises(NotProven, match="hangs on no crease"):
        proof.refold(loose)


def test_faces_laid_over_each_other_in_the_flat_overlap() -> None:
    pattern = laid_piece("saddle-copper-in", "A").pattern
    hem = next(face for face in pattern.faces if face.name == "hem")
    count = len(pattern.vertices)
    shifted = tuple(p.plus(Point(0, 5)) for p in pattern.polygon(hem))
    copy = replace(hem, corners=tuple(range(count, count + 4)))
    doubled = replace(
        pattern,
        vertices=(*pattern.vertices, *shifted),
        faces=(*pattern.faces, copy),
    )
    assert proof.overlap(pattern) < 1e-9
    assert proof.overlap(doubled) == pytest.approx(12.7 - 5, rel=1e-3)


def test_a_face_that_crosses_itself_never_passes_as_flat() -> None:
    pattern = laid_piece("saddle-copper-in", "A").pattern
    a, b, *rest = pattern.faces[1].corners
    twisted = replace(pattern.faces[1], corners=(b, a, *rest))
    faces = (pattern.faces[0], twisted, *pattern.faces[2:])
    assert proof.overlap(replace(pattern, faces=faces)) > LIMIT


def test_a_joint_line_off_by_a_tenth_of_a_millimetre_does_not_meet() -> None:
    made = sites.laid(sites.sample("saddle-copper-in"))
    for joint in made.joints:
        landed = {
            side.mark: proof.refold(sites.piece(made, side.mark).pattern)
            for side in (joint.upper, joint.lower)
        }
        upper = proof.side_in_space(joint.upper, landed[joint.upper.mark])
        lower = proof.side_in_space(joint.lower, landed[joint.lower.mark])
        across = upper[1].minus(upper[0]).cross(Vec(0.3, 0.5, 0.7)).unit()
        off = tuple(place.plus(across, 0.1) for place in upper)
        assert proof.meeting(joint, upper, lower) < 1e-6, joint.name
        assert proof.meeting(joint, off, lower) > LIMIT, joint.name


def test_a_lap_laid_the_wrong_way_up_does_not_shed() -> None:
    made = sites.laid(sites.sample("saddle-copper-in"))
    for joint in made.joints:
        landed = {
            side.mark: proof.refold(sites.piece(made, side.mark).pattern)
            for side in (joint.upper, joint.lower)
        }
        upper = proof.side_in_space(joint.upper, landed[joint.upper.mark])
        lower = proof.side_in_space(joint.lower, landed[joint.lower.mark])
        turned = replace(joint, upper=joint.lower, lower=joint.upper)
        assert proof.sheds(joint, upper, lower), joint.name
        assert not proof.sheds(turned, lower, upper), joint.name
