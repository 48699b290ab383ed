"""Money and hours for programs: the same acts, the same people as on the pages."""

from __future__ import annotations

import datetime
from decimal import Decimal
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone
from rest_framework.authtoken.models import Token

from jobs import booking, clock, costing, quoting, spending
from jobs.costing import Asked
from jobs.models import Cost, Job, Quote, WorkTime
from shop.models import ShopProfile
from shop.prices import PriceBook
from tests.jobs.test_api import Caller
from tests.priced import price_all, work
from tests.world import make_job, make_person, make_piece

pytestmark = pytest.mark.django_db

TODAY = timezone.localdate()
YESTERDAY = TODAY - datetime.timedelta(days=1)
WORD = {"whose_word": "Marigold Quill", "on": TODAY.isoformat()}


@pytest.fixture
def office_calls(office_client: Any) -> Caller:
    return Caller(office_client)


@pytest.fixture
def crew_calls(crew_client: Any) -> Caller:
    return Caller(crew_client)


@pytest.fixture
def job(owner: Any, office: Any, opened: None) -> Job:
    price_all(owner)
    return make_job(office)


def quoted(job: Job, by: Any) -> Quote:
    waste = costing.waste_only(["copper 20 oz"], Decimal(15))
    made = costing.reckon([work()], waste, Asked(), PriceBook.on(TODAY))
    quote = quoting.keep(job, by, made, asked=Asked(), prices_on=TODAY, layout_number=1)
    return quoting.offer(quote, by)


@pytest.fixture
def quote(job: Job, office: Any) -> Quote:
    return quoted(job, office)


# --- quotes ------------------------------------------------------------------------


def test_quotes_of_a_job_are_listed_with_their_sums(
    quote: Quote, office: Any, office_calls: Caller
) -> None:
    quoted(make_job(office), office)
    _, page = office_calls("get", "quotes/", job=quote.job_id)
    (told,) = page["results"]
    assert (told["id"], told["number"], told["state"]) == (quote.pk, 1, "offered")
    assert told["valid_until"] == quote.valid_until.isoformat()
    assert told["currency"] == "USD" and "lines" not in told
    sums = ("metal", "labour", "other", "overhead", "margin")
    assert sum(Decimal(told[name]) for name in sums) == Decimal(told["net"])
    assert Decimal(told["net"]) + Decimal(told["tax"]) == Decimal(told["total"])
    assert told["total"] == f"{quote.total:.2f}"
    assert office_calls("get", "quotes/", state="lapsed")[1]["count"] == 0
    assert office_calls("get", "quotes/", state="sent")[0] == 400


def test_a_quote_comes_with_every_line(quote: Quote, office_calls: Caller) -> None:
    _, told = office_calls("get", f"quotes/{quote.pk}/")
    assert len(told["lines"]) == quote.lines.count()
    amounts = sum(Decimal(line["amount"]) for line in told["lines"])
    assert amounts == Decimal(told["total"])
    assert all(line["source"] for line in told["lines"])


def test_sums_have_the_decimals_of_the_currency(
    quote: Quote, office_calls: Caller
) -> None:
    ShopProfile.objects.update(currency="JPY")
    _, told = office_calls("get", f"quotes/{quote.pk}/")
    assert told["total"] == f"{quote.total.quantize(Decimal(1), 'ROUND_HALF_UP')}"


@pytest.mark.parametrize(
    ("act", "state"), [("accept", "accepted"), ("refuse", "refused")]
)
def test_the_clients_word_settles_a_quote_once_a_key(
    act: str, state: str, quote: Quote, office_calls: Caller
) -> None:
    path = f"quotes/{quote.pk}/{act}/"
    for _ in range(2):
        status, told = office_calls("post", path, **WORD, reason="By phone", key="k")
        assert (status, told["state"]) == (200, state)
    assert (told["settled_by"], told["settled_on"]) == (*WORD.values(),)
    (event,) = quote.job.events.filter(what=f"quote {state}")
    assert event.reason == "Word of Marigold Quill. By phone"
    status, told = office_calls("post", path, **WORD, key="other")
    assert status == 409 and f"Quote 1 is {state}." in told["detail"]


