"""Closing a job: quoted against real, by family, with what was made again."""

from __future__ import annotations

import datetime
from decimal import Decimal
from io import BytesIO
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.utils import timezone
from PIL import Image

from jobs import booking, clock, closing, costing, progress, quoting, spending
from jobs.costing import Asked
from jobs.models import Account, Cost, FamilyAccount, Job, Piece, RemakeAccount
from jobs.models.events import EventsStay
from media.models import Photo
from shop.models import ShopProfile
from shop.prices import PriceBook
from tests.priced import price_all, work
from tests.world import make_job, make_piece

pytestmark = pytest.mark.django_db

YESTERDAY = timezone.localdate() - datetime.timedelta(days=1)


@pytest.fixture
def job(owner: Any, office: Any, opened: None) -> Job:
    """A quoted job of one apron and two side pans; each has its metal and hours."""
    price_all(owner)
    job = make_job(office)
    works = [
        work("A"),
        work("PL", family="side_pan", title="Side pan", pieces=2),
    ]
    waste = costing.waste_only(["copper 20 oz"], Decimal(15))
    made = costing.reckon(works, waste, Asked(), PriceBook.on(YESTERDAY))
    quote = quoting.keep(
        job, office, made, asked=Asked(), prices_on=YESTERDAY, layout_number=1
    )
    quoting.offer(quote, office)
    make_piece(job, mark="A", family="apron")
    make_piece(job, mark="PL", family="side_pan", quantity=2)
    return job


def worked(job: Job, mark: str, stage: str, minutes: int, by: Any) -> None:
    piece = job.pieces.get(mark=mark, scrapped=False)
    clock.write(
        by, person=by, job=job, piece=piece, stage=stage, day=YESTERDAY,
        minutes=Decimal(minutes),
    )  # fmt: skip


def spent(job: Job, by: Any, **given: Any) -> Cost:
    row = {"part": "metal", "words": "Copper", "amount": Decimal("120.50")}
    return spending.write(job, by, **{**row, "on_day": YESTERDAY, **given})


def test_an_empty_job_is_reckoned_as_nothing(office: Any) -> None:
    made = closing.reckoned(make_job(office))
    assert made.account.real() == 0 and made.account.quoted() == 0
    assert made.families == {} and made.remakes == []


def test_real_is_the_sum_of_clock_rack_and_bills(job: Job, crew: Any) -> None:
    worked(job, "A", "cutting", 45, crew)
    worked(job, "PL", "bending", 120, crew)
    spent(job, crew)
    spent(job, crew, part="hire", words="Lift", amount=Decimal(80))
    spent(job, crew, words="R12", amount=Decimal("30.25"), from_rack="R12")
    account = closing.reckoned(job).account
    assert account.labour == 165  # 60 an hour
    assert account.metal == Decimal("150.75")
    assert account.other == 80
    assert account.minutes == 165
    assert account.quoted_net == account.quote.net


def test_families_add_up_to_the_whole(job: Job, crew: Any) -> None:
    worked(job, "A", "cutting", 45, crew)
    worked(job, "PL", "installing", 100, crew)
    spent(job, crew, piece=job.pieces.get(mark="A"))
    spent(job, crew, amount=Decimal(7))
    made = closing.reckoned(job)
    account, rows = made.account, made.families.values()
    assert sum(row.real for row in rows) == account.metal + account.labour
    quoted = account.quoted_metal + account.quoted_labour
    assert sum(row.quoted for row in rows) == quoted
    assert sum(row.quoted_minutes for row in rows) == account.quoted_minutes
    assert made.families["side_pan", "installing"].pieces == 2
    assert made.families["apron", ""].real == Decimal("120.50")


