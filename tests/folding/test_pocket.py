"""The pocket (geometry, section 3): by the rule, and folded up from one sheet.

Each row of the table is built as a flat sheet of five faces round one corner
point and folded by its creases alone; scipy's rotations stand beside ours.
"""

from __future__ import annotations

from math import cos, degrees, radians, sin

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from layout.folding.corner import NeedsSeam, Pocket, base_corner

# alpha, fold 1, fold 2, beta 1, beta 2, spare: "Checked by folding".
TABLE = [
    (90, 90, 90, 90, 90, 90),
    (90, 90, 56.310, 123.690, 90, 56.310),
    (90, 90, 123.690, 56.310, 90, 123.690),
    (80, 90, 90, 90, 90, 100),
    (120, 90, 90, 90, 90, 60),
    (90, 100, 80, 99.851, 80.149, 90),
]


@pytest.mark.parametrize("row", TABLE)
def test_the_table_of_pockets(row: tuple[float, ...]) -> None:
    alpha, fold1, fold2, beta1, beta2, spare = row
    found = base_corner(alpha, fold1, fold2)
    assert found.beta1 == pytest.approx(beta1, abs=6e-4)
    assert found.beta2 == pytest.approx(beta2, abs=6e-4)
    assert found.spare == pytest.approx(spare, abs=6e-4)


@pytest.mark.parametrize("row", TABLE)
def test_every_row_folds_up_without_a_gap(row: tuple[float, ...]) -> None:
    alpha, fold1, fold2, *_ = row
    assert gap(alpha, fold1, fold2, base_corner(alpha, fold1, fold2)) < 1e-12


@settings(max_examples=60, deadline=None, derandomize=True, database=None)
@given(
    alpha=st.integers(40, 140),
    fold1=st.integers(20, 140),
    fold2=st.integers(20, 140),
)
def test_any_corner_with_metal_enough_folds_up_without_a_gap(
    alpha: int, fold1: int, fold2: int
) -> None:
    try:
        found = base_corner(alpha, fold1, fold2)
    except NeedsSeam:
        assume(False)
        raise
    assert found.beta1 + found.beta2 + found.spare + alpha == pytest.approx(360)
    assert gap(alpha, fold1, fold2, found) < 1e-9


@pytest.mark.parametrize("part", ["beta1", "beta2"])
def test_a_sector_off_by_a_tenth_of_a_degree_leaves_a_gap(part: str) -> None:
    row = TABLE[5]
    found = base_corner(*row[:3])
    off = {"beta1": found.beta1, "beta2": found.beta2}
    off[part] += 0.1
    spare = 360 - row[0] - off["beta1"] - off["beta2"]
    wrong = Pocket(off["beta1"], off["beta2"], spare, found.shared)
    assert gap(*row[:3], wrong) > 1e-3


def gap(alpha: float, fold1: float, fold2: float, made: Pocket) -> float:
    """How far flange 2 lands from flange 1's edge, for edges of length 1.

    The flat round P: base from 0 to alpha, flange 2 on its edge at alpha, the
    pocket's two halves, flange 1 back to 360. Each is carried by scipy's
    rotations about its crease; the pocket closes on itself by 180 degrees.
    """
    edge1, edge2 = _at(0), _at(alpha)
    # Flange 1 hangs below edge 1, flange 2 beyond edge 2; both fold up.
    turn1 = Rotation.from_rotvec(-radians(fold1) * edge1)
    turn2 = Rotation.from_rotvec(radians(fold2) * edge2)
    own_edge1 = turn1.apply(_at(-made.beta1))
    own_edge2 = turn2.apply(_at(alpha + made.beta2))
    # The pocket: halves of spare/2, mirrored on each other by the closed fold.
    middle_flat = _at(-made.beta1 - made.spare / 2)
    middle = turn1.apply(middle_flat)
    closed = Rotation.from_rotvec(radians(180) * middle) * turn1
    back = closed.apply(_at(alpha + made.beta2))
    return float(
        max(np.linalg.norm(own_edge2 - own_edge1), np.linalg.norm(back - own_edge1))
    )


def _at(angle: float) -> np.ndarray:
    return np.array([cos(radians(angle)), sin(radians(angle)), 0.0])


@pytest.mark.parametrize("alpha", [200, 250, 300])
def test_an_outside_corner_is_refused_with_the_metal_it_lacks(alpha: float) -> None:
    with pytest.raises(NeedsSeam, match=r"lacks \d+\.\d\d° of metal.*seam"):
        base_corner(alpha, 90, 90)


def test_flanges_that_end_in_one_plane_share_the_bisector() -> None:
    # Section 3: a leg strip of 180 degrees closed to 90 gives 45, 45, spare 90.
    flat = base_corner(90, 0.0, 0.0)
    assert flat.beta1 == pytest.approx(flat.beta2)


def test_metal_left_over_runs_out_as_the_corner_opens_to_a_straight_edge() -> None:
    spare = [base_corner(alpha, 90, 90).spare for alpha in (90, 120, 150, 179)]
    assert spare == pytest.approx([90, 60, 30, 1])


def test_the_shared_line_lies_in_both_flanges() -> None:
    found = base_corner(90, 100, 80)
    shared = np.array(found.shared)
    for edge, turn, beta in (
        (_at(0), -100, found.beta1),
        (_at(90), 80, found.beta2),
    ):
        sign = -1 if turn < 0 else 1
        flat = _at(degrees(np.arctan2(edge[1], edge[0])) + sign * beta)
        there = Rotation.from_rotvec(radians(turn) * edge).apply(flat)
        assert there == pytest.approx(shared, abs=1e-9)
