from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from django.db import IntegrityError, transaction
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase

from shop import rack, rack_reading
from shop.models import Claim, RackEvent, RackItem
from shop.opening import open_shop
from tests.shop.racked import INCH, metal, put
from tests.world import make_person

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("opened")]

WIDE, LONG = 36 * INCH, 120 * INCH


def claim(item: RackItem, by: Any, holder: str = "plan:1", **more: Any) -> list[Claim]:
    wanted = [rack.Wanted(item.pk, more.pop("length", None))]
    return rack.reserve(wanted, by, holder=holder, words=f"Job 1, {holder}", **more)


def now(item: RackItem) -> RackItem:
    return RackItem.objects.get(pk=item.pk)


def test_sheets_alike_get_numbers_of_their_own(office: Any) -> None:
    new = rack.New(metal(), "sheet", WIDE, LONG, lot="A7", alike=3)
    made = rack.take_in(new, office, key="k")
    assert [it.number for it in made] == [1, 2, 3]
    assert {it.state for it in made} == {"free"}
    assert rack.take_in(new, office, key="k") == made
    assert RackEvent.objects.filter(what="came_in").count() == 3


def test_what_cannot_be_on_a_rack_is_refused_in_words(office: Any) -> None:
    with pytest.raises(rack.Refused) as refused:
        put(office, form="heap", length=Decimal(0), alike=0, paid=Decimal(-1))
    words = str(refused.value)
    for part in ("heap", "Length: 0 mm", "Number: 0", "Paid: -1"):
        assert part in words
    assert not RackItem.objects.exists()


def test_a_sheet_is_reserved_once(office: Any, crew: Any) -> None:
    item = put(office)
    claim(item, office)
    with pytest.raises(rack.Refused, match="reserved for Job 1, plan:1 already"):
        claim(item, crew, "plan:2")
    with pytest.raises(IntegrityError), transaction.atomic():
        Claim.objects.create(
            item=item, holder="x", words="x", length_mm=LONG, whole=True
        )
    assert now(item).state == "reserved"


def test_reserving_is_all_or_none(office: Any) -> None:
    free, taken = put(office), put(office)
    claim(taken, office)
    wanted = [rack.Wanted(free.pk), rack.Wanted(taken.pk)]
    with pytest.raises(rack.Refused):
        rack.reserve(wanted, office, holder="plan:2", words="Job 2")
    assert now(free).state == "free"
    assert not free.claims.exists()


def test_two_jobs_share_a_coil_but_not_the_same_length(office: Any) -> None:
    coil = put(office, form="coil", width=600, length=Decimal(10000))
    claim(coil, office, length=Decimal(6000))
    with pytest.raises(rack.Refused, match="5000 mm are asked for, 4000 mm are free"):
        claim(coil, office, "plan:2", length=Decimal(5000))
    claim(coil, office, "plan:2", length=Decimal(4000))
    rack.cut(coil, office, length=Decimal(6000), holder="plan:1")
    item = now(coil)
    assert (item.left_mm, item.reserved_mm, item.state) == (4000, 4000, "reserved")


def test_the_rack_never_goes_below_zero(office: Any) -> None:
    coil = put(office, form="coil", width=600, length=Decimal(3000))
    with pytest.raises(rack.Refused, match="never goes below zero"):
        rack.cut(coil, office, length=Decimal(3001))
    with pytest.raises(IntegrityError), transaction.atomic():
        RackItem.objects.filter(pk=coil.pk).update(left_mm=-1)
    assert now(coil).left_mm == 3000


def test_nobody_cuts_what_another_holds(office: Any) -> None:
    item = put(office)
    claim(item, office)
    with pytest.raises(rack.Refused, match="is reserved for Job 1"):
        rack.cut(item, office)
    with pytest.raises(rack.Refused, match="not reserved for"):
        rack.cut(item, office, holder="plan:9", words="Job 9")
    with pytest.raises(rack.Refused, match="Let it go first"):
        rack.spoil(item, office, "bent corner")
    rack.cut(item, office, holder="plan:1")
    assert now(item).state == "used"
    assert not Claim.objects.filter(open=True).exists()


