"""The shop's own brake and stock."""

from __future__ import annotations

from dataclasses import replace

import pytest

from layout.folding.facts import StockFacts
from tests.rules.judged import BIG, findings, levels, of_rule
from tests.sites import INCH

PLAIN = {"back": "flat", "counterflashing": "none", "width": 20}


HAND = "fold left to hand tools"


def test_the_brakes_smallest_flange_is_folded_and_less_is_not() -> None:
    # The narrowest edge of the plain site is the hem, 1/2 in; half a millimetre
    # less than the brake wants is let pass.
    at = findings(PLAIN, brake=replace(BIG, smallest_flange=0.5 * INCH))
    over = findings(PLAIN, brake=replace(BIG, smallest_flange=0.5 * INCH + 0.6))
    assert not [f for f in of_rule(at, HAND) if "smaller" in f.message]
    found = [f for f in of_rule(over, HAND) if "smaller" in f.message]
    assert found and "hem" in found[0].message
    assert {f.level for f in found} == {"warning"}
    assert "A" in found[0].where.split(", ")


def test_folds_closed_by_hand_are_no_matter_of_the_brake() -> None:
    found = of_rule(findings({}, brake=replace(BIG, smallest_flange=10.0)), HAND)
    assert all("pocket" not in f.message for f in found)


@pytest.mark.parametrize(("angle", "said"), [(115.1, 0), (114.9, 1)])
def test_the_leafs_largest_angle(angle: float, said: int) -> None:
    # A flat back at 25 degrees is folded 115 degrees.
    found = findings({**PLAIN, "pitch": "25°"}, brake=replace(BIG, largest_angle=angle))
    assert sum("leaf swings" in f.message for f in of_rule(found, HAND)) == said


def test_closed_hems_are_crushed_not_swung() -> None:
    found = findings({**PLAIN, "pitch": "25°"}, brake=replace(BIG, largest_angle=120))
    assert not [f for f in of_rule(found, HAND) if "hem" in f.message]


def test_a_fold_longer_than_the_brake_is_refused() -> None:
    # The longest fold is the back pan's, from seam to seam: 20 + 11 1/4 + 13 5/8.
    longest = (20 + 11.25 + 13.625) * INCH
    at = findings(PLAIN, brake=replace(BIG, length=longest + 0.01))
    over = findings(PLAIN, brake=replace(BIG, length=longest - 0.1))
    assert of_rule(at, "piece longer than the brake") == []
    found = of_rule(over, "piece longer than the brake")
    assert [(f.level, f.where) for f in found] == [("blocking", "B")]


def stock(width: float, length: float) -> tuple[StockFacts, ...]:
    return (StockFacts("copper 20 oz", "sheet", width, length),)


def test_a_blank_larger_than_any_stock_is_refused() -> None:
    found = findings(PLAIN, stocks=stock(20 * INCH, 120 * INCH))
    large = of_rule(found, "piece larger than the stock")
    assert "B" in [f.where for f in large]
    assert {f.level for f in large} == {"blocking"}


def test_a_blank_may_be_turned_on_its_stock() -> None:
    assert (
        levels(
            findings(PLAIN, stocks=stock(60 * INCH, 120 * INCH)),
            "piece larger than the stock",
        )
        == []
    )
    assert (
        levels(
            findings(PLAIN, stocks=stock(120 * INCH, 60 * INCH)),
            "piece larger than the stock",
        )
        == []
    )


def test_coil_is_cut_to_any_length_but_has_its_width() -> None:
    coil = findings(PLAIN, stocks=stock(60 * INCH, 0.0))
    narrow = findings(PLAIN, stocks=stock(10 * INCH, 0.0))
    assert of_rule(coil, "piece larger than the stock") == []
    assert of_rule(narrow, "piece larger than the stock") != []


def test_a_shop_that_keeps_no_stock_is_not_warned() -> None:
    assert of_rule(findings(PLAIN), "piece larger than the stock") == []


def test_a_brake_sharper_than_the_metal_stands_is_noted() -> None:
    # Zinc: 1.75 mm inside radius (producers' manuals, from memory, 6.14).
    zinc = {**PLAIN, "metal": "zinc 0.7 mm"}
    rule = "brake sharper than the metal stands"
    assert levels(findings(zinc, brake=replace(BIG, radius=1.7)), rule) == ["note"]
    assert levels(findings(zinc, brake=replace(BIG, radius=1.75)), rule) == []
