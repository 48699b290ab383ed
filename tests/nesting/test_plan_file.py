from __future__ import annotations

import json

import pytest

from layout.nesting.place import place
from layout.nesting.plan_file import plan_file
from tests.nesting.sheets import coil, sheet, some

BLANKS = some("A", 2, 400, 900) + some("B", 1, 300, 500)


def test_the_file_says_all_that_the_contract_asks() -> None:
    plan = place(BLANKS, [sheet()])
    found = plan_file(plan)
    assert found["stock"][0] == {
        "id": 1,
        "name": "sheet",
        "form": "sheet",
        "width": 900,
        "length": 2000,
        "cost": 1_800_000,
    }
    assert {(p["mark"], p["copy"]) for p in found["placements"]} == {
        ("A", 1),
        ("A", 2),
        ("B", 1),
    }
    assert set(found["placements"][0]) >= {"stock", "x", "y", "width", "length"}
    assert [c["order"] for c in found["cuts"]] == [*range(1, len(found["cuts"]) + 1)]
    assert json.loads(json.dumps(found)) == found


def test_yield_counts_a_kept_offcut_as_not_used() -> None:
    found = plan_file(place(BLANKS, [sheet()]))
    kept = sum(o["width"] * o["length"] for o in found["offcuts"])
    assert kept > 0
    assert found["metal_used"] == pytest.approx(900 * 2000 - kept)
    blanks = 2 * 400 * 900 + 300 * 500
    assert found["yield"] == pytest.approx(blanks / found["metal_used"], abs=1e-6)
    assert found["yield"] <= found["bound"]["yield"] == 1


def test_same_blanks_same_bytes() -> None:
    files = [json.dumps(plan_file(place(BLANKS, [sheet(), coil()]))) for _ in "12"]
    assert files[0] == files[1]