def test_a_key_of_another_quote_settles_nothing(
    quote: Quote, office: Any, office_calls: Caller
) -> None:
    other = quoted(make_job(office), office)
    office_calls("post", f"quotes/{quote.pk}/accept/", **WORD, key="k")
    path = f"quotes/{other.pk}/accept/"
    status, told = office_calls("post", path, **WORD, key="k")
    assert status == 409 and "used before, for something else" in told["detail"]
    other.refresh_from_db()
    assert other.state == "offered"


def test_only_one_quote_of_a_job_is_accepted(
    quote: Quote, office: Any, office_calls: Caller
) -> None:
    office_calls("post", f"quotes/{quote.pk}/accept/", **WORD)
    second = quoted(quote.job, office)
    status, told = office_calls("post", f"quotes/{second.pk}/accept/", **WORD)
    assert status == 409 and "accepted already" in told["detail"]


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({"whose_word": " "}, "whose_word"),
        ({"on": "2999-01-01"}, "on"),
        ({"on": "11/12/2026"}, "on"),
        ({"key": "k" * 65}, "key"),
    ],
)
def test_a_faulty_word_is_told_by_field(
    given: dict[str, str], field: str, quote: Quote, office_calls: Caller
) -> None:
    path = f"quotes/{quote.pk}/accept/"
    status, told = office_calls("post", path, **{**WORD, **given})
    assert (status, list(told)) == (400, [field])
    quote.refresh_from_db()
    assert quote.state == "offered"


def test_a_quote_lapses_when_its_day_is_past(
    quote: Quote, office: Any, office_calls: Caller
) -> None:
    other = quoted(make_job(office), office)
    path = f"quotes/{quote.pk}/lapse/"
    status, told = office_calls("post", path)
    assert status == 409 and "It lapses the day after." in told["detail"]
    Quote.objects.update(valid_until=YESTERDAY)
    for _ in range(2):
        status, told = office_calls("post", path)
        assert (status, told["state"]) == (200, "lapsed")
    assert quote.job.events.get(what="quote lapsed").by == office
    other.refresh_from_db()
    assert other.state == "offered"
    office_calls("post", f"quotes/{quote.pk}/accept/", **WORD)
    status, told = office_calls("post", path)
    assert status == 409 and "accepted" in told["detail"]


# --- hours -------------------------------------------------------------------------


def test_the_clock_starts_and_stops(job: Job, crew: Any, crew_calls: Caller) -> None:
    piece = make_piece(job)
    sent = {"piece": piece.pk, "stage": "cutting", "key": "k"}
    for _ in range(2):
        status, told = crew_calls("post", "hours/start/", **sent)
        assert (status, told["running"], told["job"]) == (201, True, job.pk)
    time = WorkTime.objects.get()
    _, page = crew_calls("get", "hours/", running="true")
    assert [row["id"] for row in page["results"]] == [time.pk]
    WorkTime.objects.update(began_at=timezone.now() - datetime.timedelta(minutes=30))
    status, told = crew_calls("post", "hours/stop/")
    assert (status, told["running"], told["person"]) == (200, False, crew.pk)
    assert 30 <= Decimal(told["minutes"]) < 31
    assert crew_calls("get", "hours/", running="true")[1]["count"] == 0
    assert crew_calls("get", "hours/", running="false", job=job.pk)[1]["count"] == 1
    status, told = crew_calls("post", "hours/stop/")
    assert (status, told["detail"]) == (409, "No clock of yours is running.")


def test_a_second_clock_is_asked_about(job: Job, crew_calls: Caller) -> None:
    start = {"job": job.pk, "stage": "travelling"}
    crew_calls("post", "hours/start/", **start)
    status, told = crew_calls("post", "hours/start/", **start)
    assert status == 409
    assert "is running" in told["detail"] and "`stop_first`" in told["detail"]
    assert WorkTime.objects.count() == 1
    assert crew_calls("post", "hours/start/", **start, stop_first=True)[0] == 201


