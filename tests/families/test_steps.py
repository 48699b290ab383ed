"""Step flashing: size, count, lap and the rules over them."""

from __future__ import annotations

import pytest

from layout.faults import BadRecord
from tests import elsewhere
from tests.families import measure

INCH = 25.4


def test_a_step_is_two_inches_longer_than_the_exposure() -> None:
    # NRCA practice, from memory (trade value 4.18): exposure + 2 in.
    step = elsewhere.laid("steps-copper-in").pieces[0]
    # Developed width by hand: 5 in up and 4 1/2 in out.
    assert [s / INCH for s in step.pattern.size()] == pytest.approx([9.5, 7])
    assert measure.fold_between(step.pattern, "base", "upstand") == pytest.approx(90)


# A step for each course: slope over exposure, rounded up.
@pytest.mark.parametrize(
    ("slope", "exposure", "count"),
    [("14'", "5", 34), ("10'", "5", 24), ("10' 1/4\"", "5", 25), ("4", "5", 1)],
)
def test_there_is_a_step_for_each_course(slope: str, exposure: str, count: int) -> None:
    changes: dict[str, object] = {
        "steps.slope_length": slope,
        "steps.exposure": exposure,
    }
    made = elsewhere.laid("steps-copper-in", changes)
    assert made.pieces[0].quantity == count
    # The row covers the whole slope, and the one below reaches under each.
    step = made.pieces[0].pattern.size()[1] / INCH
    feet = {"14'": 168.0, "10'": 120.0, "10' 1/4\"": 120.25, "4": 4.0}[slope]
    assert (count - 1) * float(exposure) + step >= feet + 2 - 1e-6


def test_each_step_laps_the_one_below() -> None:
    made = elsewhere.laid("steps-copper-in", {"steps.lap": "3"})
    assert [j.promised / INCH for j in made.joints] == pytest.approx([3])
    assert made.pieces[0].proof.shed
    assert made.pieces[0].pattern.size()[1] / INCH == pytest.approx(8)


def test_a_small_step_breaks_the_code() -> None:
    # IRC R905.2.8.3, from memory: 4 by 4 in; CDA section 9.8: 4 in each way.
    for field in ("steps.up_wall", "steps.onto_roof"):
        short = elsewhere.laid("steps-copper-in", {field: "3 15/16"})
        assert "step flashing size" in elsewhere.rules_found(short)
        enough = elsewhere.laid("steps-copper-in", {field: "4"})
        assert "step flashing size" not in elsewhere.rules_found(enough)


@pytest.mark.parametrize(
    ("lap", "levels"),
    [("1 3/4", ["warning", "note"]), ("2", ["note"]), ("3", [])],
)
def test_the_sources_differ_about_the_lap(lap: str, levels: list[str]) -> None:
    # NRCA practice 2 in, from memory; UFGS 07600 p.17: 3 in.
    made = elsewhere.laid("steps-copper-in", {"steps.lap": lap})
    found = [f.level for f in made.findings if f.rule == "step flashing lap"]
    assert found == levels


def test_hands_are_mirror_images() -> None:
    right = elsewhere.laid("steps-copper-in").pieces[0]
    left = elsewhere.laid("steps-copper-in", {"steps.roof_side": "left"}).pieces[0]
    assert (right.hand, left.hand) == ("right", "left")
    assert left.area == pytest.approx(right.area)
    assert {round(-p.x, 6) + 0.0 for p in left.pattern.folded} == {
        round(p.x, 6) + 0.0 for p in right.pattern.folded
    }


def test_thousands_of_courses_are_a_slip_of_the_unit() -> None:
    with pytest.raises(BadRecord, match="steps.exposure"):
        elsewhere.laid("steps-copper-in", {"steps.exposure": "1 mm", "units": "in"})
