"""The folder of one laid set: every file whole, or nothing.

Takes a LaidSet, gives bytes by file name, and writes them.
"""

from __future__ import annotations

import json
import os
import tempfile
from collections.abc import Collection, Iterator
from pathlib import Path
from typing import Any

from layout.cut_plan import cut_plan
from layout.folding.fold_file import fold_file
from layout.folding.result import LaidSet
from layout.set_file import set_file

SHEETS = ("pdf", "svg", "dxf", "fold")
PAPERS = {"in": "letter", "mm": "a4"}


def files(
    laid: LaidSet, sheets: Collection[str] = SHEETS, paper: str = ""
) -> Iterator[tuple[str, bytes]]:
    """Name and bytes of every file of the set. Same set, same bytes.

    sheets: any of pdf, svg, dxf, fold; set.json and cut-plan.json always come
    paper: "letter" or "a4"; by the site's units where not said
    """
    yield "set.json", as_json(set_file(laid))
    yield "cut-plan.json", as_json(cut_plan(laid))
    for piece in laid.pieces:
        # A curved piece has no folds, so it has no FOLD file.
        if "fold" in sheets and piece.pattern.faces:
            yield f"{piece.mark}.fold", as_json(fold_file(piece))
        # The drawing libraries are heavy; they are fetched only where asked for.
        if "svg" in sheets:
            from layout.drawing.piece_files import piece_svg

            yield f"{piece.mark}.svg", piece_svg(piece, laid.units)
        if "dxf" in sheets:
            from layout.drawing.piece_files import piece_dxf

            yield f"{piece.mark}.dxf", piece_dxf(piece)
    if "pdf" in sheets:
        from layout.drawing.about import About
        from layout.drawing.cut_sheet import cut_sheets_pdf

        about = About(sides=laid.sides)
        sheet = paper or PAPERS[laid.units]
        yield "cut-sheets.pdf", cut_sheets_pdf(laid, about, sheet)


def as_json(value: Any) -> bytes:
    """JSON as we write it: UTF-8, one indent, a line's end at the end."""
    return (json.dumps(value, ensure_ascii=False, indent=1) + "\n").encode()


def write(folder: Path, made: Collection[tuple[str, bytes]]) -> None:
    """Puts the files into the folder, each whole. Files of an earlier set in
    the same folder that this one lacks are taken away.

    Raises OSError where the folder can't be written; then nothing is.
    """
    names = {name for name, _ in made}
    parent = folder.resolve().parent
    parent.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=parent, prefix=".seambook-") as held:
        for name, content in made:
            (Path(held) / name).write_bytes(content)
        stale = _earlier(folder) - names
        folder.mkdir(exist_ok=True)
        for name in names:
            os.replace(Path(held) / name, folder / name)
    for name in stale:
        (folder / name).unlink(missing_ok=True)


def _earlier(folder: Path) -> set[str]:
    """Names of the files an earlier set wrote here."""
    try:
        written = json.loads((folder / "set.json").read_bytes())
        marks = [piece["mark"] for piece in written["pieces"]]
    except (OSError, ValueError, KeyError, TypeError):
        return set()
    endings = ("fold", "svg", "dxf")
    found = {f"{mark}.{ending}" for mark in marks for ending in endings}
    return {name for name in found if "/" not in name} | {"cut-sheets.pdf"}
