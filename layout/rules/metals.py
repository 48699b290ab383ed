"""Metals that must not touch, and run-off from one on to another."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from layout.folding.result import Finding
from layout.rules.case import Case


class Pair(NamedTuple):
    """Two metals and what their meeting does. Contact has no direction;
    run-off goes from the first on to the second."""

    first: str
    second: str
    why: str
    source: str


CONTACT = (
    Pair(
        "copper",
        "aluminium",
        "aluminium is attacked quickly when wet",
        "Canadian Copper & Brass Development Association, Fundamentals",
    ),
    Pair(
        "copper",
        "zinc",
        "zinc is eaten away beside copper",
        "MIL-STD-889 order of metals; a town code forbids both in one run",
    ),
    Pair(
        "copper",
        "steel",
        "the zinc coat, then the steel, is eaten away beside copper",
        "MIL-STD-889 order of metals; sea-water potentials over 200 mV apart",
    ),
    Pair(
        "stainless",
        "steel",
        "the zinc coat is eaten away beside stainless steel",
        "sea-water potentials over 200 mV apart",
    ),
    Pair(
        "aluminium",
        "stainless",
        "aluminium is to be kept from stainless steel but for small fasteners",
        "NZ Metal Roof and Wall Cladding Code of Practice v3.0, fixing aluminium",
    ),
    Pair(
        "aluminium",
        "steel",
        "aluminium is to be kept from steel",
        "NZ Metal Roof and Wall Cladding Code of Practice v3.0, fixing aluminium",
    ),
    Pair(
        "lead",
        "steel",
        "lead on zinc-coated steel eats the coat",
        "What causes galvanic corrosion on metal roofs",
    ),
)
RUN_OFF = (
    Pair(
        "copper",
        "zinc",
        "water off copper eats zinc; never above it",
        "Not all metals get along; What causes galvanic corrosion on metal roofs",
    ),
    Pair(
        "copper",
        "steel",
        "water off copper eats a zinc coat; never above it",
        "Not all metals get along; What causes galvanic corrosion on metal roofs",
    ),
    Pair(
        "copper",
        "aluminium",
        "water off copper eats bare aluminium; never above it",
        "producers' run-off tables, from memory",
    ),
    Pair(
        "lead",
        "steel",
        "water off lead stains and eats a zinc coat",
        "What causes galvanic corrosion on metal roofs",
    ),
)


def must_not_touch(one: str, other: str) -> Pair | None:
    """The row that keeps two kinds of metal apart, either way round."""
    return next((p for p in CONTACT if {p.first, p.second} == {one, other}), None)


def must_not_drain(above: str, below: str) -> Pair | None:
    """The row against water from one kind running on to the other."""
    return next((p for p in RUN_OFF if (p.first, p.second) == (above, below)), None)


def touching(case: Case) -> Iterator[Finding]:
    """The new metal against the roof it is seamed to."""
    new = case.shop.metal.kind
    pair = must_not_touch(new, case.roof_metal)
    if pair:
        yield Finding(
            "blocking",
            "practice",
            "metals that must not touch",
            f"{case.shop.metal.name} would be seamed to a {case.roof_metal} roof: "
            f"{pair.why}",
            "Use the roof's own metal, or one that may touch it.",
            "",
            pair.source,
        )


def run_off(case: Case) -> Iterator[Finding]:
    """Water from the new metal on to the roof below, and from the roof above."""
    new = case.shop.metal.kind
    for above, below, words in (
        (new, case.roof_metal, "from the new metal on to the roof below"),
        (case.roof_metal, new, "from the roof above on to the new metal"),
    ):
        pair = must_not_drain(above, below)
        if pair:
            yield Finding(
                "warning",
                "practice",
                "run-off",
                f"water runs {words}: {pair.why}",
                "Use the roof's own metal.",
                "",
                pair.source,
            )
