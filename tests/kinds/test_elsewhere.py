"""Promises of every kind of record elsewhere on the roof."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import pytest

from layout import folder, run, site_record
from layout.faults import BadRecord
from layout.folding import proof
from layout.kinds import ASSEMBLE, SENSE
from tests import elsewhere

NAMES = elsewhere.names()


def kind(record: dict[str, object]) -> str:
    return next(name for name in site_record.SCHEMA_OF if name in record)


def test_every_kind_is_in_all_three_tables() -> None:
    assert set(SENSE) == set(ASSEMBLE) == set(site_record.SCHEMA_OF)
    shipped = {path.stem for path in site_record.SCHEMAS.glob("*.json")}
    assert shipped == {*site_record.SCHEMA_OF.values(), "several"}


@pytest.mark.parametrize("name", NAMES)
def test_records_are_valid_by_their_schema(name: str) -> None:
    record = elsewhere.record(name)
    schema = site_record.schema(site_record.SCHEMA_OF[kind(record)])
    jsonschema.validate(record, schema)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("allowance", ["none", "din6935", "handbook"])
def test_every_piece_is_proven(name: str, allowance: str) -> None:
    made = run.lay_out(elsewhere.record(name), allowance=allowance)  # type: ignore[arg-type]
    assert made.pieces and made.refused == ()
    for piece in made.pieces:
        figures = piece.proof
        lengths = (figures.closure, figures.seat, figures.overlap, figures.meeting)
        assert max(lengths) <= 1e-6 and figures.shed
        assert proof.overlap(piece.pattern) < 1e-6


@pytest.mark.parametrize("name", NAMES)
def test_the_same_record_gives_the_same_bytes(name: str, tmp_path: Path) -> None:
    sheets = ("svg", "dxf", "fold")
    first, second = (
        dict(folder.files(run.lay_out(elsewhere.record(name)), sheets))
        for _ in range(2)
    )
    assert first == second
    written = json.loads(first["set.json"])
    assert {f"{p['mark']}.svg" for p in written["pieces"]} <= set(first)


@pytest.mark.parametrize("name", NAMES)
def test_cut_sheets_are_drawn(name: str) -> None:
    made = elsewhere.laid(name)
    sheets = dict(folder.files(made, ("pdf",)))["cut-sheets.pdf"]
    assert sheets.startswith(b"%PDF")


@pytest.mark.parametrize("name", NAMES)
def test_every_finding_says_where_it_comes_from(name: str) -> None:
    for finding in elsewhere.laid(name).findings:
        assert finding.source and finding.message and finding.remedy
        assert finding.level != "blocking"


@pytest.mark.parametrize("name", NAMES)
def test_a_missing_field_is_named(name: str) -> None:
    record = elsewhere.record(name)
    part = record[kind(record)]
    schema = site_record.schema(site_record.SCHEMA_OF[kind(record)])
    for field in schema["properties"][kind(record)]["required"]:
        bad = json.loads(json.dumps(record))
        del bad[kind(record)][field]
        with pytest.raises(BadRecord) as refusal:
            site_record.read(bad)
        assert f"{kind(record)}.{field}" in {f.field for f in refusal.value.faults}
    assert set(part) <= set(schema["properties"][kind(record)]["properties"])
