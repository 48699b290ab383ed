"""lay_out SITE.json --out DIR: exit codes, files, same bytes, nothing half done."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tests import sites
from tests.command.calls import contents, lay_out, written

ROOT = Path(__file__).parents[2]
LOW = {"back": "falling left", "roof.above": "5", "counterflashing": "none"}
"""Too little metal above for a trough: the back pan can't be built."""


def marks(out: Path) -> list[str]:
    return [p["mark"] for p in json.loads((out / "set.json").read_bytes())["pieces"]]


@pytest.mark.parametrize("name", sites.samples())
def test_every_sample_is_laid_out_whole(name: str, tmp_path: Path) -> None:
    out = tmp_path / "set"
    ran = lay_out(sites.SAMPLES / f"{name}.json", out)
    assert (ran.code, ran.faults) == (0, [])
    wanted = {"set.json"} | {f"{mark}.fold" for mark in marks(out)}
    assert set(contents(out)) - {"cut-plan.json"} == wanted


def test_the_table_has_a_line_a_piece(tmp_path: Path) -> None:
    ran = lay_out(sites.SAMPLES / "flat-back-zinc-mm.json", tmp_path / "set")
    heading, *rows = ran.said
    assert heading.split() == ["mark", "family", "qty", "blank", "proof"]
    assert [row.split()[0] for row in rows][: len(marks(tmp_path / "set"))] == marks(
        tmp_path / "set"
    )
    assert all(" mm x " in row for row in rows[: len(marks(tmp_path / "set"))])


@pytest.mark.parametrize("name", sites.samples())
def test_same_record_same_bytes(name: str, tmp_path: Path) -> None:
    site = sites.SAMPLES / f"{name}.json"
    lay_out(site, tmp_path / "one")
    lay_out(site, tmp_path / "two")
    assert contents(tmp_path / "one") == contents(tmp_path / "two")


def test_set_json_holds_what_the_contract_names(tmp_path: Path) -> None:
    lay_out(sites.SAMPLES / "saddle-copper-in.json", tmp_path / "set")
    made = json.loads((tmp_path / "set" / "set.json").read_bytes())
    assert (made["format"], made["units"]) == ("seambook.set/1", "mm")
    assert made["site"]["penetration"]["front"] == pytest.approx(33 * 25.4)
    assert made["joints"] and made["checks"]
    for piece in made["pieces"]:
        assert {"mark", "family", "hand", "quantity", "blank", "outline"} <= set(piece)
        assert {"area", "weight_kg", "thickness", "metal", "marks"} <= set(piece)
        assert set(piece["blank"]) == {"width", "length"}
        proof = piece["proof"]
        assert set(proof) >= {"closure", "seat", "overlap", "meeting", "shed"}
        assert proof["shed"] is True
        assert [f["order"] for f in piece["folds"]] == list(
            range(1, len(piece["folds"]) + 1)
        )
        for fold in piece["folds"]:
            assert fold["direction"] in ("up", "down")
            assert fold["where"] in ("brake", "hand")


BAD: list[tuple[str, Any, str]] = [
    ("penetration.front", "wide", "penetration.front: "),
    ("penetration.front", -3, "penetration.front: "),
    ("penetration.front", 0, "penetration.front: "),
    ("penetration.front", None, "penetration.front: "),
    ("penetration.front", True, "penetration.front: "),
    ("penetration.front", "12 3/0", "penetration.front: "),
    ("penetration.front", "9999999", "penetration.front: "),
    ("roof.pitch", "8", "roof.pitch: "),
    ("roof.pitch", "95°", "roof.pitch: "),
    ("roof.pitch", "0°", "roof.pitch: "),
    ("roof.seam.fold", "triple", "roof.seam.fold: "),
    ("roof.seam", "double", "roof.seam: "),
    ("walls.reglet", None, "walls.reglet: "),
    ("walls.course", None, "walls.course: "),
    ("metal", "unobtainium", "metal: "),
    ("metal", 20, "metal: "),
    ("build.back", "round", "build.back: "),
    ("build.leg_at_wall_top", "2", "build.leg_at_wall_top: "),
    ("roof.seam.turn", "1 1/2", "roof.seam.turn: "),
    ("units", "cubits", "units: "),
    ("penetration.colour", "red", "penetration.colour: "),
    ("format", "seambook.site/9", "format: "),
    ("walls.material", "brick\n", "walls.material: "),
    ("walls.material", "\ud83d", "walls.material: "),
    ("penetration.\n", 1, 'penetration."'),
]


