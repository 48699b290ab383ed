from __future__ import annotations

import pytest

from shop.demo import NotTheDemo, open_demo_shop
from shop.models import (
    Brake,
    Metal,
    MetalPair,
    Person,
    SeamKind,
    ShopProfile,
    Standard,
    StandardHours,
    Stock,
)
from shop.opening import open_shop
from shop.tables import METALS, STANDARDS

pytestmark = pytest.mark.django_db


def test_a_new_shop_gets_every_row() -> None:
    added = open_shop()
    tables = (
        Metal,
        MetalPair,
        SeamKind,
        Standard,
        Brake,
        Stock,
        StandardHours,
        ShopProfile,
    )
    assert added == sum(table.objects.count() for table in tables)
    assert Metal.objects.count() == len(METALS)
    for row in STANDARDS:
        assert Standard.objects.get(key=row.key).read() == row.value


def test_every_row_passes_its_own_checks() -> None:
    open_shop()
    for table in (Metal, Standard, Brake, Stock, ShopProfile):
        for row in table.objects.all():
            row.full_clean()


def test_opening_twice_changes_nothing_and_keeps_the_owners_figures() -> None:
    open_shop()
    Standard.objects.filter(key="hem").update(value="15")
    Brake.objects.filter(name__startswith="bar").delete()
    assert open_shop() == 0
    assert Standard.objects.get(key="hem").read() == 15


def test_an_old_shop_gets_the_standard_it_lacks() -> None:
    open_shop()
    Standard.objects.filter(key="hem").delete()
    assert open_shop() == 1


def test_the_demo_opens_twice_with_three_people() -> None:
    _, first = open_demo_shop()
    owner, second = open_demo_shop()
    assert Person.objects.count() == 3
    assert owner.role == "owner" and owner.check_password(second)
    assert first != second


def test_the_demo_stays_out_of_a_real_shop(owner: Person) -> None:
    with pytest.raises(NotTheDemo, match="SEAMBOOK_HOME"):
        open_demo_shop()
    assert Person.objects.count() == 1
