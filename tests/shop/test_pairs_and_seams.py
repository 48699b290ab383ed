from __future__ import annotations

import importlib
from decimal import Decimal
from typing import Any

import pytest
from django.apps import apps
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from shop.models import Metal, MetalPair, SeamKind, Stock
from shop.opening import open_shop
from shop.pairs_table import PAIRS
from shop.seams_table import SEAMS
from shop.warmth_table import WARMTH

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("opened")]


def test_touching_has_no_direction_and_is_listed_once() -> None:
    pair = MetalPair(
        first="zinc", second="copper", meeting="contact", why="said twice", source="us"
    )
    with pytest.raises(ValidationError, match="no direction"):
        pair.full_clean()
    with pytest.raises(IntegrityError), transaction.atomic():
        pair.save()


def test_run_off_may_be_listed_both_ways() -> None:
    row = dict(meeting="run-off", why="a trial of our own", source="us")
    pair = MetalPair(first="zinc", second="copper", **row)
    pair.full_clean()
    pair.save()
    with pytest.raises(ValidationError, match="already exists"):
        MetalPair(first="zinc", second="copper", **row).full_clean()


def test_a_pair_is_of_two_metals() -> None:
    pair = MetalPair(
        first="zinc", second="zinc", meeting="contact", why="x", source="x"
    )
    with pytest.raises(ValidationError, match="two different"):
        pair.full_clean()
    with pytest.raises(IntegrityError), transaction.atomic():
        pair.save()


def test_what_was_set_aside_stays_so_when_the_shop_is_opened_again() -> None:
    MetalPair.objects.filter(first="lead").update(active=False)
    SeamKind.objects.filter(made="machine").update(active=False)
    assert open_shop() == 0
    assert MetalPair.objects.active().count() == len(PAIRS) - 2
    assert SeamKind.objects.active().count() == len(SEAMS) - 1


@pytest.mark.parametrize(
    "legs",
    [(35, None), (None, 45), (45, 35), (20, 45), (35, 35)],
)
def test_legs_come_in_pairs_and_stand_over_the_seam(
    legs: tuple[int | None, int | None],
) -> None:
    seam = SeamKind(
        metal_kind="lead", made="machine", fold="double", receiving_mm=legs[0],
        covering_mm=legs[1], height_mm=25, lost_mm=80, source="us",
    )  # fmt: skip
    with pytest.raises(ValidationError, match="both legs or neither"):
        seam.full_clean()
    with pytest.raises(IntegrityError), transaction.atomic():
        seam.save()


def test_legs_folded_by_hand_lose_what_they_measure() -> None:
    seam = SeamKind.objects.get(metal_kind="zinc", made="hand")
    seam.lost_mm = Decimal(70)
    with pytest.raises(ValidationError, match="80.000 mm"):
        seam.full_clean()
    seam.made = "machine"
    seam.height_mm = Decimal(26)
    seam.full_clean()


def test_every_row_passes_its_own_checks() -> None:
    for row in (*MetalPair.objects.all(), *SeamKind.objects.all()):
        row.full_clean()


@pytest.mark.parametrize("field", ["expansion_source", "fold_source"])
def test_a_figure_of_warmth_needs_its_source(field: str) -> None:
    metal = Metal.objects.get(name="zinc 0.7 mm")
    setattr(metal, field, " ")
    with pytest.raises(ValidationError) as refusal:
        metal.full_clean()
    assert set(refusal.value.message_dict) == {field}


def _migrated() -> None:
    name = "shop.migrations.0005_old_shops_get_warmth_pairs_and_seams"
    importlib.import_module(name).fill(apps, None)


def test_an_old_shop_gets_warmth_pairs_and_seams_by_the_migration() -> None:
    MetalPair.objects.all().delete()
    SeamKind.objects.all().delete()
    Metal.objects.update(
        expansion_along_mm_m=0, expansion_across_mm_m=0, expansion_source="",
        fold_from_c=None, fold_source="",
    )  # fmt: skip
    own = Metal.objects.get(name="stainless 0.5 mm")
    own.expansion_along_mm_m, own.expansion_source = Decimal("0.016"), "the mill"
    own.save()
    _migrated()
    for metal in Metal.objects.exclude(pk=own.pk):
        warmth = WARMTH["painted steel" if "painted" in metal.name else metal.kind]
        assert float(metal.expansion_along_mm_m) == warmth.expansion_along_mm_m
        assert metal.fold_source == warmth.fold_source
    own.refresh_from_db()
    assert own.expansion_source == "the mill"
    assert MetalPair.objects.count() == len(PAIRS)
    assert SeamKind.objects.count() == len(SEAMS)


def test_a_new_shop_is_left_to_be_opened() -> None:
    for table in (MetalPair, SeamKind, Stock, Metal):
        table.objects.all().delete()
    _migrated()
    assert not MetalPair.objects.exists() and not SeamKind.objects.exists()


@pytest.mark.parametrize("table", ["metalpair", "seamkind", "metal"])
def test_the_owner_keeps_the_tables_and_others_do_not(
    table: str, owner_client: Any, office_client: Any
) -> None:
    url = f"/shop/shop/{table}/"
    assert owner_client.get(url).status_code == 200
    assert owner_client.get(f"{url}add/").status_code == 200
    assert office_client.get(url).status_code in (302, 403)
