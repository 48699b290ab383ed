from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from typing import Any

import pytest
from django.db import IntegrityError, transaction
from django.utils import timezone

from jobs import looks
from jobs.models import LooksRule
from tests.world import make_job, make_rule

pytestmark = pytest.mark.django_db

ASKED = {
    "rule-kind": "seam_height",
    "rule-words": "As high as the old ones",
    "rule-number": "1",
    "rule-who_asked": "Marigold Quill",
}


def test_a_rule_is_asked_for_with_its_length(office_client: Any) -> None:
    job = make_job()
    answer = office_client.post(f"/jobs/{job.pk}/looks/", ASKED)
    rule = LooksRule.objects.get()
    assert answer.url == f"/jobs/{job.pk}/#looks"
    assert (rule.number_mm, rule.standing) == (Decimal("25.4"), "asked")


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"rule-number": ""}, "checked against a length"),
        ({"rule-kind": "no_sealant"}, "has no length to check"),
        ({"rule-number": "tall"}, "tall is not a number a tape shows"),
        ({"rule-who_asked": ""}, "Name the person who asked"),
        (
            {"rule-kind": "counterflashing", "rule-number": ""},
            "say stepped or raked, one of the two",
        ),
    ],
)
def test_a_faulty_rule_is_told_on_the_job_and_kept(
    given: dict[str, str], told: str, office_client: Any
) -> None:
    job = make_job()
    answer = office_client.post(f"/jobs/{job.pk}/looks/", {**ASKED, **given})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert told in page
    assert "As high as the old ones" in page
    assert not LooksRule.objects.exists()


@pytest.mark.parametrize("standing", ["agreed", "waived"])
def test_the_word_of_the_client_is_written_down(
    standing: str, office_client: Any
) -> None:
    rule = make_rule()
    word = {"standing": standing, "settled_by": "M. Quill", "settled_on": "2026-11-20"}
    answer = office_client.post(f"/looks/{rule.pk}/settle/", word)
    assert answer.status_code == 302
    rule.refresh_from_db()
    assert (rule.standing, rule.settled_by, rule.settled_on) == (
        standing,
        "M. Quill",
        date(2026, 11, 20),
    )
    event = rule.job.events.first()
    assert event is not None
    assert (event.what, event.reason) == (standing, "Word of M. Quill")


def test_a_word_wants_a_name_and_a_day_gone_by(office_client: Any) -> None:
    rule = make_rule()
    tomorrow = timezone.localdate() + timedelta(days=1)
    word = {"standing": "agreed", "settled_by": "", "settled_on": tomorrow.isoformat()}
    answer = office_client.post(f"/looks/{rule.pk}/settle/", word)
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "Name the person on the client’s side" in page
    assert "is still to come" in page


def test_the_same_word_twice_is_told(office: Any) -> None:
    rule = looks.settle(make_rule(), office, "agreed", "M. Quill", date(2026, 11, 20))
    with pytest.raises(ValueError, match="agreed already, by the word of M. Quill"):
        looks.settle(rule, office, "agreed", "M. Quill", date(2026, 11, 21))


def test_an_agreed_rule_may_be_waived_later(office: Any) -> None:
    rule = looks.settle(make_rule(), office, "agreed", "M. Quill", date(2026, 11, 20))
    rule = looks.settle(rule, office, "waived", "M. Quill", date(2026, 11, 21))
    assert not LooksRule.objects.binding().exists()
    whats = list(rule.job.events.values_list("what", flat=True))
    assert whats[:2] == ["waived", "agreed"]


def test_looks_are_the_offices(crew_client: Any, office_client: Any) -> None:
    rule = make_rule()
    assert crew_client.post(f"/jobs/{rule.job_id}/looks/", ASKED).status_code == 403
    assert crew_client.get(f"/looks/{rule.pk}/settle/").status_code == 403
    assert office_client.get(f"/jobs/{rule.job_id}/looks/").status_code == 405
    assert office_client.get("/looks/99999/settle/").status_code == 404


@pytest.mark.parametrize(
    "broken",
    [
        {"standing": "agreed"},
        {"settled_by": "M. Quill"},
        {"number_mm": 0},
        {"words": ""},
        {"who_asked": ""},
    ],
)
def test_the_database_keeps_its_promises(broken: dict[str, Any]) -> None:
    rule = make_rule()
    with pytest.raises(IntegrityError), transaction.atomic():
        LooksRule.objects.filter(pk=rule.pk).update(**broken)
