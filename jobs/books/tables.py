"""A table of the books: what is shown and what goes into its CSV, cell by cell."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import NamedTuple

from shop.money import show_money

Raw = str | int | Decimal | None


class Cell(NamedTuple):
    """shown: with its unit; raw: for a program, plain; link: address, if any"""

    shown: str
    raw: Raw
    is_number: bool = False
    link: str = ""


@dataclass(slots=True)
class Table:
    """head: (words, words in the CSV with its unit) a column"""

    head: Sequence[tuple[str, str]]
    rows: list[list[Cell]] = field(default_factory=list)

    def add(self, *cells: Cell) -> None:
        if len(cells) != len(self.head):
            raise ValueError(f"{len(cells)} cells under {len(self.head)} heads")
        self.rows.append(list(cells))

    def heads(self) -> list[tuple[str, bool]]:
        """Words of each column, and whether it holds numbers."""
        first = self.rows[0] if self.rows else []
        numbers = [cell.is_number for cell in first] or [False] * len(self.head)
        return [
            (words, number)
            for (words, _), number in zip(self.head, numbers, strict=True)
        ]

    def as_csv(self) -> str:
        stream = io.StringIO()
        writer = csv.writer(stream, lineterminator="\r\n")
        writer.writerow([words for _, words in self.head])
        writer.writerows(_plain(row) for row in self.rows)
        return stream.getvalue()


def _plain(row: Iterable[Cell]) -> list[str]:
    return [_safe(cell.raw) for cell in row]


def _safe(raw: Raw) -> str:
    """No spreadsheet takes words for a formula."""
    if raw is None:
        return ""
    if isinstance(raw, str) and raw[:1] in "=+-@\t\r":
        return f"'{raw}"
    if isinstance(raw, Decimal):
        return f"{raw:f}"
    return str(raw)


def word(words: str, link: str = "") -> Cell:
    return Cell(words, words, link=link)


def count(number: int) -> Cell:
    return Cell(f"{number:,}".replace(",", "\u00a0"), number, True)


def money(amount: Decimal | None, currency: str) -> Cell:
    if amount is None:
        return Cell("", None, True)
    return Cell(show_money(amount, currency), amount, True)


def minutes(amount: Decimal | None, decimals: int = 0) -> Cell:
    """Hours and minutes shown, minutes kept."""
    if amount is None:
        return Cell("", None, True)
    exact = amount.quantize(Decimal("0.01"))
    if abs(amount) < 60:
        shown = f"{amount:.{decimals}f} min"
    else:
        whole = int(amount.to_integral_value())
        number = f"{whole // 60:,}".replace(",", "\u00a0")
        shown = f"{number} h {whole % 60} min" if whole % 60 else f"{number} h"
    return Cell(shown.replace("-", "−"), exact, True)


def share(part: Decimal | None) -> Cell:
    """0.124 -> +12.4 %"""
    if part is None:
        return Cell("", None, True)
    return Cell(
        f"{part * 100:+.1f}\u00a0%".replace("-", "−"),
        (part * 100).quantize(Decimal("0.1")),
        True,
    )
