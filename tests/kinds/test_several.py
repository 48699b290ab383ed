"""Several sites in one record, laid out in one go."""

from __future__ import annotations

import re
from typing import Any

import pytest

from layout import folder, run
from layout.faults import BadRecord, CannotBuild
from layout.folding.result import LaidSet
from tests import elsewhere, sites


def several(*records: object) -> dict[str, Any]:
    return {"format": "seambook.site/1", "several": list(records)}


def laid(*records: object) -> LaidSet:
    return run.lay_out(several(*records))


def test_each_sites_marks_begin_with_its_number() -> None:
    made = laid(sites.record(), elsewhere.record("pan-zinc-mm"), sites.record())
    marks = [p.mark for p in made.pieces]
    assert len(set(marks)) == len(marks)
    assert {"1-A", "2-RP", "3-A"} <= set(marks)
    for joint in made.joints:
        assert {joint.upper.mark, joint.lower.mark} <= set(marks)
        assert joint.name.startswith(f"{joint.upper.mark} ")
        assert f" over {joint.lower.mark} " in joint.name
    for finding in made.findings:
        assert set(filter(None, finding.where.split(", "))) <= set(marks)


def test_the_pieces_are_those_of_the_sites_alone() -> None:
    names = elsewhere.names()
    made = laid(*(elsewhere.record(name) for name in names))
    alone = [p for name in names for p in elsewhere.laid(name).pieces]
    assert [p.area for p in made.pieces] == [p.area for p in alone]
    assert [p.metal for p in made.pieces] == [p.metal for p in alone]
    assert len(made.findings) == sum(len(elsewhere.laid(n).findings) for n in names)


def test_all_files_of_a_set_are_written() -> None:
    made = laid(elsewhere.record("steps-copper-in"), elsewhere.record("ridge-zinc-mm"))
    names = {name for name, _ in folder.files(made)}
    assert {"1-SF.fold", "2-RC.dxf", "cut-sheets.pdf", "set.json"} <= names


def test_faults_name_the_site() -> None:
    bad = elsewhere.record("ridge-zinc-mm", {"cap.wing": "wide"})
    with pytest.raises(BadRecord) as refusal:
        laid(sites.record(), bad)
    fields = [fault.field for fault in refusal.value.faults]
    assert fields == ["several[1].cap.wing"]


def test_a_site_that_cannot_be_built_does_not_stop_the_others() -> None:
    narrow = elsewhere.record("pan-zinc-mm", {"pan.sheet_width": "100"})
    made = laid(narrow, elsewhere.record("ridge-zinc-mm"))
    assert made.refused[0].startswith("site 1: ")
    assert [p.mark for p in made.pieces] == ["2-RC"]
    with pytest.raises(CannotBuild, match="site 1"):
        laid(narrow)


@pytest.mark.parametrize(
    ("record", "field"),
    [
        (several(), "several"),
        ({**several(sites.record()), "units": "mm"}, "units"),
        ({"several": [sites.record()]}, "format"),
        (several(several(sites.record())), "several"),
        ({**several(), "several": "all"}, "several"),
    ],
)
def test_what_holds_no_sites_is_a_fault(record: object, field: str) -> None:
    with pytest.raises(BadRecord) as refusal:
        run.lay_out(record)
    assert field in [fault.field for fault in refusal.value.faults]


def test_a_sentence_of_a_finding_names_no_mark_of_its_own() -> None:
    # The mark stands beside it, with its place's number: 2-BL, never BL.
    made = laid(sites.record(), sites.record())
    found = [it for it in made.findings if it.rule == "fold left to hand tools"]
    assert {mark[:2] for it in found for mark in it.where.split(", ")} == {"1-", "2-"}
    for it in found:
        own = {mark[2:] for mark in it.where.split(", ")}
        assert not own & set(re.findall(r"\w+", it.message))


def test_null_is_a_place_left_out_whose_number_is_not_given_again() -> None:
    made = laid(None, elsewhere.record("pan-zinc-mm"))
    assert [p.mark for p in made.pieces] == ["2-RP"]
    assert made.site["several"][0] is None
    with pytest.raises(BadRecord) as refused:
        run.lay_out(several(None, None))
    assert "every place left out" in str(refused.value.faults[0])
