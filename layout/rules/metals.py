"""Metals that must not meet, and how cold the metal may be folded."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from layout.folding.facts import MetalFacts, PairFacts
from layout.folding.result import Finding
from layout.rules.case import Case


def must_not_touch(
    pairs: Iterable[PairFacts], one: str, other: str
) -> PairFacts | None:
    """The row that keeps two kinds of metal apart, either way round."""
    both = {one, other}
    return next(
        (p for p in pairs if p.meeting == "contact" and {p.first, p.second} == both),
        None,
    )


def must_not_drain(
    pairs: Iterable[PairFacts], above: str, below: str
) -> PairFacts | None:
    """The row against water from one kind running on to the other."""
    ways = (above, below)
    return next(
        (p for p in pairs if p.meeting == "run-off" and (p.first, p.second) == ways),
        None,
    )


def warm_enough(metal: MetalFacts, degrees: float) -> bool:
    """True when metal of that temperature (°C, the metal's own) may be folded.

    Example: zinc at 8 -> False, at 10 or 12 -> True (zinc producers' guide).
    """
    return metal.fold_from is None or degrees >= metal.fold_from


def folding_temperature(case: Case) -> Iterator[Finding]:
    """How warm the metal must be at the bench and on the roof."""
    metal = case.shop.metal
    if metal.fold_from is None:
        return
    warmth = f"{metal.fold_from:g} °C ({metal.fold_from * 9 / 5 + 32:g} °F)"
    yield Finding(
        "note",
        "practice",
        "folding temperature",
        f"{metal.name}: fold at {warmth} metal temperature or warmer; the metal "
        "counts, not the air",
        "Store it inside before folding, and measure the metal on a cold day.",
        "",
        metal.fold_source,
    )


def touching(case: Case) -> Iterator[Finding]:
    """The new metal against the roof it is seamed to."""
    new = case.shop.metal.kind
    pair = must_not_touch(case.shop.pairs, new, case.roof_metal)
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
        pair = must_not_drain(case.shop.pairs, above, below)
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
