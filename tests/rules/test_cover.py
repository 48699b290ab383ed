"""Heights and laps against water."""

from __future__ import annotations

import pytest

from layout.rules.cover import UPSTANDS
from tests.rules.judged import findings, levels, of_rule
from tests.sites import INCH

PLAIN = {"counterflashing": "none", "back": "flat", "width": 20}

# Source by source: trade values 1.60, 1.66, 4.30, 4.36, 4.46 (seen); 4.45 (from
# memory). Heights in mm.
LEAST = {
    "copper handbook stepped": 4 * INCH,
    "copper handbook runner": 8 * INCH,
    "federal guide": 8 * INCH,
    "sheet metal manual": 10 * INCH,
    "NZ code of practice": 100,
    "UK practice": 150,
}


def test_every_source_of_upstand_heights_is_in_the_table() -> None:
    assert {rule.name: rule.least for rule in UPSTANDS} == LEAST


@pytest.mark.parametrize("name", LEAST)
@pytest.mark.parametrize("side", ["front", "side", "back"])
def test_the_chosen_source_binds_at_its_edge(name: str, side: str) -> None:
    least = LEAST[name]
    rule = {"upstand_rule": name}
    other = {f"walls.upstand_{s}": "11" for s in ("front", "side", "back")}
    at = {**PLAIN, **other, f"walls.upstand_{side}": f"{least} mm"}
    under = {**PLAIN, **other, f"walls.upstand_{side}": f"{least - 0.1:.2f} mm"}
    assert of_rule(findings(at, standards=rule), "upstand height") == []
    found = of_rule(findings(under, standards=rule), "upstand height")
    assert [f.level for f in found] == ["warning"]
    assert found[0].message.startswith(side)


def test_sources_that_do_not_bind_are_noted_with_their_figures() -> None:
    found = of_rule(findings({**PLAIN, "upstands": "6"}), "upstand height elsewhere")
    assert [f.level for f in found] == ["note"] * 3
    for note in found:
        assert "sheet metal manual 10 in" in note.message
        assert "SMACNA" in note.source


def test_no_source_speaks_of_an_upstand_of_ten_inches() -> None:
    found = findings({**PLAIN, "upstands": "10"})
    assert of_rule(found, "upstand height elsewhere") == []


@pytest.mark.parametrize(
    ("field", "at", "under"),
    [
        ("roof.below", "4", "3 15/16"),
        ("roof.left_pan", "5", "4 15/16"),
        ("roof.right_pan", "5", "4 15/16"),
    ],
)
def test_four_inches_of_metal_lie_on_the_roof(field: str, at: str, under: str) -> None:
    # Copper handbook, section 9.8 (trade value 1.61, seen). A pan of 5 in leaves
    # the apron's ear 4 in: an inch is kept clear of the seam.
    assert of_rule(findings({**PLAIN, field: at}), "metal onto the roof") == []
    found = of_rule(findings({**PLAIN, field: under}), "metal onto the roof")
    assert [f.level for f in found] == ["warning"]


RAKED = {"counterflashing": "level and raked", "back": "flat", "width": 20}


def test_counterflashing_covers_by_four_inches() -> None:
    # Copper handbook, section 9.8; SMACNA (trade values 1.64, 4.37, seen). An
    # upstand of 5 in leaves 4 in of lap, an inch clear of the roof.
    assert of_rule(findings({**RAKED, "upstands": "5"}), "counterflashing lap") == []
    low = findings({**RAKED, "upstands": "4 15/16"})
    assert levels(low, "counterflashing lap") == ["warning"] * 3


def test_a_groove_below_the_upstands_top_is_refused() -> None:
    at = findings({**RAKED, "upstands": "6", "walls.reglet": "6"})
    assert of_rule(at, "reglet below upstand") == []
    low = findings({**RAKED, "upstands": "6", "walls.reglet": "5 15/16"})
    assert levels(low, "reglet below upstand") == ["blocking"] * 3


def test_upstands_left_open_are_noted() -> None:
    assert levels(findings(PLAIN), "no counterflashing") == ["note"]
    assert of_rule(findings(RAKED), "no counterflashing") == []
