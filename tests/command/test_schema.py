"""The JSON Schemas that ship with the project, read by an independent library."""

from __future__ import annotations

from typing import Any

import jsonschema
import pytest

from layout.site_record import SCHEMAS, schema
from tests import sites

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
