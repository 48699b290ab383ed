"""Metals that must not touch, and run-off from one on to another."""

from __future__ import annotations

import itertools

import pytest

from layout.rules.metals import CONTACT, RUN_OFF, must_not_drain, must_not_touch
from tests.rules.judged import findings, levels, of_rule

PLAIN = {"back": "flat", "counterflashing": "none", "width": 20}
NAMES = {
    "copper": "copper 20 oz",
    "zinc": "zinc 0.7 mm",
    "steel": "galvanized steel 24 ga",
    "stainless": "stainless 0.5 mm",
    "aluminium": "aluminium 0.032 in",
}
PAIRS = list(itertools.product(NAMES, NAMES))
# Trade values, section 7: pairs kept apart, and what may not drain on what.
APART = {
    frozenset(pair)
    for pair in (
        ("copper", "aluminium"),
        ("copper", "zinc"),
        ("copper", "steel"),
        ("stainless", "steel"),
        ("aluminium", "stainless"),
        ("aluminium", "steel"),
        ("lead", "steel"),
    )
}
DRAINS = {
    ("copper", "zinc"),
    ("copper", "steel"),
    ("copper", "aluminium"),
    ("lead", "steel"),
}


@pytest.mark.parametrize(("new", "old"), PAIRS)
def test_touching_metals(new: str, old: str) -> None:
    found = findings({**PLAIN, "metal": NAMES[new]}, roof_metal=old)
    apart = frozenset((new, old)) in APART
    assert levels(found, "metals that must not touch") == ["blocking"] * apart


@pytest.mark.parametrize(("new", "old"), PAIRS)
def test_run_off_is_judged_both_from_above_and_on_to_below(new: str, old: str) -> None:
    found = findings({**PLAIN, "metal": NAMES[new]}, roof_metal=old)
    wanted = ((new, old) in DRAINS) + ((old, new) in DRAINS)
    assert levels(found, "run-off") == ["warning"] * wanted


def test_nothing_is_said_where_the_roofs_metal_is_not_known() -> None:
    found = findings(PLAIN)
    for rule in ("metals that must not touch", "run-off"):
        assert of_rule(found, rule) == []


def test_contact_has_no_direction_and_run_off_has_one() -> None:
    for pair in CONTACT:
        assert must_not_touch(pair.second, pair.first) is pair
    for pair in RUN_OFF:
        assert must_not_drain(pair.first, pair.second) is pair
        assert must_not_drain(pair.second, pair.first) is None
    assert {frozenset((p.first, p.second)) for p in CONTACT} == APART
    assert {(p.first, p.second) for p in RUN_OFF} == DRAINS


def test_every_pair_has_a_reason_and_a_source() -> None:
    for pair in (*CONTACT, *RUN_OFF):
        assert pair.why and pair.source
