"""Whatever is put into a record: an exit code of ours, in words, no half folder."""

from __future__ import annotations

import copy
import json
import tempfile
from pathlib import Path
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests import sites
from tests.command.calls import Ran, contents, lay_out

QUICK = settings(
    max_examples=150,
    deadline=None,
    derandomize=True,
    database=None,
    suppress_health_check=[HealthCheck.too_slow],
)

ODD = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(),
    st.sampled_from([0, -1, 10**6, 10**30, -(10**400), 1e-300, 1e308]),
    st.floats(allow_nan=True, allow_infinity=True),
    st.text(max_size=80),
    st.sampled_from(
        [
            "",
            " ",
            "12 3/8",
            "-12",
            "1e5",
            "NaN",
            "12,5",
            "1,000",
            "½",
            "٣",
            "12 3/8\n",
            "8:0",
            "0:12",
            "90°",
            "1' 13\"",
            "9" * 200,
            "𝟛𝟞",
            "\ud83d",
            "\x00",
            "inf",
            "999999 m",
            "0.0000001",
            "{0}",
            "%s",
        ]
    ),
    st.lists(st.integers(), max_size=3),
    st.dictionaries(st.text(max_size=5), st.integers(), max_size=3),
)


def paths(record: dict[str, Any], start: tuple[str, ...] = ()) -> list[tuple[str, ...]]:
    """Every field of a record, rooms and leaves."""
    found: list[tuple[str, ...]] = []
    for name, value in record.items():
        found.append((*start, name))
        if isinstance(value, dict):
            found += paths(value, (*start, name))
    return found


@st.composite
def spoiled(draw: st.DrawFn) -> dict[str, Any]:
    """A sample with one to three fields taken out, added or changed."""
    record = copy.deepcopy(sites.sample(draw(st.sampled_from(sites.samples()))))
    for _ in range(draw(st.integers(1, 3))):
        *rooms, last = draw(st.sampled_from(paths(record)))
        inner = record
        for room in rooms:
            inner = inner[room]
        act = draw(st.sampled_from(["change", "change", "change", "remove", "add"]))
        if act == "remove":
            del inner[last]
        elif act == "add":
            inner[draw(st.text(max_size=20))] = draw(ODD)
        else:
            inner[last] = draw(ODD)
    return record


def run_on(text: bytes) -> tuple[Ran, dict[str, bytes]]:
    """The command on a file of these bytes; what stands in the folder after."""
    with tempfile.TemporaryDirectory() as held:
        site, out = Path(held) / "site.json", Path(held) / "set"
        site.write_bytes(text)
        ran = lay_out(site, out)
        beside = {path.name for path in Path(held).iterdir()} - {"site.json"}
        made = contents(out) if out.exists() else {}
    assert beside == ({"set"} if made else set())
    return ran, made


def judged(text: bytes) -> Ran:
    """A run that ended as it may: whole and silent, or refused with nothing."""
    ran, made = run_on(text)
    assert ran.code in (0, 2, 3), ran
    if ran.code == 0:
        assert not ran.faults
        marks = [p["mark"] for p in json.loads(made["set.json"])["pieces"]]
        assert {f"{mark}.fold" for mark in marks} <= set(made)
    else:
        assert ran.faults and not made
        assert all(len(line) < 600 for line in ran.faults)
        assert ran.said == []
    return ran


@QUICK
@given(record=spoiled())
def test_a_spoiled_record_is_laid_out_or_refused_in_words(
    record: dict[str, Any],
) -> None:
    ran = judged(json.dumps(record).encode())
    if ran.code == 2:
        assert all(": " in line and "; " in line for line in ran.faults), ran.faults


@QUICK
@given(record=st.recursive(ODD, lambda inner: st.lists(inner, max_size=3)))
def test_any_json_value_is_refused(record: Any) -> None:
    assert judged(json.dumps(record).encode()).code == 2


@QUICK
@given(text=st.binary(max_size=200))
def test_any_bytes_are_refused(text: bytes) -> None:
    assert judged(text).code == 2


SIZES = st.one_of(
    st.integers(1, 4000).map(float), st.sampled_from([0.001, 0.4, 1.0, 9999.0])
)


@st.composite
def strange_sites(draw: st.DrawFn) -> dict[str, Any]:
    """A readable record with measures no roof has."""
    changes: dict[str, object] = {"units": "mm"}
    for path in (
        "width",
        "depth",
        "roof.left_pan",
        "roof.right_pan",
        "roof.below",
        "roof.above",
        "walls.upstand_front",
        "walls.upstand_side",
        "walls.upstand_back",
        "walls.reglet",
        "walls.course",
        "build.sweep_radius",
    ):
        if draw(st.booleans()):
            changes[path] = draw(SIZES)
        else:
            changes[path] = {"roof.above": 900.0}.get(path, 300.0)
    height = draw(st.sampled_from([0.5, 12.0, 25.0, 140.0]))
    changes["roof.seam.height"] = height
    changes["roof.seam.turn"] = min(height, draw(st.sampled_from([0.5, 10.0, 49.0])))
    changes["build.leg_at_wall_top"] = height * draw(st.sampled_from([0.1, 0.5, 1.0]))
    changes["roof.seam.fold"] = draw(st.sampled_from(["single", "double"]))
    changes["roof.pitch"] = f"{draw(st.integers(1, 80))}°"
    changes["back"] = draw(
        st.sampled_from(["flat", "falling left", "falling right", "saddle"])
    )
    changes["counterflashing"] = draw(
        st.sampled_from(["none", "level and raked", "stepped"])
    )
    return sites.record(changes)


@QUICK
@given(record=strange_sites())
def test_measures_no_roof_has_are_laid_out_or_refused_in_words(
    record: dict[str, Any],
) -> None:
    judged(json.dumps(record).encode())
