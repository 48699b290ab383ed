"""Every face of every sample carried from the flat to the roof by scipy alone.

Rotation.align_vectors finds the rigid move of each face from its corners; it
knows nothing of creases. What our refold, joints and seats say must agree.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import degrees

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from layout.folding import proof
from layout.folding.pattern import FlatPattern
from layout.folding.result import LaidSet, Piece
from layout.geometry.point import Point
from tests import sites

Moves = list[tuple[Rotation, np.ndarray, np.ndarray]]


def pieces() -> Iterator[Piece]:
    for name in sites.samples():
        yield from sites.laid(sites.sample(name)).pieces


def moves(pattern: FlatPattern) -> Moves:
    """Each face's rotation, its middle in the flat and on the roof."""
    found = []
    for face in pattern.faces:
        flat = np.array([(*pattern.vertices[i], 0.0) for i in face.corners])
        roof = np.array([pattern.folded[i] for i in face.corners])
        turn, _ = Rotation.align_vectors(roof - roof.mean(0), flat - flat.mean(0))
        moved = turn.apply(flat - flat.mean(0)) + roof.mean(0)
        assert np.abs(moved - roof).max() < 1e-6
        found.append((turn, flat.mean(0), roof.mean(0)))
    return found


def carried(made: Moves, face: int, place: Point) -> np.ndarray:
    turn, flat, roof = made[face]
    there: np.ndarray = turn.apply(np.array([*place, 0.0]) - flat) + roof
    return there


def test_our_refold_puts_every_corner_where_a_rigid_move_does() -> None:
    for piece in pieces():
        made, ours = moves(piece.pattern), proof.refold(piece.pattern)
        for i, face in enumerate(piece.pattern.faces):
            for corner in face.corners:
                place = piece.pattern.vertices[corner]
                mine = np.array(proof.land(ours, i, place))
                assert np.abs(mine - carried(made, i, place)).max() < 1e-6


def test_the_angle_between_two_faces_is_the_creases_fold_angle() -> None:
    for piece in pieces():
        made = moves(piece.pattern)
        for crease in piece.pattern.creases:
            one, two = (made[face][0] for face in crease.faces)
            between = degrees((one.inv() * two).magnitude())
            assert between == pytest.approx(abs(crease.angle), abs=1e-5), piece.mark


def test_a_fold_up_brings_the_weather_sides_together() -> None:
    up = np.array([0.0, 0.0, 1.0])
    for piece in pieces():
        made = moves(piece.pattern)
        for crease in piece.pattern.creases:
            if not 1 < abs(crease.angle) < 179:
                continue
            one, two = crease.faces
            normal = made[one][0].apply(up)
            middle = made[two][2] - carried(made, one, piece.pattern.vertices[crease.a])
            across = _across(piece.pattern, made, one, crease.a, crease.b)
            side = np.sin(np.radians(crease.angle))
            far = middle - across * (middle @ across)
            assert np.sign(far @ normal) == np.sign(side), (piece.mark, crease)


def _across(pattern: FlatPattern, made: Moves, face: int, a: int, b: int) -> np.ndarray:
    line = carried(made, face, pattern.vertices[b]) - carried(
        made, face, pattern.vertices[a]
    )
    along: np.ndarray = line / np.linalg.norm(line)
    return along


@pytest.mark.parametrize("name", sites.samples())
def test_seams_run_on_one_line_and_laps_by_what_they_promise(name: str) -> None:
    made = sites.laid(sites.sample(name))
    laid = {piece.mark: moves(piece.pattern) for piece in made.pieces}
    assert made.joints
    for joint in made.joints:
        upper, lower = (
            np.array([carried(laid[s.mark], s.at.face, p) for p in s.at.line])
            for s in (joint.upper, joint.lower)
        )
        along = (lower[1] - lower[0]) / np.linalg.norm(lower[1] - lower[0])
        arms = upper - lower[0]
        off = arms - np.outer(arms @ along, along)
        assert np.linalg.norm(off, axis=1) == pytest.approx(
            [_lap(made, joint.name)] * 2, abs=1e-5
        )


def _lap(made: LaidSet, name: str) -> float:
    """What the lap promises, measured square to the line."""
    joint = next(j for j in made.joints if j.name == name)
    laid = moves(sites.piece(made, joint.lower.mark).pattern)
    ends = [carried(laid, joint.lower.at.face, p) for p in joint.lower.at.line]
    along = (ends[1] - ends[0]) / np.linalg.norm(ends[1] - ends[0])
    flow = np.array(joint.flow)
    square = flow - along * (flow @ along)
    return float(joint.promised * np.linalg.norm(square))
