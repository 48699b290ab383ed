from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from shop import rack
from shop.models import RackEvent, RackItem
from tests.shop.racked import metal, put

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("opened")]


def sheet(**given: str) -> dict[str, Any]:
    return {
        "metal": metal().pk,
        "form": "sheet",
        "width": "36",
        "length": "10'",
        "alike": "2",
        "place": "north wall",
        **given,
    }


def test_metal_is_put_on_the_rack(office_client: Any) -> None:
    page = office_client.post("/rack/new/", sheet(paid="212.40", weight="25 lb"))
    assert page.status_code == 302
    one, two = RackItem.objects.all()
    assert (one.width_mm, one.length_mm) == (Decimal("914.4"), Decimal(3048))
    assert (one.paid, one.weight_kg) == (Decimal("212.40"), Decimal("11.34"))
    shown = office_client.get("/rack/").content.decode()
    assert "R1" in shown and "36 in x 120 in" in shown and "north wall" in shown


def test_what_is_typed_wrong_is_shown_and_kept(office_client: Any) -> None:
    page = office_client.post("/rack/new/", sheet(width="wide", lot="A7"))
    said = page.content.decode()
    assert page.status_code == 422
    assert "wide is not a number a tape shows" in said and 'value="A7"' in said
    page = office_client.post("/rack/new/", sheet(length=""))
    assert "Give its length." in page.content.decode()
    assert not RackItem.objects.exists()


def test_an_offcut_is_put_there_by_its_corners(crew_client: Any) -> None:
    given = sheet(form="offcut", corners="0; 0\n12 1/2; 0\n0; 20", alike="1", width="")
    assert crew_client.post("/rack/new/", given).status_code == 302
    item = RackItem.objects.get()
    assert (item.width_mm, item.length_mm) == (Decimal("317.5"), Decimal(508))
    given["corners"] = "0; 0\n12"
    page = crew_client.post("/rack/new/", given)
    assert "Corner 2 is “12”" in page.content.decode()


def test_a_second_sending_puts_nothing_more(office_client: Any) -> None:
    for _ in range(2):
        office_client.post("/rack/new/", sheet(key="abc"))
    assert RackItem.objects.count() == 2


def test_money_is_for_office_and_owner(
    crew_client: Any, office_client: Any, office: Any
) -> None:
    item = put(office, paid=Decimal("212.40"))
    url = item.get_absolute_url()
    assert "212.40" in office_client.get(url).content.decode()
    assert "212.40" not in crew_client.get(url).content.decode()
    assert "paid" not in crew_client.get("/rack/new/").content.decode().lower()
    crew_client.post("/rack/new/", sheet(paid="5", alike="1"))
    assert RackItem.objects.last().paid is None
    assert crew_client.post(f"{url}sell/", {}).status_code == 403


@pytest.mark.parametrize(
    ("act", "given", "state"),
    [
        ("reserve", {"words": "Job 4"}, "reserved"),
        ("move", {"place": "loft"}, "free"),
        ("cut", {"reason": "a bracket"}, "used"),
        ("spoil", {"reason": "fell"}, "spoiled"),
        ("sell", {"reason": "old", "money": "12"}, "sold"),
    ],
)
def test_an_act_is_done_and_told(
    office_client: Any, office: Any, act: str, given: dict[str, str], state: str
) -> None:
    item = put(office)
    url = item.get_absolute_url()
    sent = {f"{act}-{name}": words for name, words in given.items()}
    assert office_client.post(f"{url}{act}/", sent).status_code == 302
    item.refresh_from_db()
    assert item.state == state
    event = item.events.first()
    assert event.by == office
    assert (
        event.get_what_display().capitalize() in office_client.get(url).content.decode()
    )


def test_an_act_without_its_reason_says_so(office_client: Any, office: Any) -> None:
    url = put(office).get_absolute_url()
    page = office_client.post(f"{url}spoil/", {})
    assert page.status_code == 422
    assert "say it in a few words" in page.content.decode()


def test_an_act_that_does_not_fit_is_refused_in_words(
    office_client: Any, office: Any
) -> None:
    item = put(office)
    rack.reserve([rack.Wanted(item.pk)], office, holder="plan:1", words="Job 7")
    page = office_client.post(f"{item.get_absolute_url()}cut/", {"cut-reason": "x"})
    assert page.status_code == 409
    assert "is reserved for Job 7" in page.content.decode()


def test_reserved_by_hand_is_let_go_again(office_client: Any, office: Any) -> None:
    item = put(office)
    url = item.get_absolute_url()
    office_client.post(f"{url}reserve/", {"reserve-words": "Job 4", "reserve-key": "a"})
    assert "Let it go" in office_client.get(url).content.decode()
    holder = item.claims.get().holder
    office_client.post(f"{url}let_go/", {"let_go-holder": holder})
    item.refresh_from_db()
    assert item.state == "free"


def test_items_are_found(office_client: Any, office: Any) -> None:
    put(office, lot="A7")
    gone = put(office, lot="B9", place="loft")
    rack.cut(gone, office)
    assert (
        office_client.get("/rack/?words=a7").context["page"].object_list[0].lot == "A7"
    )
    assert len(office_client.get("/rack/?words=r1").context["page"]) == 1
    assert len(office_client.get("/rack/").context["page"]) == 1
    (shown,) = office_client.get("/rack/?show=gone&words=loft").context["page"]
    assert shown == gone


@pytest.mark.parametrize("address", ["/rack/", "/rack/new/", "/rack/1/"])
def test_a_stranger_is_sent_to_sign_in(
    stranger_client: Any, office: Any, address: str
) -> None:
    put(office)
    assert "/login" in stranger_client.get(address)["Location"] or (
        "sign" in stranger_client.get(address)["Location"]
    )


def test_doors_refuse_the_wrong_method_and_what_is_not_there(
    office_client: Any, office: Any
) -> None:
    put(office)
    assert office_client.post("/rack/").status_code == 405
    assert office_client.get("/rack/1/cut/").status_code == 405
    assert office_client.post("/rack/1/paint/").status_code == 404
    assert office_client.get("/rack/9/").status_code == 404


def queries(client: Any, address: str) -> int:
    with CaptureQueriesContext(
        connection,
    ) as asked:
        assert client.get(address).status_code == 200
    return len(asked)


def test_the_number_of_queries_stays(office_client: Any, office: Any) -> None:
    item = put(office)
    few = queries(office_client, "/rack/"), queries(office_client, "/rack/1/")
    for _ in range(12):
        put(office, finish="patina")
        rack.move(item, office, "loft")
    assert (queries(office_client, "/rack/"), queries(office_client, "/rack/1/")) == few
    assert RackEvent.objects.count() > 20
