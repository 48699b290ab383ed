"""The JSON Schemas that ship with the project, read by an independent library."""

from __future__ import annotations

from typing import Any

import jsonschema
import pytest
from referencing import Registry, Resource

from layout import run
from layout.faults import BadRecord
from layout.site_record import SCHEMAS, bundled, schema
from tests import elsewhere, sites

NAMES = sorted(path.stem for path in SCHEMAS.glob("*.json"))


@pytest.mark.parametrize("name", NAMES)
def test_every_schema_is_a_schema(name: str) -> None:
    jsonschema.Draft202012Validator.check_schema(schema(name))


@pytest.mark.parametrize("name", sites.samples())
def test_every_sample_is_valid(name: str) -> None:
    jsonschema.validate(sites.sample(name), schema("chimney"))


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("units", "cubits"),
        ("penetration.front", None),
        ("penetration.front", [36]),
        ("penetration.extra", 1),
        ("build.back", "round"),
        ("metal", ""),
        ("roof.seam", "double"),
    ],
)
def test_the_schema_refuses_what_the_command_refuses(field: str, value: Any) -> None:
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(sites.record({field: value}), schema("chimney"))


def _fields(rule: dict[str, Any], path: str = "") -> list[tuple[str, dict[str, Any]]]:
    found = []
    for name, inner in rule.get("properties", {}).items():
        here = f"{path}.{name}" if path else name
        found.append((here, inner))
        found += _fields(inner, here)
    return found


@pytest.mark.parametrize("name", NAMES)
def test_every_field_says_what_it_means(name: str) -> None:
    for path, rule in _fields(schema(name)):
        assert rule.get("description", "").endswith("."), path


# --- several places -----------------------------------------------------------------

ALL = Registry().with_resources(
    (f"{name}.json", Resource.from_contents(schema(name))) for name in NAMES
)
SEVERAL = jsonschema.Draft202012Validator(schema("several"), registry=ALL)


def several(*records: object) -> dict[str, object]:
    return {"format": "seambook.site/1", "several": list(records)}


def test_several_places_of_any_kind_are_valid() -> None:
    every = [elsewhere.record(name) for name in elsewhere.names()]
    SEVERAL.validate(several(sites.record(), None, *every))


def test_the_bundle_for_programs_reads_the_same() -> None:
    record = several(sites.record(), None, elsewhere.record("pan-zinc-mm"))
    bundle = jsonschema.Draft202012Validator(bundled("several"))
    bundle.validate(record)
    assert not bundle.is_valid(several({**sites.record(), "units": "ft"}))
    assert bundled("pan") == schema("pan")


def test_the_schema_knows_every_kind_of_place() -> None:
    kinds = schema("several")["properties"]["several"]["items"]["oneOf"]
    named = {kind["$ref"] for kind in kinds if "$ref" in kind}
    assert named == {f"{name}.json" for name in NAMES if name != "several"}


@pytest.mark.parametrize(
    "records",
    [[], [None], [{}], [{"several": []}], [{**sites.record(), "units": "ft"}]],
)
def test_the_schema_of_several_refuses_what_the_command_refuses(
    records: list[object],
) -> None:
    assert not SEVERAL.is_valid(several(*records))
    with pytest.raises(BadRecord):
        run.lay_out(several(*records))