def test_a_forgotten_clock_wants_the_real_minutes(
    job: Job, crew: Any, crew_calls: Caller
) -> None:
    clock.start(crew, job=job, stage="other")
    WorkTime.objects.update(began_at=timezone.now() - datetime.timedelta(hours=15))
    status, told = crew_calls("post", "hours/stop/")
    assert status == 409 and "in one go" in told["detail"]
    status, told = crew_calls("post", "hours/stop/", worked="2000", because="Slept.")
    assert status == 400 and "at most 15 h" in told["worked"][0]
    status, told = crew_calls("post", "hours/stop/", worked="90", because="Slept.")
    assert (status, told["minutes"], told["because"]) == (200, "90.00", "Slept.")


def written(job: Job, **given: Any) -> dict[str, Any]:
    row = {"job": job.pk, "stage": "measuring", "minutes": "90", "key": "k"}
    return {**row, "day": YESTERDAY.isoformat(), **given}


def test_hours_are_written_later_once_a_key(
    job: Job, crew: Any, crew_calls: Caller, office_calls: Caller
) -> None:
    for _ in range(2):
        status, told = crew_calls("post", "hours/", **written(job, begins="07:30"))
        assert (status, told["minutes"], told["by_hand"]) == (201, "90.00", True)
    assert WorkTime.objects.count() == 1
    # Sums only for who may see money: 90 minutes at 60 an hour.
    assert "amount" not in told and "currency" not in told
    _, told = office_calls("get", f"hours/{told['id']}/")
    assert (told["amount"], told["currency"]) == ("90.00", "USD")
    sent = written(job, begins="08:00", key="k2")
    status, asked = crew_calls("post", "hours/", **sent)
    assert status == 409
    assert "It overlaps" in asked["detail"] and "`because`" in asked["detail"]
    assert crew_calls("post", "hours/", **sent, because="Two at once.")[0] == 201


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({"minutes": "0"}, "minutes"),
        ({"minutes": "1500"}, "minutes"),
        ({"minutes": "an hour"}, "minutes"),
        ({"stage": "polishing"}, "stage"),
        ({"stage": "cutting"}, "piece"),
        ({"piece": 99999}, "piece"),
        ({"day": "2999-01-01"}, "day"),
        ({"day": "0001-01-01", "begins": "00:00"}, "day"),
        ({"day": TODAY.isoformat(), "begins": "23:59"}, "begins"),
        ({"person": 99999}, "person"),
    ],
)
def test_faulty_hours_are_told_by_field(
    given: dict[str, Any], field: str, job: Job, office_calls: Caller
) -> None:
    status, told = office_calls("post", "hours/", **written(job, **given))
    assert (status, list(told)) == (400, [field])
    assert not WorkTime.objects.exists()


def test_hours_need_a_job_or_a_piece(crew_calls: Caller) -> None:
    status, told = crew_calls("post", "hours/start/", stage="other")
    assert status == 400 and "Give the job, or the piece" in told["job"][0]
    assert crew_calls("post", "hours/start/", stage="other", job=99999)[0] == 404
    assert crew_calls("post", "hours/start/", stage="other", job=None)[0] == 400


def test_the_crew_writes_and_strikes_its_own_hours_only(
    job: Job, office: Any, crew: Any, crew_calls: Caller, office_calls: Caller
) -> None:
    assert crew_calls("post", "hours/", **written(job, person=office.pk))[0] == 403
    status, told = office_calls("post", "hours/", **written(job, person=crew.pk))
    assert (status, told["person"]) == (201, crew.pk)
    assert told["written_by"] == office.pk
    own = f"hours/{told['id']}/strike/"
    _, others = office_calls("post", "hours/", **written(job, key="k2"))
    path = f"hours/{others['id']}/strike/"
    assert crew_calls("post", path, reason="Not mine.")[0] == 404
    assert crew_calls("post", own, reason=" ")[0] == 400
    status, told = crew_calls("post", own, reason="Wrong day.")
    assert (status, told["struck_because"]) == (200, "Wrong day.")
    status, told = crew_calls("post", own, reason="Again.")
    assert status == 409 and "already" in told["detail"]


