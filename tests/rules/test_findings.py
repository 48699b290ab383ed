"""What every finding says, whatever the rule."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from layout.folding.result import Finding
from layout.rules.case import LooksRule
from layout.rules.judge import LEVELS
from tests import sites
from tests.random_sites import on_random_sites
from tests.rules.judged import BIG, findings


def whole(finding: Finding) -> bool:
    return bool(
        finding.rule
        and finding.message
        and finding.remedy.endswith(".")
        and finding.source
        and finding.level in LEVELS
        and finding.kind in ("code", "practice", "shop", "client")
    )


@on_random_sites
def test_every_finding_has_message_remedy_and_source(site: Any) -> None:
    for finding in sites.laid(site).findings:
        assert whole(finding), finding


@on_random_sites
def test_pieces_named_by_findings_are_in_the_set(site: Any) -> None:
    made = sites.laid(site)
    marks = {piece.mark for piece in made.pieces} | {""}
    built = not made.refused
    for finding in made.findings:
        named = set(finding.where.split(", "))
        assert named <= marks or not built, finding


def test_blocking_findings_come_first_and_code_is_told_from_practice() -> None:
    found = findings(
        {
            "back": "flat",
            "width": 48,
            "pitch": "2:12",
            "walls.reglet": "5",
            "roof.seam.height": "3/4",
        },
        brake=replace(BIG, length=500, smallest_flange=20),
        looks=[LooksRule("seam_height", "as it is", 40.0, "the client", True)],
        roof_metal="zinc",
    )
    order = [LEVELS.index(f.level) for f in found]
    assert order == sorted(order)
    assert {f.kind for f in found} == {"code", "practice", "shop", "client"}
    assert all(map(whole, found))
    assert len({f.rule for f in found}) >= 10