def test_a_sheet_is_used_whole(office: Any) -> None:
    item = put(office)
    with pytest.raises(rack.Refused, match="used whole"):
        rack.cut(item, office, length=Decimal(500))


def test_let_go_frees_it_for_others(office: Any) -> None:
    item = put(office)
    claim(item, office)
    assert rack.let_go("plan:1", office) == 1
    assert now(item).state == "free"
    claim(item, office, "plan:2")


def test_put_back_needs_a_reason_and_something_gone(office: Any) -> None:
    item = put(office)
    with pytest.raises(rack.Refused, match="nothing to put back"):
        rack.put_back(item, office, "it is here")
    rack.cut(item, office)
    with pytest.raises(rack.Refused, match="Reason"):
        rack.put_back(item, office, " ")
    rack.put_back(item, office, "wrong number read off")
    assert now(item).state == "free"


def test_sold_is_gone_for_good(owner: Any) -> None:
    item = put(owner)
    rack.sell(item, owner, "old and scratched", money=Decimal("41.50"))
    assert now(item).state == "sold"
    with pytest.raises(rack.Refused, match="sold"):
        rack.put_back(item, owner, "found it")
    with pytest.raises(rack.Refused):
        claim(item, owner)


def test_a_second_tap_does_nothing_more(office: Any) -> None:
    coil = put(office, form="coil", width=600, length=Decimal(3000))
    for _ in range(2):
        rack.cut(coil, office, length=Decimal(1000), key="tap")
    assert now(coil).left_mm == 2000


def test_an_offcut_keeps_its_real_outline(office: Any) -> None:
    corners = ((10.0, 10.0), (10.0, 310.0), (210.0, 10.0))
    item = put(office, form="offcut", outline=corners)
    assert (item.width_mm, item.length_mm) == (200, 300)
    assert item.outline == [[200.0, 0.0], [0.0, 300.0], [0.0, 0.0]]


@pytest.mark.parametrize(
    ("corners", "words"),
    [
        (((0, 0), (1, 0)), "has 2 corners"),
        (((0, 0), (100, 100), (100, 0), (0, 100)), "crosses"),
        (((0, 0), (100, 0), (100, 0), (0, 100)), "are the same"),
        (((0, 0), (100, 0), (200, 0)), "nothing|crosses"),
    ],
)
def test_an_outline_that_is_none_is_refused(
    office: Any, corners: Any, words: str
) -> None:
    with pytest.raises(rack.Refused, match=words):
        put(office, form="offcut", outline=corners)


class Histories(TestCase):
    """Whatever is done in whatever order, the row is the sum of its events."""

    @settings(max_examples=25, deadline=None)
    @given(
        st.lists(
            st.tuples(
                st.sampled_from(
                    ["claim", "let_go", "cut", "put_back", "measure", "spoil", "sell"]
                ),
                st.integers(1, 5000),
                st.integers(1, 2),
            ),
            max_size=14,
        ),
        st.booleans(),
    )
    def test_the_row_is_read_from_its_events(
        self, acts: list[tuple[str, int, int]], coil: bool
    ) -> None:
        open_shop()
        by = make_person()
        item = put(by, form="coil" if coil else "sheet", length=Decimal(4000))
        for act, size, who in acts:
            length = Decimal(size) if coil else None
            try:
                with transaction.atomic():
                    self.do(act, item, by, length, f"plan:{who}")
            except rack.Refused:
                pass
            row = now(item)
            events = item.events.order_by("pk")
            assert rack_reading.read(events) == rack_reading.standing_of(row)
            held = sum(it.length_mm for it in item.claims.filter(open=True))
            assert held == row.reserved_mm <= row.left_mm
            assert 0 <= row.left_mm

    def do(self, act: str, item: Any, by: Any, length: Any, holder: str) -> None:
        if act == "claim":
            claim(item, by, holder, length=length)
        elif act == "let_go":
            rack.let_go(holder, by)
        elif act == "cut":
            rack.cut(item, by, length=length, holder=holder if length else "")
        elif act == "put_back":
            rack.put_back(item, by, "was there", length=length)
        elif act == "measure":
            rack.measure_again(item, by, length or Decimal(1), "taped it")
        elif act == "spoil":
            rack.spoil(item, by, "dented", holder=holder)
        else:
            rack.sell(item, by, "scrap")
