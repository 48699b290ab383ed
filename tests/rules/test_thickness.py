"""Metal against the code's least thickness. H rows: code limits as pass or fail."""

from __future__ import annotations

from dataclasses import replace

import pytest

from layout import run
from layout.folding.facts import ShopFacts
from layout.folding.result import Finding
from layout.shop_facts import shop_facts
from tests import elsewhere, sites
from tests.rules.judged import of_rule

RULE = "metal thinner than the code's least"
INCH = 25.4


def said(record: dict[str, object], kind: str, thickness: float) -> list[Finding]:
    """What the rule says where the shop's metal is of that kind and thickness, mm."""

    def changed(metal: str) -> ShopFacts:
        shop = shop_facts(metal)
        return replace(shop, metal=replace(shop.metal, kind=kind, thickness=thickness))

    return of_rule(run.lay_out(record, facts=changed).findings, RULE)


@pytest.mark.parametrize(
    ("kind", "thickness", "warned"),
    [
        # IBC 2018 Table 1507.4.3(1) (trade values 4.24, 4.25, seen).
        pytest.param("aluminium", 0.024 * INCH, False, id="H.05 roll-formed"),
        pytest.param("aluminium", 0.019 * INCH, True, id="H.05 too thin"),
        # 16 oz and 12 oz copper: 0.0216 and 0.0162 in (ASTM B370 nominal).
        pytest.param("copper", 0.0216 * INCH, False, id="H.06 16 oz"),
        pytest.param("copper", 0.0162 * INCH, True, id="H.06 12 oz"),
        # IRC Table R905.10.3, from memory (trade value 4.27).
        pytest.param("zinc", 0.7, False, id="zinc 0.7 mm"),
        pytest.param("zinc", 0.65, True, id="zinc 0.65 mm"),
        # No row of the tables: nothing to hold it to.
        pytest.param("stainless", 0.3, False, id="stainless"),
    ],
)
def test_a_coverings_least_thickness(kind: str, thickness: float, warned: bool) -> None:
    found = said(elsewhere.record("pan-lock-copper-in"), kind, thickness)
    assert [(f.level, f.kind) for f in found] == [("warning", "code")] * warned


@pytest.mark.parametrize(
    ("thickness", "warned"), [(0.019 * INCH, False), (0.018 * INCH, True)]
)
def test_flashing_is_no_26_or_thicker(thickness: float, warned: bool) -> None:
    # IRC R903.2.1, IBC 1503.2.1, from memory (trade value 4.16).
    found = said(sites.record(), "steel", thickness)
    assert [f.level for f in found] == ["warning"] * warned


def test_high_yield_copper_is_named_in_the_source_of_the_finding() -> None:
    # H.06: 12 oz passes where it is high-yield copper, which a record can't say.
    (found,) = said(elsewhere.record("pan-lock-copper-in"), "copper", 0.0162 * INCH)
    assert "12 oz where it is high-yield" in found.source
    assert "0.0162 in" in found.message
