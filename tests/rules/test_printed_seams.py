"""The roof's seam against the seams that sources print for the metal."""

from __future__ import annotations

import pytest

from layout.folding.seam import Seam
from layout.rules.seams import TAPE, prints
from layout.shop_facts import SEAMS_DELIVERED
from tests.rules.judged import findings, of_rule

RULE = "seam not in the tables"
EUROPEAN = next(s for s in SEAMS_DELIVERED if (s.receiving, s.covering) == (35, 45))
COPPER = "copper 20 oz"


def seam(fold: str, height: str, turn: str) -> dict[str, object]:
    return {
        f"roof.seam.{key}": value
        for key, value in zip(
            ("fold", "height", "turn"), (fold, height, turn), strict=True
        )
    }


@pytest.mark.parametrize(
    ("metal", "fold", "height", "turn"),
    [
        # Copper Roofings, 1920s, p.6: legs 1 1/4 and 1 1/2 in, 1 and 1 1/4 in.
        (COPPER, "double", "1", "1/4"),
        (COPPER, "double", "3/4", "1/4"),
        # Zinc producers' guide and Euro Inox: legs 35 and 45 mm for 25 mm.
        ("zinc 0.7 mm", "double", "25 mm", "10 mm"),
        ("stainless 0.5 mm", "double", "25 mm", "10 mm"),
    ],
)
def test_a_printed_seam_is_passed_over(
    metal: str, fold: str, height: str, turn: str
) -> None:
    found = findings({"metal": metal, **seam(fold, height, turn)})
    assert of_rule(found, RULE) == []


@pytest.mark.parametrize(
    ("metal", "fold", "height", "turn"),
    [
        (COPPER, "double", "1", "3/8"),
        (COPPER, "double", "2", "1/4"),
        (COPPER, "single", "1", "1/4"),
        ("zinc 0.7 mm", "double", "25 mm", "5 mm"),
        ("aluminium 0.032 in", "double", "1", "1/4"),
    ],
)
def test_another_seam_is_a_note_with_the_nearest_rows(
    metal: str, fold: str, height: str, turn: str
) -> None:
    found = findings({"metal": metal, **seam(fold, height, turn)})
    (note,) = of_rule(found, RULE)
    assert note.level == "note" and note.source
    listed = metal != "aluminium 0.032 in" and fold == "double"
    assert ("nearest:" in note.message) == listed


def test_the_note_gives_legs_and_loss_in_the_users_unit() -> None:
    (note,) = of_rule(findings(seam("double", "1", "3/8")), RULE)
    assert "legs 1 3/8 in and 1 3/4 in, 3 1/8 in lost a bay" in note.message
    assert "1 in high, legs 1 1/2 in and 1 3/4 in, by hand" in note.message


def test_legs_are_told_apart_by_what_a_tape_shows() -> None:
    assert prints(EUROPEAN, Seam("double", 25, 10 + TAPE / 2 - 0.01))
    assert not prints(EUROPEAN, Seam("double", 25, 10 + TAPE / 2 + 0.01))
    assert not prints(EUROPEAN, Seam("double", 25 + TAPE + 0.01, 10))
    assert not prints(EUROPEAN, Seam("single", 25, 10))


def test_a_row_without_legs_goes_by_its_loss() -> None:
    machine = next(s for s in SEAMS_DELIVERED if s.made == "machine")
    assert prints(machine, Seam("double", 25, 20 / 3))
    assert not prints(machine, Seam("double", 25, 10))


def test_the_modern_inch_seam_is_printed_with_its_two_turns() -> None:
    # Legs 1 1/2 and 1 3/4 in: Unified Facilities Guide Specification 07600 p.14, the
    # first leg from memory (trade value 2.21). Play is the shop's own and not printed.
    turns = {**seam("double", "1", "1/2"), "roof.seam.first_turn": "1/4"}
    assert of_rule(findings(turns), RULE) == []
    assert of_rule(findings(turns, standards={"seam_play": 3.0}), RULE) == []
    (note,) = of_rule(findings(seam("double", "1", "1/2")), RULE)
    assert "legs 1 1/2 in and 2 in" in note.message
