"""Flashing across a change of pitch: its fold, its edges, its lengths."""

from __future__ import annotations

import pytest

from layout.faults import BadRecord
from tests import elsewhere
from tests.families import measure

Changes = dict[str, object]
NAME = "pitch-change-aluminium-in"


# atan(x / 12) of both pitches (worked examples C.01 to C.05): 4:12 18.43, 12:12 45,
# 8:12 33.69, 3:12 14.04, computed.
@pytest.mark.parametrize(
    ("lower", "upper", "fold"),
    [("4:12", "12:12", 26.57), ("3:12", "8:12", 19.65), ("12:12", "4:12", -26.57)],
)
def test_the_fold_is_the_difference(lower: str, upper: str, fold: float) -> None:
    made = elsewhere.laid(NAME, {"roof.pitch": lower, "roof.upper_pitch": upper})
    found = measure.fold_between(made.pieces[0].pattern, "lower", "upper")
    assert found == pytest.approx(fold, abs=0.01)


def test_edges_add_their_hem_and_lock() -> None:
    # 5 + 6 in, hem 1/2 in (Copper Flashings p.8), lock 3/4 in (CDA section 8.5).
    piece = elsewhere.laid(NAME).pieces[0]
    assert piece.pattern.size()[1] / 25.4 == pytest.approx(5 + 6 + 0.5 + 0.75)
    plain: Changes = {
        "pitch_change.lower_edge": "plain",
        "pitch_change.upper_edge": "plain",
    }
    bare = elsewhere.laid(NAME, plain).pieces[0]
    assert bare.pattern.size()[1] / 25.4 == pytest.approx(11)
    assert len(bare.folds) == 1


def test_the_lower_leg_lies_on_the_lower_roof() -> None:
    made = elsewhere.laid(NAME)
    for piece in made.pieces:
        ring = measure.places(piece.pattern, "lower")
        assert all(abs(p.z) < 1e-6 for p in ring)
        assert {round(p.y / 25.4, 6) for p in ring} == {-5, 0}


def test_a_long_aluminium_run_has_an_expansion_joint() -> None:
    # B.14's interval: UFGS 07600, p.22: aluminium 32 ft; 34 ft need one.
    made = elsewhere.laid(NAME)
    found = next(f for f in made.findings if f.rule == "expansion joints")
    assert "384 in" in found.message
    total = sum(p.quantity * p.pattern.size()[0] for p in made.pieces) / 25.4
    laps = sum(p.quantity for p in made.pieces) - 1
    assert total == pytest.approx(34 * 12 + 4 * laps)


def test_the_kind_may_be_written_as_it_is_said() -> None:
    record = elsewhere.record(NAME)
    record["pitch change"] = record.pop("pitch_change")
    assert elsewhere.sites.laid(record).pieces[0].family == "pitch_change"


def test_two_like_pitches_are_a_fault() -> None:
    with pytest.raises(BadRecord, match="roof.upper_pitch"):
        elsewhere.laid(NAME, {"roof.upper_pitch": "4:12"})
