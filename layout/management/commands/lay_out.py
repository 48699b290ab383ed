"""lay_out SITE.json --out DIR: one measured site into one folder."""

from __future__ import annotations

import json
import sys
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand

from layout import folder, run
from layout.faults import BadRecord, CannotBuild, Fault
from layout.folding.allowance import RULES
from layout.folding.result import LaidSet
from shop.units import Unit, show_length

BAD_INPUT, CANNOT_BUILD = 2, 3
LARGEST = 1_000_000


class Command(BaseCommand):
    help = "Lay out one measured site: proven flat patterns, cut sheets, set.json."
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("site", help="a site record, seambook.site/1")
        parser.add_argument("--out", required=True, help="the folder to write")
        parser.add_argument(
            "--allowance", choices=RULES, help="the shop's own if not said"
        )
        parser.add_argument(
            "--sheets",
            default=",".join(folder.SHEETS),
            help="any of pdf,svg,dxf,fold (all of them if not said)",
        )
        parser.add_argument(
            "--partial",
            action="store_true",
            help="write the pieces that can be built where some can't",
        )

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            laid = run.lay_out(_record(options["site"]), allowance=options["allowance"])
            if laid.refused and not options["partial"]:
                raise CannotBuild(list(laid.refused))
            made = list(folder.files(laid, _sheets(options["sheets"])))
            _write(Path(options["out"]), made)
        except BadRecord as bad:
            self.end(BAD_INPUT, [str(fault) for fault in bad.faults])
        except CannotBuild as cannot:
            self.end(CANNOT_BUILD, cannot.reasons)
        self.stdout.write(_table(laid))
        if laid.refused:
            self.end(CANNOT_BUILD, list(laid.refused))

    def end(self, code: int, lines: list[str]) -> None:
        """One line a fault on standard error, then the exit code."""
        for line in lines:
            self.stderr.write(line)
        sys.exit(code)


def _record(name: str) -> object:
    """The parsed file. Raises BadRecord where it is no JSON."""
    try:
        with open(name, "rb") as file:
            raw = file.read(LARGEST + 1)
    except OSError as fault:
        words = fault.strerror or "can't be read"
        raise BadRecord([Fault("file", f"{name}: {words}", "name a file")]) from fault
    if len(raw) > LARGEST:
        raise BadRecord(
            [Fault("file", f"{name}: over 1 MB", "give one site record, a few kB")]
        )
    try:
        parsed: object = json.loads(raw)
    except (ValueError, RecursionError) as fault:
        why = str(fault).split("\n")[0][:80]
        raise BadRecord(
            [Fault("file", f"{name}: no JSON, {why}", "give a JSON object")]
        ) from fault
    return parsed


def _sheets(words: str) -> list[str]:
    sheets = [word.strip() for word in words.split(",") if word.strip()]
    for sheet in sheets:
        if sheet not in folder.SHEETS:
            known = ", ".join(folder.SHEETS)
            raise BadRecord(
                [Fault("--sheets", f'was "{sheet}"', f"give any of {known}")]
            )
    return sheets


def _write(out: Path, made: list[tuple[str, bytes]]) -> None:
    try:
        folder.write(out, made)
    except OSError as fault:
        words = fault.strerror or "can't be written"
        raise BadRecord(
            [Fault("--out", f"{out}: {words}", "name a folder that can be written")]
        ) from fault


def _table(laid: LaidSet) -> str:
    """Mark, family, quantity, blank and proof, a line a piece."""
    unit: Unit = laid.units
    rows = [("mark", "family", "qty", "blank", "proof")]
    for piece in laid.pieces:
        width, length = piece.pattern.size()
        figures = piece.proof
        worst = max(figures.closure, figures.seat, figures.overlap, figures.meeting)
        rows.append(
            (
                piece.mark,
                piece.family,
                str(piece.quantity),
                f"{show_length(width, unit)} x {show_length(length, unit)}",
                f"fits within {worst:.6f} mm, sheds",
            )
        )
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    return "\n".join(
        "  ".join(
            cell.ljust(size) for cell, size in zip(row, widths, strict=True)
        ).rstrip()
        for row in rows
    )