@pytest.mark.parametrize(("field", "value", "start"), BAD)
def test_a_bad_field_is_named_with_what_was_given_and_what_is_expected(
    field: str, value: Any, start: str, tmp_path: Path
) -> None:
    out = tmp_path / "deep" / "set"
    ran = lay_out(written(tmp_path, sites.record({field: value})), out)
    assert ran.code == 2
    assert len(ran.faults) == 1
    assert ran.faults[0].startswith(start)
    assert "; " in ran.faults[0]
    assert not out.parent.exists()


def test_every_fault_of_a_record_has_a_line_of_its_own(tmp_path: Path) -> None:
    record = sites.record({"roof.pitch": "flat", "metal": 3})
    del record["roof"]["below"]
    ran = lay_out(written(tmp_path, record), tmp_path / "set")
    fields = sorted(line.split(":")[0] for line in ran.faults)
    assert (ran.code, fields) == (2, ["metal", "roof.below", "roof.pitch"])


@pytest.mark.parametrize(
    "text",
    ["", "{", "[]", "null", '"a"', "{}", "\ufeff{}", "[" * 100_000, "NaN", "\x00"],
)
def test_a_file_that_is_no_record_is_refused(text: str, tmp_path: Path) -> None:
    path = tmp_path / "site.json"
    path.write_text(text)
    ran = lay_out(path, tmp_path / "set")
    assert ran.code == 2
    assert len(ran.faults) == 1
    assert not (tmp_path / "set").exists()


def test_a_file_that_is_not_there_or_is_a_folder_is_refused(tmp_path: Path) -> None:
    for path in (tmp_path / "none.json", tmp_path):
        ran = lay_out(path, tmp_path / "set")
        assert (ran.code, len(ran.faults)) == (2, 1)
        assert ran.faults[0].startswith("file: ")


def test_bytes_that_are_no_text_are_refused(tmp_path: Path) -> None:
    path = tmp_path / "site.json"
    path.write_bytes(b"\xff\xfe\x00\x01")
    assert lay_out(path, tmp_path / "set").code == 2


