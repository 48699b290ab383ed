"""Our FOLD files read by two libraries from npm that know nothing of us.

rabbit-ear folds the crease pattern by edges_foldAngle in space; fold, the
reference reader of the format, rebuilds the faces from the edges.
"""

from __future__ import annotations

import json
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from layout.folder import as_json
from layout.folding.fold_file import fold_file
from tests import sites

HERE = Path(__file__).parent
NPM_INSTALL = ["npm", "install", "--no-audit", "--no-fund", "--no-package-lock"]
WITHIN = 1e-9  # mm


class Both(NamedTuple):
    """One file as we wrote it and as the readers found it."""

    name: str
    ours: dict[str, Any]
    theirs: dict[str, Any]

    @property
    def folded(self) -> np.ndarray:
        return np.array(self.ours["file_frames"][0]["vertices_coords"])


def _readers() -> str:
    """Why the readers can't be had, or ""."""
    if not shutil.which("node") or not shutil.which("npm"):
        return "node and npm are not on this machine"
    if not (HERE / "node_modules" / "rabbit-ear").exists():
        got = subprocess.run(NPM_INSTALL, cwd=HERE, capture_output=True, timeout=300)
        if got.returncode:
            return "npm could not install rabbit-ear and fold"
    return ""


@pytest.fixture(scope="module")
def read(tmp_path_factory: pytest.TempPathFactory) -> list[Both]:
    """Every piece of every sample, written, and read by the two libraries."""
    if why := _readers():
        pytest.skip(f"FOLD readers: {why}")
    folder = tmp_path_factory.mktemp("fold")
    names, ours = [], []
    for site in sites.samples():
        for piece in sites.laid(sites.sample(site)).pieces:
            path = folder / f"{site}-{piece.mark}.fold"
            path.write_bytes(as_json(fold_file(piece)))
            names.append(path)
            ours.append(json.loads(path.read_bytes()))
    command = ["node", str(HERE / "refold.mjs"), *map(str, names)]
    got = subprocess.run(command, capture_output=True, check=True, timeout=300)
    theirs = json.loads(got.stdout)
    found = zip(names, ours, theirs, strict=True)
    return [Both(path.stem, mine, other) for path, mine, other in found]


def test_both_readers_find_nothing_wrong(read: list[Both]) -> None:
    for both in read:
        summary, *faults = both.theirs["faults"]
        assert summary == "valid", (both.name, faults)


def test_an_independent_reader_folds_every_file_to_our_folded_form(
    read: list[Both],
) -> None:
    assert len(read) > 40
    for both in read:
        face = both.ours["faces_vertices"][0]
        theirs = _placed(np.array(both.theirs["folded"]), both.folded, face)
        assert np.abs(theirs - both.folded).max() < WITHIN, both.name


def _placed(theirs: np.ndarray, ours: np.ndarray, face: list[int]) -> np.ndarray:
    """Their folded form carried to our place on the roof by its first face."""
    here, there = ours[face].mean(0), theirs[face].mean(0)
    turn, _ = Rotation.align_vectors(ours[face] - here, theirs[face] - there)
    placed: np.ndarray = turn.apply(theirs - there) + here
    return placed


def test_the_independent_fold_differs_when_an_angle_is_off_by_a_tenth(
    read: list[Both], tmp_path: Path
) -> None:
    both = next(b for b in read if b.name.endswith("-PL"))
    broken = json.loads(json.dumps(both.ours))
    edge = next(i for i, a in enumerate(broken["edges_foldAngle"]) if 0 < abs(a) < 179)
    broken["edges_foldAngle"][edge] += 0.1
    path = tmp_path / "broken.fold"
    path.write_text(json.dumps(broken))
    command = ["node", str(HERE / "refold.mjs"), str(path)]
    got = subprocess.run(command, capture_output=True, check=True, timeout=300)
    face = broken["faces_vertices"][0]
    theirs = _placed(np.array(json.loads(got.stdout)[0]["folded"]), both.folded, face)
    assert np.abs(theirs - both.folded).max() > 0.01


def test_the_reference_reader_rebuilds_our_faces_from_the_edges(
    read: list[Both],
) -> None:
    for both in read:
        rebuilt = {_turned(face) for face in both.theirs["facesFromEdges"]}
        ours = {_turned(face) for face in both.ours["faces_vertices"]}
        assert ours <= rebuilt, both.name


def _turned(face: list[int]) -> tuple[int, ...]:
    """A face from its lowest corner on, in its own sense of rotation."""
    start = face.index(min(face))
    return tuple(face[start:] + face[:start])


def test_only_cut_edges_have_a_face_on_one_side(read: list[Both]) -> None:
    for both in read:
        for faces, kind in _sides(both):
            assert (None in faces) == (kind == "B"), both.name


def _sides(both: Both) -> Iterator[tuple[list[int | None], str]]:
    return zip(both.theirs["edgesFaces"], both.ours["edges_assignment"], strict=True)


def test_fold_angles_say_the_same_as_the_assignments(read: list[Both]) -> None:
    for both in read:
        found = zip(
            both.theirs["assignments"], both.ours["edges_assignment"], strict=True
        )
        for theirs, ours in found:
            # The library calls an unfolded edge U; the format calls it F.
            assert ours == "B" or theirs == ours.replace("F", "U"), both.name
