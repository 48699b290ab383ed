"""What every set promises, on random square chimneys.

Closure, isometry, seat, no overlap, area, joints, mirror and the topology of
the mesh, read from the pieces' own FOLD frames by numpy and shapely, with
wall planes written down from the measures alone.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator
from math import cos, radians, sin
from typing import Any

import numpy as np
import pytest
import shapely
from scipy.spatial import cKDTree

from layout.folding import proof
from layout.folding.fold_file import fold_file
from layout.folding.pattern import mirrored_pattern
from layout.folding.result import LaidSet, Piece
from tests import sites
from tests.families import measure
from tests.random_sites import on_random_sites

Frames = tuple[Piece, dict[str, Any], np.ndarray, np.ndarray]


def frames(made: LaidSet) -> Iterator[Frames]:
    """Every piece with its FOLD file, flat (n, 2) and folded (n, 3) places."""
    for piece in made.pieces:
        file = fold_file(piece)
        folded = file["file_frames"][0]["vertices_coords"]
        yield piece, file, np.array(file["vertices_coords"]), np.array(folded)


@on_random_sites
def test_most_sites_are_laid_out_whole_and_the_rest_say_why(site: Any) -> None:
    made = sites.laid(site)
    marks = {piece.mark for piece in made.pieces}
    assert {"A", "K"} <= marks
    assert all(len(reason) > 30 for reason in made.refused)


def test_the_random_sites_are_mostly_buildable() -> None:
    whole: Counter[bool] = Counter()

    @on_random_sites
    def count(site: Any) -> None:
        whole[not sites.laid(site).refused] += 1

    count()
    assert whole[True] > 3 * whole[False]


@on_random_sites
def test_every_piece_closes(site: Any) -> None:
    for piece in sites.laid(site).pieces:
        assert proof.closure(piece.pattern, proof.refold(piece.pattern)) < 1e-6
        assert piece.proof.closure < 1e-6


@on_random_sites
def test_flat_and_folded_faces_are_the_same_metal(site: Any) -> None:
    for piece, file, flat, folded in frames(sites.laid(site)):
        for face in file["faces_vertices"]:
            one = np.linalg.norm(flat[face][:, None] - flat[face][None], axis=-1)
            two = np.linalg.norm(folded[face][:, None] - folded[face][None], axis=-1)
            assert np.abs(one - two).max() < 1e-6, piece.mark


def distances(site: dict[str, Any], role: str, wall: str, at: np.ndarray) -> Any:
    """From the measured plane of a roof or wall face, mm (geometry, section 1)."""
    theta = radians(float(str(site["roof"]["pitch"]).rstrip("°")))
    width, depth = site["penetration"]["front"], site["penetration"]["left"]
    x, y, z = at.T
    if role == "roof":
        return z
    return {
        "left": x,
        "right": x - width,
        "front": y * cos(theta) - z * sin(theta),
        "back": (y - depth) * cos(theta) - z * sin(theta),
    }[wall]


@on_random_sites
def test_roof_and_wall_faces_lie_in_their_measured_planes(site: Any) -> None:
    for piece, file, _, folded in frames(sites.laid(site)):
        for i, face in enumerate(file["faces_vertices"]):
            role = file["faces_seambook:role"][i]
            if role not in ("roof", "wall"):
                continue
            wall = file["faces_seambook:wall"][i]
            off = distances(site, role, wall, folded[face])
            assert np.abs(off).max() < 1e-6, (piece.mark, role, wall)


@on_random_sites
def test_counterflashing_lies_on_its_wall(site: Any) -> None:
    for piece in sites.laid(site).pieces:
        for face in piece.pattern.faces:
            if face.role in ("face", "lap"):
                at = np.array(piece.pattern.polygon_in_space(face))
                off = distances(site, "wall", face.wall or "", at)
                assert np.abs(off).max() < 1e-6, (piece.mark, face.name)


@on_random_sites
def test_faces_are_simple_and_do_not_overlap_in_the_flat(site: Any) -> None:
    for piece, file, flat, _ in frames(sites.laid(site)):
        shapes = [shapely.Polygon(flat[face]) for face in file["faces_vertices"]]
        assert all(shape.is_valid for shape in shapes), piece.mark
        tree = shapely.STRtree(shapes)
        for one, two in tree.query(shapes).T:
            if one < two:
                shared = shapes[one].intersection(shapes[two]).area
                assert shared < 1e-3, (piece.mark, one, two)


@on_random_sites
def test_faces_run_counter_clockwise(site: Any) -> None:
    for piece, file, flat, _ in frames(sites.laid(site)):
        for face in file["faces_vertices"]:
            assert shapely.LinearRing(flat[face]).is_ccw, piece.mark


@on_random_sites
def test_area_is_the_faces_the_outline_and_shapelys(site: Any) -> None:
    for piece, file, flat, _ in frames(sites.laid(site)):
        faces = sum(shapely.Polygon(flat[f]).area for f in file["faces_vertices"])
        outer, *holes = piece.pattern.outlines
        outline = shapely.Polygon(outer).area - sum(
            shapely.Polygon(hole).area for hole in holes
        )
        assert piece.area == pytest.approx(faces, rel=1e-9)
        assert piece.area == pytest.approx(outline, rel=1e-9)


@on_random_sites
def test_the_flat_lies_inside_its_blank_at_the_datum_corner(site: Any) -> None:
    for piece, _, flat, _ in frames(sites.laid(site)):
        width, length = piece.pattern.size()
        assert np.abs(flat.min(axis=0)).max() < 1e-6
        assert flat.max(axis=0) == pytest.approx((width, length), abs=1e-6)


@on_random_sites
def test_each_mesh_is_one_disc_of_metal(site: Any) -> None:
    # Euler: vertices - edges + faces = 1 for a sheet with no hole in it.
    for piece, file, flat, _ in frames(sites.laid(site)):
        count = len(flat) - len(file["edges_vertices"]) + len(file["faces_vertices"])
        assert count == 1, piece.mark
        assert len(piece.pattern.outlines) == 1


@on_random_sites
def test_every_edge_has_one_or_two_faces_as_it_says(site: Any) -> None:
    for piece, file, _, _ in frames(sites.laid(site)):
        sides: Counter[frozenset[int]] = Counter()
        for face in file["faces_vertices"]:
            for a, b in zip(face, face[1:] + face[:1], strict=True):
                sides[frozenset((a, b))] += 1
        edges = [frozenset(edge) for edge in file["edges_vertices"]]
        assert set(edges) == set(sides) and len(edges) == len(sides)
        for edge, kind in zip(edges, file["edges_assignment"], strict=True):
            assert sides[edge] == (1 if kind == "B" else 2), piece.mark


@on_random_sites
def test_metal_round_an_inner_vertex_is_a_full_turn(site: Any) -> None:
    for piece, file, _, _ in frames(sites.laid(site)):
        pattern = piece.pattern
        edge: set[int] = set()
        for ends, kind in zip(
            file["edges_vertices"], file["edges_assignment"], strict=True
        ):
            if kind == "B":
                edge.update(ends)
        turns: dict[int, float] = defaultdict(float)
        for face in pattern.faces:
            for i in face.corners:
                turns[i] += measure.sector_of(pattern, face, i)
        for i, turn in turns.items():
            if i not in edge:
                assert turn == pytest.approx(360, abs=1e-6), piece.mark


@on_random_sites
def test_no_metal_is_cut_at_a_pocket(site: Any) -> None:
    # Section 3: water can't enter, for the pocket's creases meet in uncut metal.
    for piece, file, _, _ in frames(sites.laid(site)):
        cut = {
            i
            for ends, kind in zip(
                file["edges_vertices"], file["edges_assignment"], strict=True
            )
            if kind == "B"
            for i in ends
        }
        for crease in piece.pattern.creases:
            if crease.what == "pocket" and abs(crease.angle) == 180:
                assert not {crease.a, crease.b} <= cut, piece.mark


@on_random_sites
def test_every_joint_meets_and_sheds(site: Any) -> None:
    made = sites.laid(site)
    laid = {piece.mark: proof.refold(piece.pattern) for piece in made.pieces}
    for joint in made.joints:
        if not {joint.upper.mark, joint.lower.mark} <= set(laid):
            continue
        upper = proof.side_in_space(joint.upper, laid[joint.upper.mark])
        lower = proof.side_in_space(joint.lower, laid[joint.lower.mark])
        assert proof.meeting(joint, upper, lower) < 1e-6, joint.name
        assert proof.sheds(joint, upper, lower), joint.name


@on_random_sites
def test_seam_legs_match_their_mates_and_the_roofs_seam(site: Any) -> None:
    made = sites.laid(site)
    seam = site["roof"]["seam"]
    turns = 2 if seam["fold"] == "double" else 1
    for joint in made.joints:
        if joint.kind != "lap":
            covering = seam["height"] + turns * seam["turn"]
            assert joint.upper.leg == pytest.approx(covering)
            assert joint.lower.leg == pytest.approx(covering - seam["turn"])


SWAP = str.maketrans("LR", "RL")
BACKS = {"falling left": "falling right", "falling right": "falling left"}


def other_way_round(site: dict[str, Any]) -> dict[str, Any]:
    """The same chimney seen in a mirror."""
    turned = sites.record(
        {
            f"{room}.{name}": value
            for room in ("penetration", "roof", "walls", "build")
            for name, value in site[room].items()
        }
        | {"units": "mm"}
    )
    roof, hole = turned["roof"], turned["penetration"]
    roof["left_pan"], roof["right_pan"] = roof["right_pan"], roof["left_pan"]
    hole["left"], hole["right"] = hole["right"], hole["left"]
    turned["build"]["back"] = BACKS.get(site["build"]["back"], site["build"]["back"])
    return turned


@on_random_sites
def test_a_mirrored_site_gives_the_mirrored_set(site: Any) -> None:
    made, other = sites.laid(site), sites.laid(other_way_round(site))
    width = site["penetration"]["front"]
    there = {piece.mark: piece for piece in other.pieces}
    for piece in made.pieces:
        mate = there.get(piece.mark.translate(SWAP))
        # The right half of a saddle covers the left one, on either roof; the
        # cleat is drawn on the left seam.
        if piece.family == "saddle_half" or piece.mark in ("CBL", "CBR", "K"):
            continue
        assert mate is not None, piece.mark
        assert mate.area == pytest.approx(piece.area, rel=1e-9), piece.mark
        assert mate.weight == pytest.approx(piece.weight, rel=1e-9)
        turned = np.array(piece.pattern.folded) * (-1, 1, 1) + (width, 0, 0)
        for one, two in ((turned, np.array(mate.pattern.folded)),):
            assert cKDTree(one).query(two)[0].max() < 1e-6, piece.mark
            assert cKDTree(two).query(one)[0].max() < 1e-6, piece.mark


@on_random_sites
def test_the_mirror_is_its_own_inverse_and_keeps_fold_angles(site: Any) -> None:
    width = site["penetration"]["front"]
    for piece in sites.laid(site).pieces:
        once = mirrored_pattern(piece.pattern, width)
        twice = mirrored_pattern(once, width)
        assert [c.angle for c in once.creases] == [
            c.angle for c in piece.pattern.creases
        ]
        assert np.array(twice.vertices) == pytest.approx(
            np.array(piece.pattern.vertices), abs=1e-9
        )
        assert np.array(twice.folded) == pytest.approx(
            np.array(piece.pattern.folded), abs=1e-9
        )
        assert proof.closure(once, proof.refold(once)) < 1e-6


@on_random_sites
def test_an_upstand_is_a_valley_and_assignments_follow_the_angles(site: Any) -> None:
    for piece, file, _, _ in frames(sites.laid(site)):
        for crease in piece.pattern.creases:
            if crease.what == "upstand":
                assert crease.angle > 0, piece.mark
        for angle, kind in zip(
            file["edges_foldAngle"], file["edges_assignment"], strict=True
        ):
            assert kind in {1: "V", -1: "M"}.get(np.sign(angle), "FB"), piece.mark


@on_random_sites
def test_marks_say_where_every_fold_line_meets_the_blanks_edges(site: Any) -> None:
    for piece in sites.laid(site).pieces:
        width, length = piece.pattern.size()
        for fold in piece.folds:
            own = [m for m in piece.marks if m.of == f"fold {fold.order}"]
            assert len(own) == 2, (piece.mark, fold)
            a, b = fold.line
            along = b.minus(a).unit()
            for mark in own:
                assert abs(along.cross(mark.at.minus(a))) < 1e-6
                x, y = mark.at
                on_edge = {"datum": y, "far": y - length, "left": x}.get(
                    mark.edge, x - width
                )
                assert abs(on_edge) < 1e-6
                assert mark.distance == (x if mark.edge in ("datum", "far") else y)


@on_random_sites
def test_folds_are_numbered_in_order_and_point_the_right_way(site: Any) -> None:
    for piece in sites.laid(site).pieces:
        assert [f.order for f in piece.folds] == list(range(1, len(piece.folds) + 1))
        for fold in piece.folds:
            assert 0 < fold.angle <= 180
        folded = {round(abs(c.angle), 6) for c in piece.pattern.creases if c.angle}
        assert {round(f.angle, 6) for f in piece.folds} == folded