def test_a_remake_says_why_and_what_it_cost(job: Job, crew: Any) -> None:
    worked(job, "A", "cutting", 30, crew)
    spent(job, crew, piece=job.pieces.get(mark="A"), amount=Decimal(55))
    old = progress.advance([job.pieces.get(mark="A")], "cut", crew)[0]
    progress.scrap(old, crew, "cut_wrong", "From the wrong corner")
    worked(job, "A", "cutting", 40, crew)
    made = closing.reckoned(job)
    (remake,) = made.remakes
    assert (remake.reason, remake.minutes) == ("cut_wrong", 30)
    assert remake.price() == 30 + 55
    assert made.account.remakes == 1
    # Both makings took time; one apron stands on the roof.
    assert made.families["apron", "cutting"].minutes == 70
    assert made.families["apron", "cutting"].pieces == 1


def test_closing_keeps_rows_and_opening_lets_them_go(job: Job, office: Any) -> None:
    worked(job, "A", "cutting", 45, office)
    booking.close(job, office, "done", "")
    account = Account.objects.get(job=job)
    assert account.state == "done" and account.labour == Decimal("37.50")
    assert FamilyAccount.objects.filter(account=account).count() > 5
    booking.open_again(job, office, "A leak")
    assert not Account.objects.exists() and not FamilyAccount.objects.exists()
    assert job.events.filter(what="handed over").exists()


def test_what_comes_late_is_reckoned_anew_on_the_day_of_closing(
    job: Job, office: Any
) -> None:
    booking.close(job, office, "done", "")
    long_ago = datetime.date(2025, 3, 1)
    Account.objects.update(closed_on=long_ago)
    job.refresh_from_db()
    cost = spent(job, office)
    assert job.account.closed_on == long_ago
    assert Account.objects.get().metal == Decimal("120.50")
    spending.take_back(cost, office, "Another job's bill.")
    assert Account.objects.get().metal == 0
    assert RemakeAccount.objects.count() == 0


def test_a_cost_is_only_taken_back_by_another(job: Job, office: Any) -> None:
    cost = spent(job, office)
    with pytest.raises(EventsStay):
        cost.delete()
    with pytest.raises(EventsStay):
        cost.save()
    back = spending.take_back(cost, office, "Wrong job.")
    assert back.amount == -cost.amount
    with pytest.raises(ValueError, match="already"):
        spending.take_back(cost, office, "Once more.")
    with pytest.raises(ValueError, match="already"):
        spending.take_back(back, office, "Back again.")
    assert set(Cost.objects.standing()) == set()


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"amount": Decimal(0)}, "more than nothing"),
        ({"amount": Decimal("-3")}, "more than nothing"),
        ({"on_day": datetime.date(2999, 1, 1)}, "still to come"),
        ({"words": "  "}, "say it in a few words"),
    ],
)
def test_a_cost_that_cant_be_is_refused(
    job: Job, office: Any, change: dict[str, Any], words: str
) -> None:
    with pytest.raises(ValueError, match=words):
        spent(job, office, **change)


def test_hours_without_a_price_are_said_to_be_missing(office: Any, crew: Any) -> None:
    piece = make_piece(make_job(office))
    worked(piece.job, piece.mark, "cutting", 30, crew)
    account = closing.reckoned(piece.job).account
    assert (account.labour, account.unpriced_minutes) == (0, 30)


def test_the_reckoning_costs_the_same_queries_for_any_job(
    job: Job, crew: Any, django_assert_num_queries: Any
) -> None:
    for number in range(12):
        make_piece(job, mark=f"K{number}", family="cleat")
        worked(job, f"K{number}", "cutting", 3, crew)
    with django_assert_num_queries(7):
        closing.reckoned(job)


# --- pages -------------------------------------------------------------------------


def receipt() -> SimpleUploadedFile:
    raw = BytesIO()
    Image.new("RGB", (300, 500), "white").save(raw, "JPEG")
    return SimpleUploadedFile("bill.jpg", raw.getvalue(), "image/jpeg")


def sent(**given: Any) -> dict[str, Any]:
    row = {"part": "hire", "words": "Lift", "amount": "80.00", "key": "k"}
    return {**row, "on_day": YESTERDAY.isoformat(), **given}


