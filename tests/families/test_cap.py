"""Ridge and hip caps: the fold, and where both wings lie."""

from __future__ import annotations

from math import cos, radians, sin, tan

import pytest

from layout.faults import BadRecord
from layout.folding.result import LaidSet
from layout.geometry.space import Vec
from tests import elsewhere
from tests.families import measure

Changes = dict[str, object]


def fold(made: LaidSet) -> float:
    return next(f for f in made.pieces[0].folds if f.what == "ridge").angle


# D.18, D.19: two equal roofs at 90 in plan, arccos(1 / (1 + s2)), computed.
@pytest.mark.parametrize(("pitch", "angle"), [("6:12", 36.87), ("12:12", 60.0)])
def test_a_hip_over_two_like_roofs(pitch: str, angle: float) -> None:
    changes: Changes = {"roof.pitch": pitch, "roof.other_pitch": pitch}
    made = elsewhere.laid("hip-steel-in", changes)
    assert fold(made) == pytest.approx(angle, abs=0.01)
    assert {f.direction for f in made.pieces[0].folds} == {"down"}


def test_a_ridge_folds_by_both_pitches() -> None:
    # The roofs fall to opposite sides: 35 + 28 degrees.
    assert fold(elsewhere.laid("ridge-zinc-mm")) == pytest.approx(63)


def level(pitch: float, place: Vec) -> Vec:
    """A place of the roof frame with x and y level, z plumb."""
    a = radians(pitch)
    return Vec(
        place.x,
        place.y * cos(a) - place.z * sin(a),
        place.y * sin(a) + place.z * cos(a),
    )


def heights(
    made: LaidSet, face: str, pitches: tuple[float, float], plan: float, main: bool
) -> list[float]:
    """How far a face's corners lie over one of the two roofs, square to it, mm.

    Both roofs through the origin: main falls towards -y, the other away from the
    line 180 - plan degrees round from it.
    """
    turn = radians(-90 if main else -90 + 180 - plan)
    falls = Vec(cos(turn), sin(turn), 0)
    slope = tan(radians(pitches[0] if main else pitches[1]))
    found = []
    for piece in made.pieces:
        for place in measure.places(piece.pattern, face):
            p = level(pitches[0], place)
            over = p.z + slope * (p.x * falls.x + p.y * falls.y)
            found.append(over / (1 + slope**2) ** 0.5)
    return found


@pytest.mark.parametrize("plan", [60, 90, 135])
def test_both_wings_of_a_hip_lie_on_their_roofs(plan: float) -> None:
    changes: Changes = {
        "roof.pitch": "30°",
        "roof.other_pitch": "40°",
        "roof.plan_angle": f"{plan}°",
        "cap.leg": None,
    }
    made = elsewhere.laid("hip-steel-in", changes)
    for face, main in (("wing", True), ("other wing", False)):
        found = heights(made, face, (30, 40), plan, main)
        assert found == pytest.approx([0] * len(found), abs=1e-6)


def test_wings_on_legs_stand_over_the_roofs_by_the_leg() -> None:
    changes: Changes = {"roof.pitch": "30°", "roof.other_pitch": "40°"}
    made = elsewhere.laid("hip-steel-in", changes)
    leg = 1.5 * 25.4
    for name, main in (("", True), ("other ", False)):
        over = heights(made, f"{name}wing", (30, 40), 90, main)
        assert over == pytest.approx([leg] * len(over))
        stands = heights(made, f"{name}leg", (30, 40), 90, main)
        assert min(stands) == pytest.approx(0, abs=1e-6)


def test_both_wings_of_a_ridge_lie_on_their_roofs() -> None:
    made = elsewhere.laid("ridge-zinc-mm")
    for face, main in (("wing", True), ("other wing", False)):
        found = heights(made, face, (35, 28), 0, main)
        assert found == pytest.approx([0] * len(found), abs=1e-6)
    assert made.pieces[0].pattern.size()[1] == pytest.approx(2 * (160 + 12.7))


def test_a_hip_climbs_and_its_upper_length_covers() -> None:
    made = elsewhere.laid("hip-steel-in")
    # tan of the hip over two roofs at 90: 1 / sqrt(cot2 a + cot2 b).
    a, b = radians(26.565051), radians(36.869898)
    rise = 1 / (1 / tan(a) ** 2 + 1 / tan(b) ** 2) ** 0.5
    ends = [level(26.565051, p) for p in measure.places(made.pieces[0].pattern, "wing")]
    low, high = ends[0], ends[1]
    run = ((high.x - low.x) ** 2 + (high.y - low.y) ** 2) ** 0.5
    assert (high.z - low.z) / run == pytest.approx(rise, abs=1e-6)
    assert made.joints and all(p.proof.shed for p in made.pieces)


@pytest.mark.parametrize(
    ("name", "angle"), [("hip-steel-in", None), ("ridge-zinc-mm", "90°")]
)
def test_the_plan_angle_belongs_to_a_hip(name: str, angle: str | None) -> None:
    with pytest.raises(BadRecord, match="roof.plan_angle"):
        elsewhere.laid(name, {"roof.plan_angle": angle})
