"""Chimneys out of square: everything fits the true footprint (geometry, section 7).

The corners are drawn first and only their distances written down, so that
where the pieces must lie is known without our own reckoning.
"""

from __future__ import annotations

from math import cos, radians, sin
from typing import Any

import numpy as np
import pytest
import shapely

from layout.folding import proof
from tests import sites
from tests.random_sites import Corners, on_crooked_sites

Crooked = tuple[dict[str, Any], Corners]
WALLS = ("front", "right", "back", "left")


def normal(site: dict[str, Any], corners: Corners, wall: str) -> np.ndarray:
    """Unit normal of a plumb wall through two corners, and its distance."""
    theta = radians(float(site["roof"]["pitch"].rstrip("°")))
    at = WALLS.index(wall)
    a, b = corners[at], corners[(at + 1) % 4]
    along = np.array([b[0] - a[0], b[1] - a[1], 0.0])
    out = np.cross(along, [0.0, sin(theta), cos(theta)])
    unit: np.ndarray = out / np.linalg.norm(out)
    return unit


@on_crooked_sites
def test_every_wall_face_lies_on_the_wall_between_its_corners(
    crooked: Crooked,
) -> None:
    site, corners = crooked
    for piece in sites.laid(site).pieces:
        for face in piece.pattern.faces:
            at = np.array(piece.pattern.polygon_in_space(face))
            if face.role == "roof":
                assert np.abs(at[:, 2]).max() < 1e-6
            elif face.wall and face.role in ("wall", "face", "lap"):
                unit = normal(site, corners, face.wall)
                foot = np.array([*corners[WALLS.index(face.wall)], 0.0])
                assert np.abs((at - foot) @ unit).max() < 1e-6, piece.mark


@on_crooked_sites
def test_every_piece_closes_and_is_the_same_metal_flat_and_folded(
    crooked: Crooked,
) -> None:
    for piece in sites.laid(crooked[0]).pieces:
        pattern = piece.pattern
        assert proof.closure(pattern, proof.refold(pattern)) < 1e-6
        flat, folded = np.array(pattern.vertices), np.array(pattern.folded)
        for face in pattern.faces:
            ring = list(face.corners)
            one = np.linalg.norm(flat[ring][:, None] - flat[ring][None], axis=-1)
            two = np.linalg.norm(folded[ring][:, None] - folded[ring][None], axis=-1)
            assert np.abs(one - two).max() < 1e-6, piece.mark


@on_crooked_sites
def test_faces_do_not_overlap_and_fill_the_outline(crooked: Crooked) -> None:
    for piece in sites.laid(crooked[0]).pieces:
        pattern = piece.pattern
        shapes = [shapely.Polygon(pattern.polygon(face)) for face in pattern.faces]
        assert all(shape.is_valid for shape in shapes), piece.mark
        for one, two in shapely.STRtree(shapes).query(shapes).T:
            if one < two:
                assert shapes[one].intersection(shapes[two]).area < 1e-3, piece.mark
        outline = shapely.Polygon(pattern.outline).area
        assert sum(shape.area for shape in shapes) == pytest.approx(outline)


@on_crooked_sites
def test_every_joint_still_meets_and_sheds(crooked: Crooked) -> None:
    made = sites.laid(crooked[0])
    laid = {piece.mark: proof.refold(piece.pattern) for piece in made.pieces}
    for joint in made.joints:
        if {joint.upper.mark, joint.lower.mark} <= set(laid):
            upper = proof.side_in_space(joint.upper, laid[joint.upper.mark])
            lower = proof.side_in_space(joint.lower, laid[joint.lower.mark])
            assert proof.meeting(joint, upper, lower) < 1e-6, joint.name
            assert proof.sheds(joint, upper, lower), joint.name


@on_crooked_sites
def test_the_key_plan_is_the_true_footprint(crooked: Crooked) -> None:
    site, corners = crooked
    found = [(place.x, place.y) for place in sites.laid(site).key_plan]
    assert np.array(found) == pytest.approx(np.array(corners), abs=1e-6)
