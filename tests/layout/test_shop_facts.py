"""The shop's facts from its rows and from its tables as delivered."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from layout.geometry.point import Point
from layout.reading import facts_of_the_shop
from layout.shop_facts import shop_facts
from shop.models import Brake, Metal, MetalPair, SeamKind
from shop.tables import METALS

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("opened")]


@pytest.mark.parametrize("name", [metal.name for metal in METALS])
def test_a_new_shop_lays_out_by_the_tables_as_delivered(name: str) -> None:
    kept, delivered = facts_of_the_shop(name), shop_facts(name)
    assert set(kept.stocks) == set(delivered.stocks)
    assert replace(kept, stocks=()) == replace(delivered, stocks=())


def test_the_owners_figures_come_first() -> None:
    Metal.objects.filter(name="zinc 0.7 mm").update(
        expansion_across_mm_m=Decimal("0.018"), fold_from_c=None
    )
    MetalPair.objects.filter(first="lead").update(active=False)
    SeamKind.objects.exclude(metal_kind="zinc").update(active=False)
    kept = facts_of_the_shop("zinc 0.7 mm")
    assert kept.metal.expansion == 0.022 / 1000
    assert kept.metal.expansion_across == 0.018 / 1000
    assert kept.metal.fold_from is None
    assert {pair.first for pair in kept.pairs} == {"copper", "stainless", "aluminium"}
    assert {seam.metal_kind for seam in kept.seams} == {"zinc"}


def test_the_brakes_own_section_is_folded_on() -> None:
    brake = Brake.objects.order_by("-length_mm").first()
    brake.jaw = [[[0, 0], [0, 40], [-30, 40], [-30, 0]]]
    brake.smallest_clamp_mm = Decimal(12)
    brake.full_clean()
    brake.save()
    kept = facts_of_the_shop("zinc 0.7 mm").brake
    assert kept.jaw == ((Point(0, 0), Point(0, 40), Point(-30, 40), Point(-30, 0)),)
    assert (kept.bed, kept.leaf) == ((), ())
    assert (kept.clamp, shop_facts("zinc 0.7 mm").brake.clamp) == (12, 9.525)
