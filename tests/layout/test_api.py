"""The API of layouts: a record in, the set and its files out, and never a 500."""

from __future__ import annotations

import base64
import copy
import json
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from rest_framework.authtoken.models import Token

from jobs import booking
from layout import run
from layout.api import EXAMPLE, LARGEST
from layout.measures import BY_NAME as MEASURES
from layout.set_file import set_file
from shop.models import Brake, Standard
from tests.layout.measured import RECORD, SHEET, measured_job

pytestmark = pytest.mark.usefixtures("opened")

URL = "/api/v1/layouts/"


def _post(client: Any, record: Any, query: str = "") -> Any:
    body = record if isinstance(record, bytes) else json.dumps(record)
    return client.post(URL + query, body, content_type="application/json")


def _changed(path: str, value: Any) -> dict[str, Any]:
    record = copy.deepcopy(RECORD)
    inner: dict[str, Any] = record
    *folders, leaf = path.split(".")
    for folder in folders:
        inner = inner[folder]
    inner[leaf] = value
    return record


def test_a_record_gives_the_set_and_the_files_of_its_pieces(crew_client: Any) -> None:
    answer = _post(crew_client, RECORD)
    assert answer.status_code == 200, answer.content
    told = answer.json()
    assert told["set"] == json.loads(json.dumps(set_file(run.lay_out(RECORD))))
    marks = {piece["mark"] for piece in told["set"]["pieces"]}
    wanted = {f"{mark}.fold" for mark in marks} | {"cut-plan.json"}
    assert set(told["files"]) == wanted
    assert json.loads(told["files"]["A.fold"])["file_spec"] == 1.2


def test_every_sheet_that_is_asked_for_comes(crew_client: Any) -> None:
    told = _post(crew_client, RECORD, "?sheets=svg,dxf,pdf").json()["files"]
    assert "A.fold" not in told
    assert told["A.svg"].startswith("<?xml")
    assert "ENTITIES" in told["A.dxf"]
    assert base64.b64decode(told["cut-sheets.pdf"]).startswith(b"%PDF")


def test_the_example_in_the_description_is_laid_out(crew_client: Any) -> None:
    assert _post(crew_client, EXAMPLE).status_code == 200


def test_the_shops_own_figures_are_laid_out_by(crew_client: Any) -> None:
    before = _post(crew_client, RECORD).json()["set"]
    Standard.objects.filter(key="hem").update(value="15")
    assert _post(crew_client, RECORD).json()["set"] != before


def test_every_fault_of_a_record_is_named(crew_client: Any) -> None:
    record = _changed("roof.pitch", "8")
    record["penetration"]["front"] = "wide"
    del record["walls"]["upstand_side"]
    answer = _post(crew_client, record)
    assert answer.status_code == 400
    faults = {it["field"]: it for it in answer.json()["faults"]}
    assert set(faults) == {"roof.pitch", "penetration.front", "walls.upstand_side"}
    assert faults["penetration.front"]["given"] == 'was "wide"'
    assert "12 3/8" in faults["penetration.front"]["expected"]


@pytest.mark.parametrize(
    ("query", "field"),
    [
        ("?sheets=png", "sheets"),
        ("?partial=1", "partial"),
        ("?allowance=k", "allowance"),
    ],
)
def test_what_the_address_asks_for_is_checked(
    crew_client: Any, query: str, field: str
) -> None:
    answer = _post(crew_client, RECORD, query)
    assert answer.status_code == 400
    assert [it["field"] for it in answer.json()["faults"]] == [field]


def test_a_metal_the_shop_does_not_keep_is_told(crew_client: Any) -> None:
    answer = _post(crew_client, _changed("metal", "gold leaf"))
    assert answer.json()["faults"][0]["field"] == "metal"


def test_what_cannot_be_built_is_a_422_with_reasons(crew_client: Any) -> None:
    Brake.objects.update(active=False)
    answer = _post(crew_client, RECORD)
    assert answer.status_code == 422
    assert "no brake" in answer.json()["reasons"][0]


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"[",
        b"\xff\xfe",
        b"nul",
        b'{"format": NaN}',
        b'{"a": "\\ud800"}',
        b"[" * 50_000,
        b'{"a":' * 900 + b"1" + b"}" * 900,
        b"1" * 5000,
        b"[" * 30 + b"]" * 30,
    ],
)
def test_what_is_no_record_is_a_400_in_words(crew_client: Any, body: bytes) -> None:
    answer = _post(crew_client, body)
    assert answer.status_code == 400
    told = answer.json()
    assert told.get("detail") or told["faults"]


def test_an_enormous_record_is_refused_unread(crew_client: Any) -> None:
    answer = _post(crew_client, b'{"format": "' + b"x" * LARGEST + b'"}')
    assert answer.status_code == 413
    assert str(LARGEST) in answer.json()["detail"]


def test_another_kind_of_body_is_refused(crew_client: Any) -> None:
    answer = crew_client.post(URL, {"format": "seambook.site/1"})
    assert answer.status_code == 415


