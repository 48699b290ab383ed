"""The whole path on one screen: a measured site becomes a proven set.

Takes a site record (a parsed JSON value) and the shop's facts, gives a
LaidSet. The command, the API and the job's page all come through here.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from layout import several, site_record
from layout.families.proven import bend_of, prove
from layout.faults import CannotBuild
from layout.folding.allowance import Rule, as_rule
from layout.folding.facts import ShopFacts
from layout.folding.result import LaidSet
from layout.kinds import ASSEMBLE
from layout.rules.case import Case, LooksRule
from layout.rules.judge import judge
from layout.shop_facts import shop_facts
from shop.units import show_length


def lay_out(
    record: object,
    facts: Callable[[str], ShopFacts] = shop_facts,
    looks: Sequence[LooksRule] = (),
    roof_metal: str = "",
    allowance: Rule | None = None,
) -> LaidSet:
    """Lays out one site. Same record, same facts: same set.

    facts: gives the shop's facts for a metal by its name
    looks: what the client's house demands, as rules that can be checked
    roof_metal: kind of metal of the roof that is there, "" where not known
    allowance: how thickness is allowed for at a fold; None = as the shop does
    Raises BadRecord or CannotBuild. A set some of whose pieces can't be built
    is given with those named in `refused`. A record of several sites gives one
    set, its marks numbered by site.
    """
    if several.has_several(record):
        one = partial(
            lay_out,
            facts=facts,
            looks=looks,
            roof_metal=roof_metal,
            allowance=allowance,
        )
        return several.lay_out(record, one)
    reading = site_record.read(record)
    shop = facts(reading.metal)
    assembly = ASSEMBLE[reading.kind](reading.as_read, reading.units, shop)
    rule = allowance or as_rule(shop.word("allowance"))
    pieces, joints, unproven = prove(assembly, shop, rule)

    def show(size: float) -> str:
        return show_length(size, reading.units)

    refused = (*(fault.said(show) for fault in assembly.refused), *unproven)
    if not pieces:
        raise CannotBuild(list(refused))
    findings = judge(Case(assembly, pieces, joints, shop, looks, show, roof_metal))
    return LaidSet(
        reading.as_read,
        reading.units,
        tuple(pieces),
        tuple(joints),
        tuple(findings),
        assembly.corners,
        assembly.pitch,
        refused,
        rule,
        shop.metal.sides,
        bend_of(assembly, shop).radius,
        shop.brake,
        shop.stocks,
    )