def test_no_clock_starts_on_a_closed_job(
    job: Job, office: Any, crew_calls: Caller
) -> None:
    booking.close(job, office, "done", "")
    start = {"job": job.pk, "stage": "other"}
    status, told = crew_calls("post", "hours/start/", **start)
    assert status == 409 and "Open it again" in told["detail"]


def test_who_comes_with_a_token_works_by_the_shops_clock(
    job: Job, crew: Any, stranger_client: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    ShopProfile.objects.update(time_zone="Pacific/Auckland")
    moment = datetime.datetime(2026, 12, 24, 20, tzinfo=datetime.UTC)
    monkeypatch.setattr(timezone, "now", lambda: moment)
    answer = stranger_client.post(
        "/api/v1/hours/start/",
        {"job": job.pk, "stage": "other"},
        content_type="application/json",
        headers={"Authorization": f"Token {Token.objects.create(user=crew).key}"},
    )
    assert (answer.status_code, answer.json()["day"]) == (201, "2026-12-25")


# --- costs -------------------------------------------------------------------------


def spent(job: Job, **given: Any) -> dict[str, Any]:
    row = {"job": job.pk, "part": "hire", "words": "Lift", "amount": "80.5"}
    return {**row, "on_day": YESTERDAY.isoformat(), "key": "k", **given}


def test_a_cost_is_added_once_a_key_and_listed(job: Job, office_calls: Caller) -> None:
    piece = make_piece(job)
    for _ in range(2):
        status, told = office_calls("post", "costs/", **spent(job, piece=piece.pk))
        assert (status, told["amount"], told["currency"]) == (201, "80.50", "USD")
    assert Cost.objects.count() == 1
    office_calls("post", "costs/", **spent(make_job(), key="k2"))
    _, page = office_calls("get", "costs/", job=job.pk)
    assert [row["id"] for row in page["results"]] == [told["id"]]
    assert office_calls("get", "costs/", part="metal")[1]["count"] == 0


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({"amount": "0"}, "amount"),
        ({"amount": "0.001"}, "amount"),
        ({"amount": "-3"}, "amount"),
        ({"amount": "NaN"}, "amount"),
        ({"amount": "1,5"}, "amount"),
        ({"words": " "}, "words"),
        ({"part": "tea"}, "part"),
        ({"on_day": "2999-01-01"}, "on_day"),
        ({"piece": 99999}, "piece"),
    ],
)
def test_a_faulty_cost_is_told_by_field(
    given: dict[str, Any], field: str, job: Job, office_calls: Caller
) -> None:
    status, told = office_calls("post", "costs/", **spent(job, **given))
    assert (status, list(told)) == (400, [field])
    assert not Cost.objects.exists()


def test_a_cost_is_taken_back_once(job: Job, office_calls: Caller) -> None:
    _, cost = office_calls("post", "costs/", **spent(job))
    path = f"costs/{cost['id']}/take_back/"
    assert office_calls("post", path)[0] == 400
    for _ in range(2):
        status, back = office_calls("post", path, reason="Wrong job.", key="k")
        assert (status, back["amount"]) == (201, "-80.50")
        assert (back["takes_back"], back["reason"]) == (cost["id"], "Wrong job.")
    assert office_calls("get", f"costs/{cost['id']}/")[1]["is_taken_back"]
    status, told = office_calls("post", path, reason="Once more.")
    assert status == 409 and "already" in told["detail"]
    assert Cost.objects.count() == 2


