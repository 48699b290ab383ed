"""How high, how far on the roof, how much overlap: covering against water."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from layout.families.apron import ear
from layout.families.counterflashing import lap_over
from layout.folding.result import Finding
from layout.rules.case import Case


class Upstand(NamedTuple):
    """One source's least height of metal up a wall, mm."""

    name: str
    least: float
    source: str


UPSTANDS = (
    Upstand(
        "copper handbook stepped",
        101.6,
        "Copper in Architecture Design Handbook, section 9.8: base flashing 4 in",
    ),
    Upstand(
        "copper handbook runner",
        203.2,
        "Copper in Architecture Design Handbook, section 9.8: continuous runner 8 in",
    ),
    Upstand(
        "federal guide",
        203.2,
        "Unified Facilities Guide Specification 07600, p.17: 8 in",
    ),
    Upstand(
        "sheet metal manual",
        254.0,
        "SMACNA Architectural Sheet Metal Manual, 5th ed., as quoted: 10 in",
    ),
    Upstand(
        "NZ code of practice",
        100.0,
        "NZ Metal Roof and Wall Cladding Code of Practice v3.0, apron: 100 mm cover",
    ),
    Upstand(
        "UK practice",
        150.0,
        "UK abutment practice, 150 mm (75 mm is cited as the least): the sources "
        "disagree",
    ),
)
ONTO_ROOF = 101.6
"""Base flashing onto the roof at least 4 in: Copper in Architecture Design
Handbook, section 9.8."""
LAP = 101.6
"""Cap flashing covers the base flashing by 4 in: the same, section 9.8; SMACNA
manual as quoted."""


def upstands(case: Case) -> Iterator[Finding]:
    """Each upstand against the source that binds, the others as a note."""
    site = case.site
    binding = case.shop.word("upstand_rule")
    for side, height, marks in (
        ("front", site.upstand_front, "A"),
        ("side", site.upstand_side, "PL, PR"),
        ("back", site.upstand_back, _backs(case)),
    ):
        short = [rule for rule in UPSTANDS if height < rule.least - 1e-6]
        others = [rule for rule in short if rule.name != binding]
        for rule in short:
            if rule.name == binding:
                yield Finding(
                    "warning",
                    "practice",
                    "upstand height",
                    f"{side} upstand {case.show(height)}: "
                    f"{case.show(rule.least - height)} lower than the least the "
                    f"shop holds to, {case.show(rule.least)}",
                    "Raise it, or choose another source as the shop's rule.",
                    marks,
                    rule.source,
                )
        if others:
            listed = "; ".join(f"{r.name} {case.show(r.least)}" for r in others)
            yield Finding(
                "note",
                "practice",
                "upstand height elsewhere",
                f"{side} upstand {case.show(height)} is lower than other sources "
                f"want: {listed}",
                "Ask whoever checks the work which one binds.",
                marks,
                "; ".join(rule.source for rule in others),
            )


def onto_the_roof(case: Case) -> Iterator[Finding]:
    """How far apron, ears and side pans lie on the roof."""
    site = case.site
    for what, size, mark in (
        ("the apron reaches down the slope", site.below, "A"),
        ("the apron's left ear is", ear(site.left_pan, case.shop), "A"),
        ("the apron's right ear is", ear(site.right_pan, case.shop), "A"),
        ("the left side pan is", site.left_pan, "PL"),
        ("the right side pan is", site.right_pan, "PR"),
    ):
        if size < ONTO_ROOF - 1e-6:
            yield Finding(
                "warning",
                "practice",
                "metal onto the roof",
                f"{what} {case.show(size)}; at least {case.show(ONTO_ROOF)} of metal "
                "should lie on the roof",
                "Take more metal down the slope, or open the next roof pan.",
                mark,
                "Copper in Architecture Design Handbook, section 9.8: 4 in",
            )


def counterflashing_laps(case: Case) -> Iterator[Finding]:
    """Lap over the upstand, and the groove against the upstand's top."""
    site = case.site
    if site.counterflashing == "none":
        yield Finding(
            "note",
            "practice",
            "no counterflashing",
            "no counterflashing is laid out: the upstands' tops stay open",
            "See that the wall's own covering laps them by 4 in.",
            "",
            "Copper in Architecture Design Handbook, section 9.8: 4 in",
        )
        return
    for side, height in (
        ("front", site.upstand_front),
        ("side", site.upstand_side),
        ("back", site.upstand_back),
    ):
        lap = lap_over(height, case.shop)
        if lap < LAP - 1e-6:
            yield Finding(
                "warning",
                "practice",
                "counterflashing lap",
                f"{side}: counterflashing covers the upstand by {case.show(lap)}, "
                f"less than {case.show(LAP)}; it must stay clear of the roof",
                "Raise the upstand.",
                "",
                "Copper in Architecture Design Handbook, section 9.8: 4 in",
            )
        if site.reglet < height:
            yield Finding(
                "blocking",
                "practice",
                "reglet below upstand",
                f"{side}: the groove {case.show(site.reglet)} over the crease lies "
                f"below the upstand's top at {case.show(height)}",
                "Cut the groove higher or lower the upstand.",
                "",
                "fold geometry",
            )


def _backs(case: Case) -> str:
    return ", ".join(
        p.mark for p in case.pieces if p.family in ("back_pan", "saddle_half")
    )
