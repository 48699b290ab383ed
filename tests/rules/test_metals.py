"""Metals that must not meet, and how cold the metal may be folded."""

from __future__ import annotations

import itertools
from dataclasses import replace

import pytest

from layout.rules.metals import must_not_drain, must_not_touch, warm_enough
from layout.shop_facts import shop_facts
from tests.rules.judged import findings, levels, of_rule

PLAIN = {"back": "flat", "counterflashing": "none", "width": 20}
NAMES = {
    "copper": "copper 20 oz",
    "zinc": "zinc 0.7 mm",
    "steel": "galvanized steel 24 ga",
    "stainless": "stainless 0.5 mm",
    "aluminium": "aluminium 0.032 in",
}
KEPT = shop_facts("copper 20 oz").pairs
CONTACT = [pair for pair in KEPT if pair.meeting == "contact"]
RUN_OFF = [pair for pair in KEPT if pair.meeting == "run-off"]
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
        assert must_not_touch(KEPT, pair.second, pair.first) is pair
    for pair in RUN_OFF:
        assert must_not_drain(KEPT, pair.first, pair.second) is pair
        assert must_not_drain(KEPT, pair.second, pair.first) is None
    assert {frozenset((p.first, p.second)) for p in CONTACT} == APART
    assert {(p.first, p.second) for p in RUN_OFF} == DRAINS


def test_every_pair_has_a_reason_and_a_source() -> None:
    assert len(CONTACT) + len(RUN_OFF) == len(KEPT)
    for pair in KEPT:
        assert pair.why and pair.source


def test_a_pair_the_shop_set_aside_is_no_longer_judged() -> None:
    changes = {**PLAIN, "metal": NAMES["copper"]}
    kept = [pair for pair in KEPT if pair.second != "zinc"]
    found = findings(changes, roof_metal="zinc", facts={"pairs": tuple(kept)})
    assert of_rule(found, "metals that must not touch") == []
    assert of_rule(found, "run-off") == []


# H.07: zinc producer guidance, 10 °C of the metal (trade value 6.11): at 8 °C warn,
# at 12 °C fold.
@pytest.mark.parametrize(
    ("degrees", "warm"), [(8, False), (9.9, False), (10, True), (12, True)]
)
def test_zinc_is_folded_at_ten_degrees_or_warmer(degrees: float, warm: bool) -> None:
    assert warm_enough(shop_facts("zinc 0.7 mm").metal, degrees) is warm


def test_copper_is_folded_at_any_temperature() -> None:
    assert warm_enough(shop_facts("copper 20 oz").metal, -20)
    assert of_rule(findings(PLAIN), "folding temperature") == []


@pytest.mark.parametrize("name", ["zinc 0.7 mm", "painted steel 24 ga"])
def test_a_set_of_cold_shy_metal_says_how_warm_it_must_be(name: str) -> None:
    (note,) = of_rule(findings({**PLAIN, "metal": name}), "folding temperature")
    assert note.level == "note"
    assert note.message.startswith(f"{name}: fold at 10 °C (50 °F) metal temperature")
    assert note.source == shop_facts(name).metal.fold_source


def test_the_shops_own_bound_is_said_instead() -> None:
    changes = {**PLAIN, "metal": NAMES["zinc"]}
    metal = replace(shop_facts(NAMES["zinc"]).metal, fold_from=7.5)
    (note,) = of_rule(findings(changes, facts={"metal": metal}), "folding temperature")
    assert "7.5 °C (45.5 °F)" in note.message