def test_only_the_shop_lays_out(stranger_client: Any, crew: Any) -> None:
    assert _post(stranger_client, RECORD).status_code == 401
    token = Token.objects.create(user=crew)
    answer = stranger_client.post(
        URL,
        json.dumps(RECORD),
        content_type="application/json",
        headers={"Authorization": f"Token {token.key}"},
    )
    assert answer.status_code == 200


def test_a_job_is_laid_out_and_its_layouts_are_listed(office_client: Any) -> None:
    job = measured_job()
    answer = office_client.post(f"/api/v1/jobs/{job.pk}/layout/")
    assert answer.status_code == 200
    made = answer.json()
    assert (made["state"], made["number"]) == ("done", 1)
    assert made["set"]["format"] == "seambook.set/1"
    other = measured_job()
    office_client.post(f"/api/v1/jobs/{other.pk}/layout/")
    listed = office_client.get(URL, {"job": job.pk}).json()["results"]
    assert [it["id"] for it in listed] == [made["id"]]
    assert "set" not in listed[0]
    whole = office_client.get(f"{URL}{made['id']}/").json()
    assert whole["set"] == made["set"]
    assert len(whole["laid_pieces"]) == len(made["set"]["pieces"])
    assert whole["laid_pieces"][0]["pieces"]


def test_a_job_not_measured_or_not_open_is_told(office_client: Any) -> None:
    job = measured_job(roof_pitch=None)
    answer = office_client.post(f"/api/v1/jobs/{job.pk}/layout/")
    assert answer.status_code == 400
    assert [it["field"] for it in answer.json()["faults"]] == ["roof.pitch"]
    job = measured_job()
    booking.close(job, job.created_by, "off", "sold")
    assert office_client.post(f"/api/v1/jobs/{job.pk}/layout/").status_code == 409
    assert office_client.post("/api/v1/jobs/999/layout/").status_code == 404


def test_the_schema_of_a_record_is_there_for_programs(crew_client: Any) -> None:
    answer = crew_client.get("/api/v1/schemas/chimney/")
    assert answer.json()["properties"]["format"]["const"] == "seambook.site/1"
    missing = crew_client.get("/api/v1/schemas/gutter/")
    assert missing.status_code == 404
    assert "chimney" in missing.json()["detail"]


_WORDS = st.one_of(
    st.sampled_from(
        ["", "0", "-1", "1/0", "12 3/8", "1e99", "9" * 59, "315 mm", "8:12", "90°",
         "none", "½", "NaN", "flat", "saddle", "stepped", "0.001 mm", "10000 mm"]
    ),
    st.text(max_size=20),
)  # fmt: skip
_VALUES = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(min_value=-(10**12), max_value=10**12)
    | st.floats(allow_nan=False)
    | _WORDS,
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(st.text(max_size=8), inner, max_size=3)
    ),
    max_leaves=6,
)
_PATHS = st.sampled_from(
    [
        *(
            f"{outer}.{inner}"
            for outer in ("penetration", "roof", "walls", "build")
            for inner in RECORD[outer]
        ),
        *(f"roof.seam.{inner}" for inner in RECORD["roof"]["seam"]),
        *RECORD,
        "roof.more",
        "pipe",
    ]
)


@settings(
    max_examples=100,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(changes=st.lists(st.tuples(_PATHS, _VALUES), min_size=1, max_size=4))
def test_no_record_breaks_it(crew_client: Any, changes: list[tuple[str, Any]]) -> None:
    record = copy.deepcopy(RECORD)
    for path, value in changes:
        inner: Any = record
        *folders, leaf = path.split(".")
        for folder in folders:
            inner = inner.get(folder) if isinstance(inner, dict) else None
        if isinstance(inner, dict):
            inner[leaf] = value
    body = json.dumps(record).encode("utf-8", "surrogatepass")
    answer = _post(crew_client, body)
    assert answer.status_code in (200, 400, 422)
    told = answer.json()
    assert (
        told.get("set") or told.get("faults") or told.get("reasons") or told["detail"]
    )
    for fault in told.get("faults", []):
        assert fault["field"] and fault["given"] and fault["expected"]


_NUMBERS = st.fractions(min_value=0, max_value=60, max_denominator=16).map(
    lambda it: float(it)
)


@settings(
    max_examples=40,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(
    sizes=st.dictionaries(
        st.sampled_from([name for name in SHEET if MEASURES[name].reads == "length"]),
        _NUMBERS,
        max_size=5,
    ),
    back=st.sampled_from(["flat", "falling left", "falling right", "saddle"]),
    cover=st.sampled_from(["none", "level and raked", "stepped"]),
    pitch=st.floats(min_value=1, max_value=80).map(lambda it: f"{it:.1f}°"),
)
def test_no_size_breaks_it(
    crew_client: Any, sizes: dict[str, float], back: str, cover: str, pitch: str
) -> None:
    record = copy.deepcopy(RECORD)
    for path, size in {
        **sizes,
        "build.back": back,
        "build.counterflashing": cover,
        "roof.pitch": pitch,
    }.items():
        inner: dict[str, Any] = record
        *folders, leaf = path.split(".")
        for folder in folders:
            inner = inner[folder]
        inner[leaf] = size
    answer = _post(crew_client, record)
    assert answer.status_code in (200, 400, 422)