def test_the_same_key_at_once_writes_one_cost(
    job: Job, office: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The other one comes between the look and the writing."""
    row = {
        "part": "hire", "words": "Lift", "amount": Decimal(80), "on_day": YESTERDAY,
        "key": "k",
    }  # fmt: skip
    other: list[Cost] = []
    rounded = spending.rounded

    def slow(amount: Decimal, currency: str) -> Decimal:
        monkeypatch.setattr(spending, "rounded", rounded)
        other.append(spending.write(job, office, **row))  # type: ignore[arg-type]
        return rounded(amount, currency)

    monkeypatch.setattr(spending, "rounded", slow)
    assert spending.write(job, office, **row) == other[0]  # type: ignore[arg-type]
    assert Cost.objects.count() == 1
    assert job.events.filter(what="wrote a cost").count() == 1


# --- the account -------------------------------------------------------------------


def test_the_account_sets_quoted_against_real(
    quote: Quote, office: Any, crew: Any, office_calls: Caller
) -> None:
    job = quote.job
    piece = make_piece(job, family="apron")
    clock.write(
        crew, person=crew, job=job, piece=piece, stage="cutting", day=YESTERDAY,
        minutes=Decimal(45),
    )  # fmt: skip
    office_calls("post", "costs/", **spent(job, part="metal", piece=piece.pk))
    status, told = office_calls("get", f"jobs/{job.pk}/account/")
    assert status == 200
    account = told["account"]
    assert (account["quote"], account["currency"]) == (quote.pk, "USD")
    assert (account["metal"], account["labour"]) == ("80.50", "45.00")
    assert (account["real"], account["minutes"]) == ("125.50", "45.00")
    assert Decimal(account["kept"]) == quote.net - Decimal("125.50")
    rows = {(row["family"], row["stage"]): row for row in told["families"]}
    assert rows["apron", "cutting"]["real"] == "45.00"
    assert rows["apron", ""]["real"] == "80.50"
    assert told["remakes"] == []


# --- who may -----------------------------------------------------------------------


@pytest.fixture
def places(quote: Quote, office: Any) -> list[tuple[str, str]]:
    cost = spending.write(
        quote.job, office, part="hire", words="Lift", amount=Decimal(8), on_day=TODAY
    )
    return [
        ("get", "quotes/"),
        ("post", "quotes/"),
        ("get", f"quotes/{quote.pk}/"),
        ("post", f"quotes/{quote.pk}/accept/"),
        ("post", f"quotes/{quote.pk}/refuse/"),
        ("post", f"quotes/{quote.pk}/lapse/"),
        ("post", f"quotes/{quote.pk}/paper/"),
        ("get", "costs/"),
        ("post", "costs/"),
        ("get", f"costs/{cost.pk}/"),
        ("post", f"costs/{cost.pk}/take_back/"),
        ("get", f"jobs/{quote.job_id}/account/"),
    ]


def test_money_is_not_for_the_crew(
    places: list[tuple[str, str]], quote: Quote, crew_calls: Caller
) -> None:
    sent = {**WORD, "job": quote.job_id, "reason": "So."}
    for how, path in places:
        more = sent if how == "post" else {}
        assert crew_calls(how, path, **more)[0] == 403, path
    quote.refresh_from_db()
    assert quote.state == "offered" and Cost.objects.count() == 1


def test_strangers_get_nothing(
    places: list[tuple[str, str]], stranger_client: Any
) -> None:
    calls = Caller(stranger_client)
    for how, path in [
        *places,
        ("get", "hours/"),
        ("post", "hours/"),
        ("post", "hours/start/"),
        ("post", "hours/stop/"),
    ]:
        assert calls(how, path)[0] == 401, path


@pytest.mark.parametrize("path", ["quotes", "costs", "hours"])
def test_what_is_not_there_is_not_found(path: str, office_client: Any) -> None:
    for pk in ("9999", "9" * 18, "9" * 30, "x"):
        assert office_client.get(f"/api/v1/{path}/{pk}/").status_code == 404


def test_lists_ask_the_database_as_often_for_many_as_for_few(
    job: Job, office: Any, office_client: Any, django_assert_num_queries: Any
) -> None:
    def grow(number: int) -> None:
        for _ in range(number):
            one = make_job(office)
            quoted(one, office)
            clock.write(
                office, person=make_person(), job=one, stage="other", day=YESTERDAY,
                minutes=Decimal(5),
            )  # fmt: skip
            spending.write(
                one, office, part="hire", words="x", amount=Decimal(1), on_day=TODAY
            )

    grow(2)
    asked = {}
    for path in ("quotes", "hours", "costs"):
        with CaptureQueriesContext(connection) as few:
            office_client.get(f"/api/v1/{path}/")
        asked[path] = len(few)
    grow(8)
    for path, number in asked.items():
        with django_assert_num_queries(number):
            office_client.get(f"/api/v1/{path}/")
