"""Profiles and valleys longer than brake and stock: in lengths that lap."""

from __future__ import annotations

import copy
from typing import Any

import pytest

from layout.folding.divide import longest
from layout.shop_facts import shop_facts
from tests import sites

PROFILE: dict[str, Any] = {
    "format": "seambook.site/1",
    "units": "mm",
    "profile": {
        "length": "7000",
        "section": [
            {"leg": "60"},
            {"fold": "90", "direction": "up"},
            {"leg": "110"},
            {"fold": "45", "direction": "down"},
            {"leg": "80"},
        ],
        "far_end": None,
        "radius": "2",
        "faces": "outside",
    },
    "metal": "zinc 0.7 mm",
}
VALLEY: dict[str, Any] = {
    "format": "seambook.site/1",
    "units": "mm",
    "valley": {"length": "8000", "wing": "230", "upstand": "0"},
    "roof": {"pitch": "6:12", "other_pitch": "9:12", "plan_angle": "90°"},
    "metal": "copper 16 oz",
}


def tapered() -> dict[str, Any]:
    record = copy.deepcopy(PROFILE)
    far = copy.deepcopy(record["profile"]["section"])
    far[0]["leg"], far[2]["leg"], far[4]["leg"] = "90", "70", "120"
    record["profile"]["far_end"] = far
    return record


def test_a_profile_no_longer_than_the_brake_stays_in_one_piece() -> None:
    record = copy.deepcopy(PROFILE)
    record["profile"]["length"] = "3048"
    made = sites.laid(record)
    assert [(p.mark, p.quantity) for p in made.pieces] == [("P", 1)]
    assert made.joints == ()


def test_a_long_profile_is_made_in_like_lengths_and_a_rest() -> None:
    made = sites.laid(PROFILE)
    lap = shop_facts("zinc 0.7 mm").number("slope_lap")
    assert [(p.mark, p.quantity) for p in made.pieces] == [("P1", 2), ("P2", 1)]
    total = sum(p.quantity * p.pattern.size()[0] for p in made.pieces)
    assert total == pytest.approx(7000 + 2 * lap)
    assert {j.promised for j in made.joints} == {lap}


def test_the_metal_is_that_of_one_piece_and_its_laps() -> None:
    made = sites.laid(PROFILE)
    lap = shop_facts("zinc 0.7 mm").number("slope_lap")
    area = sum(p.quantity * p.area for p in made.pieces)
    assert area == pytest.approx((7000 + 2 * lap) * (60 + 110 + 80))


def test_lengths_of_a_tapered_profile_go_on_from_each_other() -> None:
    made = sites.laid(tapered())
    assert [p.mark for p in made.pieces] == ["P1", "P2", "P3"]
    assert {p.quantity for p in made.pieces} == {1}
    assert made.refused == ()
    # Where two lengths overlap, both follow the same section: the far end of one
    # lies inside the other, at every leg.
    for one, two in zip(made.pieces, made.pieces[1:], strict=False):
        share = 101.6 / two.pattern.size()[0]
        for face in one.pattern.faces:
            other = next(f for f in two.pattern.faces if f.name == face.name)
            ring = one.pattern.polygon_in_space(face)
            near_low, far_low, far_high, near_high = two.pattern.polygon_in_space(other)
            for low, high in ((near_low, far_low), (near_high, far_high)):
                wanted = low.plus(high.minus(low), share)
                assert min(p.minus(wanted).length() for p in ring) < 1e-6


def test_no_length_is_too_long_for_the_brake() -> None:
    for record in (PROFILE, tapered(), VALLEY):
        made = sites.laid(record)
        assert not [f for f in made.findings if f.level == "blocking"]


def test_the_upper_valley_pan_covers_the_lower() -> None:
    made = sites.laid(VALLEY)
    shop = shop_facts("copper 16 oz")
    assert max(p.pattern.size()[0] for p in made.pieces) == pytest.approx(
        longest(460, shop.brake, shop.stocks)
    )
    assert sum(p.quantity for p in made.pieces) == 3
    for joint in made.joints:
        assert joint.flow.y < 0
    assert all(p.proof.shed for p in made.pieces)