def test_a_folder_that_can_not_be_written_is_named(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    site = sites.SAMPLES / "flat-back-zinc-mm.json"
    ran = lay_out(site, tmp_path / "file")
    assert ran.code == 2
    assert ran.faults[0].startswith("--out: ")
    assert sorted(p.name for p in tmp_path.iterdir()) == ["file"]


def test_unknown_sheets_are_named(tmp_path: Path) -> None:
    site = sites.SAMPLES / "flat-back-zinc-mm.json"
    ran = lay_out(site, tmp_path / "set", sheets="fold,paper")
    assert (ran.code, ran.faults[0][:10]) == (2, "--sheets: ")


# --- sites that can't be built -------------------------------------------------


def test_a_site_that_can_not_be_built_ends_with_3_and_writes_nothing(
    tmp_path: Path,
) -> None:
    ran = lay_out(written(tmp_path, sites.record(LOW)), tmp_path / "set")
    assert ran.code == 3
    assert ran.faults
    assert not (tmp_path / "set").exists()


def test_a_pan_too_narrow_for_the_aprons_ear_is_said_in_words(tmp_path: Path) -> None:
    site = written(tmp_path, sites.record({"roof.left_pan": "1", "back": "flat"}))
    ran = lay_out(site, tmp_path / "set")
    assert ran.code == 3
    assert any(
        line.startswith("Apron: the left pan is 1 in wide") for line in ran.faults
    )


def test_partial_writes_what_can_be_built_and_still_ends_with_3(
    tmp_path: Path,
) -> None:
    site = written(tmp_path, sites.record(LOW))
    ran = lay_out(site, tmp_path / "set", "--partial")
    assert ran.code == 3
    assert ran.faults
    assert "A" in marks(tmp_path / "set")
    assert "B" not in marks(tmp_path / "set")
    made = json.loads((tmp_path / "set" / "set.json").read_bytes())
    assert made["refused"] == ran.faults


def test_partial_of_a_whole_set_is_the_whole_set(tmp_path: Path) -> None:
    site = sites.SAMPLES / "flat-back-zinc-mm.json"
    assert lay_out(site, tmp_path / "one", "--partial").code == 0
    lay_out(site, tmp_path / "two")
    assert contents(tmp_path / "one") == contents(tmp_path / "two")


# --- the folder ------------------------------------------------------------------


def test_files_of_an_earlier_set_go_and_files_of_others_stay(tmp_path: Path) -> None:
    out = tmp_path / "set"
    lay_out(sites.SAMPLES / "saddle-copper-in.json", out)
    (out / "notes.txt").write_text("ours")
    assert (out / "BL.fold").exists()
    lay_out(sites.SAMPLES / "flat-back-zinc-mm.json", out)
    assert not (out / "BL.fold").exists()
    assert (out / "B.fold").exists()
    assert (out / "notes.txt").read_text() == "ours"


def test_a_refused_record_leaves_an_earlier_set_as_it_was(tmp_path: Path) -> None:
    out = tmp_path / "set"
    lay_out(sites.SAMPLES / "saddle-copper-in.json", out)
    before = contents(out)
    for changes in ({"metal": "tin foil"}, LOW):
        assert lay_out(written(tmp_path, sites.record(changes)), out).code in (2, 3)
    assert contents(out) == before


def test_nothing_is_left_beside_the_folder(tmp_path: Path) -> None:
    lay_out(sites.SAMPLES / "saddle-copper-in.json", tmp_path / "set")
    assert [path.name for path in tmp_path.iterdir()] == ["set"]


def test_the_folder_may_be_named_with_folders_before_it(tmp_path: Path) -> None:
    ran = lay_out(sites.SAMPLES / "flat-back-zinc-mm.json", tmp_path / "a" / "b")
    assert ran.code == 0
    assert (tmp_path / "a" / "b" / "set.json").exists()


# --- as a process ------------------------------------------------------------------


def process(*words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, str(ROOT / "manage.py"), "lay_out", *words],
        capture_output=True,
        text=True,
        timeout=120,
        cwd=ROOT,
    )


def test_the_process_writes_all_sheets_the_same_twice(tmp_path: Path) -> None:
    site = str(sites.SAMPLES / "flat-back-zinc-mm.json")
    for name in ("one", "two"):
        ran = process(site, "--out", str(tmp_path / name))
        assert (ran.returncode, ran.stderr) == (0, "")
    one = contents(tmp_path / "one")
    assert one == contents(tmp_path / "two")
    endings = {name.rpartition(".")[2] for name in one}
    assert endings == {"json", "fold", "svg", "dxf", "pdf"}


@pytest.mark.parametrize(("changes", "code"), [({"metal": "gold leaf"}, 2), (LOW, 3)])
def test_the_process_ends_with_its_code_and_no_traceback(
    changes: dict[str, object], code: int, tmp_path: Path
) -> None:
    site = written(tmp_path, sites.record(changes))
    ran = process(str(site), "--out", str(tmp_path / "set"))
    assert ran.returncode == code
    assert ran.stderr.strip()
    assert "Traceback" not in ran.stderr
    assert not (tmp_path / "set").exists()


# --- cases of others ---------------------------------------------------------------

CASES = os.environ.get("SEAMBOOK_CASES", "")


@pytest.mark.skipif(not CASES, reason="SEAMBOOK_CASES names no folder of records")
def test_every_case_of_a_named_folder_is_laid_out_or_refused_in_words(
    tmp_path: Path,
) -> None:
    found = sorted(Path(CASES).glob("*.json"))
    assert found
    for path in found:
        out = tmp_path / path.stem
        ran = lay_out(path, out, sheets="fold,svg,dxf,pdf")
        assert ran.code in (0, 3), (path.name, ran.faults)
        assert out.exists() == (ran.code == 0)
        assert bool(ran.faults) == (ran.code == 3)
