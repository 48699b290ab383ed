"""Findings on a laid-out site, with the shop's facts changed where asked."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from layout import run
from layout.folding.facts import BrakeFacts, ShopFacts, StockFacts
from layout.folding.result import Finding
from layout.rules.case import LooksRule
from layout.shop_facts import shop_facts
from tests import sites

BIG = BrakeFacts("great brake", 6000.0, 2000.0, 1.0, 180.0, 0.1)
"""A brake that folds anything, so that only the rule looked at can speak."""


def findings(
    changes: Mapping[str, object] | None = None,
    *,
    standards: Mapping[str, float | str] | None = None,
    brake: BrakeFacts = BIG,
    stocks: tuple[StockFacts, ...] = (),
    looks: Sequence[LooksRule] = (),
    roof_metal: str = "",
    facts: Mapping[str, Any] | None = None,
) -> list[Finding]:
    """All findings on the plain site with changes.

    facts: other facts of the shop to put in place of its own
    """

    def changed(metal: str) -> ShopFacts:
        shop = shop_facts(metal)
        own = {**shop.standards, **(standards or {})}
        own_facts = {"brake": brake, "stocks": stocks, "standards": own}
        return replace(shop, **{**own_facts, **(facts or {})})

    laid = run.lay_out(
        sites.record(changes),
        facts=changed,
        looks=looks,
        roof_metal=roof_metal,
        allowance="none",
    )
    return list(laid.findings)


def of_rule(found: Sequence[Finding], rule: str) -> list[Finding]:
    """The findings of one rule, in order."""
    return [finding for finding in found if finding.rule == rule]


def levels(found: Sequence[Finding], rule: str) -> list[str]:
    return [finding.level for finding in of_rule(found, rule)]
