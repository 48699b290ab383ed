"""What the description of the API allows, and what it does not, is sent to it."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from jobs import clock, spending
from tests.jobs.test_money_api import TODAY, quoted
from tests.priced import price_all
from tests.world import make_job, make_piece, make_rule, measure

pytestmark = pytest.mark.django_db

OURS = (
    "clients",
    "jobs",
    "looks",
    "sites",
    "measurements",
    "pieces",
    "events",
    "quotes",
    "hours",
    "costs",
    "prices",
)
LIFT: dict[str, Any] = {
    "part": "hire",
    "words": "Lift",
    "amount": Decimal(80),
    "on_day": TODAY,
}


@pytest.fixture
def described(office_client: Any) -> Any:
    schemathesis = pytest.importorskip("schemathesis")
    answer = office_client.get("/api/v1/schema/", {"format": "json"})
    return schemathesis.openapi.from_dict(answer.json())


def test_nothing_that_is_sent_breaks_the_api(
    described: Any, office_client: Any, office: Any, owner: Any, opened: None
) -> None:
    price_all(owner)
    job = make_job()
    site = job.sites.get()
    there = {
        "clients": job.client_id,
        "jobs": job.pk,
        "looks": make_rule(job).pk,
        "sites": site.pk,
        "measurements": measure(site).pk,
        "pieces": make_piece(job).pk,
        "quotes": quoted(job, office).pk,
        "hours": clock.start(office, job=job, stage="other").pk,
        "costs": spending.write(job, office, **LIFT).pk,
    }
    ways = [way.ok() for way in described.get_all_operations()]
    ways = [way for way in ways if way.path.split("/")[3] in OURS]
    assert len(ways) > 40

    @settings(
        max_examples=450,
        deadline=None,
        derandomize=True,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(st.data())
    def send(data: Any) -> None:
        way = data.draw(st.sampled_from(ways))
        case = data.draw(way.as_strategy())
        if case.path_parameters and data.draw(st.integers(0, 4)):
            # Most random numbers are nobody's: mostly ask for what is there.
            case.path_parameters["id"] = there[way.path.split("/")[3]]
        status, words = _sent(office_client, case)
        assert status < 500, (way.method, case.formatted_path, case.body, words)
        documented = way.definition.raw["responses"]
        assert str(status) in documented, (way.method, way.path, status, words)

    send()


def _sent(client: Any, case: Any) -> tuple[int, str]:
    from urllib.parse import urlencode

    import schemathesis

    nothing = isinstance(case.body, type(schemathesis.core.NOT_SET))
    answer = client.generic(
        case.method.upper(),
        case.formatted_path,
        data="" if nothing else _json(case.body),
        content_type="application/json",
        query_string=urlencode(case.query or {}, doseq=True),
    )
    return answer.status_code, answer.content.decode()[:400]


def _json(body: Any) -> bytes:
    import json

    if isinstance(body, bytes):
        return body
    return json.dumps(body).encode()
