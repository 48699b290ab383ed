"""FOLD files against the contract: FOLD 1.2, two frames, roles, layers."""

from __future__ import annotations

import json
from typing import Any

import pytest

from layout.folder import as_json
from layout.folding.fold_file import fold_file
from tests import sites

ROLES = {
    "roof", "wall", "leg", "turn", "hem", "hook", "pocket", "trough", "saddle",
    "lap", "face",
}  # fmt: skip


def files() -> list[dict[str, Any]]:
    found = []
    for name in sites.samples():
        for piece in sites.laid(sites.sample(name)).pieces:
            found.append(json.loads(as_json(fold_file(piece))))
    return found


def test_the_top_level_is_a_crease_pattern_in_mm() -> None:
    for file in files():
        assert file["file_spec"] == 1.2
        assert file["frame_classes"] == ["creasePattern"]
        assert file["frame_unit"] == "mm"
        assert {len(place) for place in file["vertices_coords"]} == {2}


def test_the_one_frame_is_the_folded_form_with_the_same_vertices() -> None:
    for file in files():
        (folded,) = file["file_frames"]
        assert folded["frame_classes"] == ["foldedForm"]
        assert {len(place) for place in folded["vertices_coords"]} == {3}
        assert len(folded["vertices_coords"]) == len(file["vertices_coords"])
        assert (folded["frame_parent"], folded["frame_inherit"]) == (0, True)


def test_lists_of_one_kind_are_of_one_length() -> None:
    for file in files():
        for kind in ("edges", "faces"):
            sizes = {len(v) for k, v in file.items() if k.startswith(f"{kind}_")}
            assert len(sizes) == 1, (file["seambook:mark"], kind)


def test_assignments_and_angles_belong_together() -> None:
    for file in files():
        pairs = zip(file["edges_assignment"], file["edges_foldAngle"], strict=True)
        for kind, angle in pairs:
            assert -180 <= angle <= 180
            assert {"V": angle > 0, "M": angle < 0}.get(kind, angle == 0)
            assert kind in "BMVF"


def test_an_upstand_is_plus_90() -> None:
    made = sites.laid(sites.sample("flat-back-zinc-mm"))
    file = fold_file(sites.piece(made, "PL"))
    names = file["faces_seambook:name"]
    base = set(file["faces_vertices"][names.index("base")])
    wall = set(file["faces_vertices"][names.index("upstand")])
    at = next(
        i for i, edge in enumerate(file["edges_vertices"]) if set(edge) <= base & wall
    )
    assert file["edges_foldAngle"][at] == pytest.approx(90)


def test_roles_and_walls_are_the_contracts() -> None:
    for file in files():
        roles, walls = file["faces_seambook:role"], file["faces_seambook:wall"]
        assert set(roles) <= ROLES
        for role, wall in zip(roles, walls, strict=True):
            if role == "wall":
                assert wall in ("front", "back", "left", "right")
            else:
                assert wall is None


def test_layers_name_faces_that_lie_on_each_other() -> None:
    layered = 0
    for file in files():
        (folded,) = file["file_frames"]
        for one, two, side in folded["faceOrders"]:
            assert side in (1, -1)
            assert one != two
            assert max(one, two) < len(file["faces_vertices"])
            layered += 1
    assert layered > 20


def test_every_closed_fold_has_its_layers_said() -> None:
    for file in files():
        (folded,) = file["file_frames"]
        said = {frozenset(order[:2]) for order in folded["faceOrders"]}
        for edge, angle in zip(
            file["edges_vertices"], file["edges_foldAngle"], strict=True
        ):
            if abs(angle) == 180:
                beside = [
                    i
                    for i, face in enumerate(file["faces_vertices"])
                    if _has_side(face, edge)
                ]
                assert frozenset(beside) in said, file["seambook:mark"]


def _has_side(face: list[int], edge: list[int]) -> bool:
    sides = zip(face, face[1:] + face[:1], strict=True)
    return any({a, b} == set(edge) for a, b in sides)


def test_no_number_is_a_negative_nought() -> None:
    # Equal pieces must be equal bytes.
    for file in files():
        words = json.dumps(file).replace("]", ",").replace("[", ",").split(",")
        assert "-0.0" not in {word.strip() for word in words}