def test_a_cost_is_written_with_its_receipt_once(
    job: Job, office_client: Any, crew_client: Any
) -> None:
    address = f"/jobs/{job.pk}/costs/"
    for _ in range(2):
        answer = office_client.post(address, sent(receipt=receipt()))
        assert answer.status_code == 302
    cost = Cost.objects.get()
    photo = Photo.objects.get()
    assert photo.cost == cost
    assert photo.get_absolute_url() in office_client.get(address).content.decode()
    # A receipt is money: not among the photos, not for the crew.
    assert crew_client.get(photo.get_absolute_url()).status_code == 404
    page = crew_client.get(f"/jobs/{job.pk}/").content.decode()
    assert 'alt="Receipt: Lift"' not in page
    assert ShopProfile.current().money_since is not None


def test_a_receipt_that_is_no_photo_writes_nothing(
    job: Job, office_client: Any
) -> None:
    bad = SimpleUploadedFile("bill.jpg", b"not a photo", "image/jpeg")
    answer = office_client.post(f"/jobs/{job.pk}/costs/", sent(receipt=bad))
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "Nothing was written yet" in page and 'value="80.00"' in page
    assert not Cost.objects.exists()


def test_a_cost_is_taken_back_on_the_page(job: Job, office_client: Any) -> None:
    office_client.post(f"/jobs/{job.pk}/costs/", sent())
    cost = Cost.objects.get()
    office_client.post(f"/costs/{cost.pk}/take-back/", {"reason": ""})
    assert Cost.objects.count() == 1
    office_client.post(f"/costs/{cost.pk}/take-back/", {"reason": "Wrong job."})
    page = office_client.get(f"/jobs/{job.pk}/costs/").content.decode()
    assert "Taken back: Wrong job." in page and "0.00\u00a0USD in all" in page


def test_the_account_page_sets_quoted_against_real(
    job: Job, office_client: Any, crew: Any
) -> None:
    worked(job, "A", "cutting", 45, crew)
    old = Piece.objects.get(job=job, mark="A")
    progress.scrap(old, crew, "metal_flawed", "")
    page = office_client.get(f"/jobs/{job.pk}/account/").content.decode()
    for words in (
        "Metal",
        "Labour",
        "In all",
        "side pan",
        "metal flawed",
        "45.00\u00a0USD",
    ):
        assert words in page


@pytest.mark.parametrize("place", ["account", "costs"])
def test_money_pages_are_for_who_may_see_money(
    place: str, job: Job, crew_client: Any, owner_client: Any, stranger_client: Any
) -> None:
    address = f"/jobs/{job.pk}/{place}/"
    assert crew_client.get(address).status_code == 403
    assert stranger_client.get(address).status_code == 302
    assert owner_client.get(address).status_code == 200


def test_hours_are_priced_once_there_is_a_price(
    office: Any,
    crew: Any,
    owner: Any,
    office_client: Any,
    crew_client: Any,
    opened: Any,
) -> None:
    piece = make_piece(make_job(office))
    worked(piece.job, piece.mark, "cutting", 30, crew)
    address = f"/jobs/{piece.job_id}/account/"
    assert "30 min had no price" in office_client.get(address).content.decode()
    price_all(owner)
    again = f"/jobs/{piece.job_id}/hours/price/"
    assert crew_client.post(again).status_code == 403
    page = office_client.post(again, follow=True).content.decode()
    assert "1 time priced." in page and "had no price" not in page
    assert "30.00\u00a0USD" in page


def test_a_quote_past_its_day_is_marked_as_lapsed(job: Job, office_client: Any) -> None:
    quote = job.quotes.get()
    address = f"/quotes/{quote.pk}/"
    assert "Mark it as lapsed" not in office_client.get(address).content.decode()
    job.quotes.update(valid_until=YESTERDAY)
    assert "Mark it as lapsed" in office_client.get(address).content.decode()
    office_client.post(f"/jobs/{job.pk}/quotes/lapse/")
    quote.refresh_from_db()
    assert quote.state == "lapsed"
    assert job.events.filter(what="quote lapsed").exists()
