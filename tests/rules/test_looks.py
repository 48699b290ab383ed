"""The client's demands of the looks, judged on what is laid out."""

from __future__ import annotations

import pytest

from layout.rules.case import LooksRule
from tests.rules.judged import findings, of_rule
from tests.sites import INCH

BROKEN = "looks rule broken"


def demand(kind: str, words: str, number: float | None = None) -> LooksRule:
    return LooksRule(kind, words, number, "the client", True)


def broken(rule: LooksRule, changes: dict[str, object] | None = None) -> list[str]:
    plain = {"back": "flat", "width": 20, **(changes or {})}
    return [f.message for f in of_rule(findings(plain, looks=[rule]), BROKEN)]


@pytest.mark.parametrize(
    ("asked", "said"), [(25.4, 0), (26.99, 0), (23.81, 0), (27.01, 1), (23.79, 1)]
)
def test_seams_are_matched_to_a_sixteenth(asked: float, said: int) -> None:
    assert len(broken(demand("seam_height", "seams as they are", asked))) == said


def test_a_side_pan_wider_than_the_seams_stand_apart() -> None:
    # The wider side pan is 13 5/8 in.
    asked = demand("seam_spacing", "seams in line", 13.625 * INCH)
    narrow = demand("seam_spacing", "seams in line", 13.5 * INCH)
    assert broken(asked) == []
    assert len(broken(narrow)) == 1


def test_nothing_stands_higher_than_was_asked() -> None:
    # The groove at 9 in is the highest line on the wall.
    assert broken(demand("highest_upstand", "low", 9 * INCH)) == []
    assert len(broken(demand("highest_upstand", "low", 8.9 * INCH))) == 1
    low = demand("highest_upstand", "low", 8.5 * INCH)
    assert broken(low, {"counterflashing": "none"}) == []


def test_another_metal_than_was_asked() -> None:
    assert broken(demand("metal", "copper, as the roof")) == []
    assert len(broken(demand("metal", "zinc, as the dormer"))) == 1


def test_another_counterflashing_than_was_asked() -> None:
    stepped = demand("counterflashing", "stepped to the courses")
    assert broken(stepped) == []
    assert len(broken(stepped, {"counterflashing": "level and raked"})) == 1
    raked = demand("counterflashing", "raked, one line")
    assert len(broken(raked)) == 1


def test_a_demand_that_can_not_be_checked_is_left_to_people() -> None:
    assert broken(demand("other", "no shine towards the street")) == []


def test_who_asked_and_whether_it_was_agreed_is_said() -> None:
    rule = LooksRule("seam_height", "match the porch", 38.0, "Ada, owner", False)
    found = of_rule(findings({"back": "flat", "width": 20}, looks=[rule]), BROKEN)
    assert [f.kind for f in found] == ["client"]
    assert "asked for, Ada, owner" in found[0].message
    assert "match the porch" in found[0].message


@pytest.mark.parametrize(
    ("fold", "height", "said"),
    [("double", 25.4, 0), ("double", None, 0), ("single", None, 1), ("", 38.1, 1)],
)
def test_legs_that_do_not_match_the_booked_seam_are_told(
    fold: str, height: float | None, said: int
) -> None:
    booked = LooksRule("present_seam", fold, height, "the booking", True)
    plain = {"back": "flat", "width": 20}
    found = of_rule(findings(plain, looks=[booked]), "seam does not match the roof's")
    assert len(found) == said
    assert of_rule(findings(plain, looks=[booked]), BROKEN) == []
