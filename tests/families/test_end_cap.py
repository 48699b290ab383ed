"""End caps: the plate, its flanges and the pockets at its inside corners."""

from __future__ import annotations

from typing import Any

import pytest

from layout.faults import BadRecord, CannotBuild
from tests import elsewhere
from tests.families import measure


def section(*parts: float) -> list[dict[str, Any]]:
    """Legs and folds in turn; a fold below zero turns down."""
    return [
        {"fold": str(abs(part)), "direction": "up" if part > 0 else "down"}
        if i % 2
        else {"leg": str(part)}
        for i, part in enumerate(parts)
    ]


def test_a_square_channel_by_hand() -> None:
    # Plate 4 x 3 with flanges of 1 on three sides: area 12 + 11, and two whole
    # corners of 1 x 1 kept as pockets: 25. Geometry, section 3: 90, 90, 90 -> 90.
    changes: dict[str, object] = {
        "end_cap.section": section(3, 90, 4, 90, 3),
        "end_cap.flange": "1",
    }
    cap = elsewhere.laid("end-cap-copper-in", changes).pieces[0]
    assert cap.area / 25.4**2 == pytest.approx(3 * 4 + 3 + 4 + 3 + 2)
    assert sorted(size / 25.4 for size in cap.pattern.size()) == pytest.approx([4, 6])


def test_the_spare_metal_at_a_corner_is_the_sections_fold() -> None:
    # Flanges square to the plate: spare = 360 - (180 - fold) - 90 - 90 = fold.
    cap = elsewhere.laid("end-cap-copper-in").pieces[0]
    pockets = [f for f in cap.pattern.faces if f.role == "pocket"]
    assert len(pockets) == 4
    folds = sorted(f.angle for f in cap.folds if f.what == "pocket")
    assert folds == pytest.approx([60, 70, 180, 180, 180, 180])


def test_each_flange_is_as_long_as_its_leg() -> None:
    cap = elsewhere.laid("end-cap-copper-in").pieces[0]
    for name, leg in (("flange 1", 4), ("flange 2", 3), ("flange 3", 5)):
        a, b = next(
            (c.a, c.b) for c in measure.creases_between(cap.pattern, "plate", name)
        )
        gap = cap.pattern.vertices[a].minus(cap.pattern.vertices[b]).length()
        assert gap / 25.4 == pytest.approx(leg)


def test_down_folds_give_the_mirror_image() -> None:
    up = elsewhere.laid("end-cap-copper-in").pieces[0]
    changes: dict[str, object] = {"end_cap.section": section(4, -60, 3, -70, 5)}
    down = elsewhere.laid("end-cap-copper-in", changes).pieces[0]
    assert down.area == pytest.approx(up.area)


def test_the_kind_may_be_written_as_it_is_said() -> None:
    record = elsewhere.record("end-cap-copper-in")
    record["end cap"] = record.pop("end_cap")
    assert elsewhere.sites.laid(record).pieces[0].family == "end_cap"


def test_a_section_that_turns_both_ways_is_a_fault() -> None:
    changes: dict[str, object] = {"end_cap.section": section(4, 60, 3, -70, 5)}
    with pytest.raises(BadRecord, match="folds both up and down"):
        elsewhere.laid("end-cap-copper-in", changes)


def test_parts_out_of_order_are_faults() -> None:
    wrong = [{"leg": "4"}, {"leg": "3"}, {"fold": "90", "direction": "up"}]
    with pytest.raises(BadRecord, match=r"section\[1\]: is not a fold"):
        elsewhere.laid("end-cap-copper-in", {"end_cap.section": wrong})


def test_a_section_that_closes_on_itself_is_refused() -> None:
    changes: dict[str, object] = {"end_cap.section": section(6, 130, 6, 130, 8)}
    with pytest.raises(CannotBuild, match="closes on itself"):
        elsewhere.laid("end-cap-copper-in", changes)


def test_a_leg_too_short_for_its_pocket_is_refused() -> None:
    changes: dict[str, object] = {"end_cap.section": section(4, 90, 0.5, 90, 4)}
    with pytest.raises(CannotBuild, match="make the flange smaller"):
        elsewhere.laid("end-cap-copper-in", changes)
