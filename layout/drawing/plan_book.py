"""The paper of a cut plan: the list, then each stock with its cuts in order.

Takes plain values, gives pages; the same values give the same bytes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from layout.drawing import lettering
from layout.drawing.about import About
from layout.drawing.frame import LINE, UNDER_HEAD, Book, title_head
from layout.drawing.paper import Box, paper_named
from layout.drawing.pdf import PdfPen
from layout.drawing.pen import NARROW, Page, Pen, replay
from layout.drawing.plan_sheet import DrawnStock, draw_stock, height_for
from layout.geometry.point import Point

ROW = 6.8
TEXT = 3.5
LEAST_TABLE = 30.0
"""Height kept under a drawing for the first rows of its cuts, mm."""


@dataclass(frozen=True, slots=True)
class Listed:
    """One row of the cut list: cells as they are printed."""

    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PlanPaper:
    """What the paper says. facts: short lines under its title

    take: what to take from the rack or to order; blanks: what comes out
    """

    title: str
    facts: tuple[str, ...]
    take: tuple[Listed, ...]
    blanks: tuple[Listed, ...]
    stocks: tuple[DrawnStock, ...]


TAKE = ("No.", "Take", "Size", "Leans")
BLANKS = ("Mark", "Copies", "Blank", "Job", "From")
CUTS = ("Cut", "Set the stop", "Comes free")


def plan_pages(plan: PlanPaper, about: About, paper: str) -> list[Page]:
    """Every page of the plan as strokes. Raises ValueError for an unknown paper."""
    book = Book(paper_named(paper), about)
    pen = book.sheet("what to take")
    room = title_head(pen, book.paper, plan.title, about.paper_number or "Cut plan")
    y = room.top
    for words in plan.facts:
        y -= LINE + 0.8
        pen.text(
            Point(room.left, y), lettering.shortened(words, TEXT, room.width), TEXT
        )
    below = Box(room.left, room.bottom, room.right, y - 4)
    pen, below = _table(book, pen, below, "What to take", TAKE, plan.take, TAKE_AT)
    _table(book, pen, below, "What comes out", BLANKS, plan.blanks, BLANKS_AT)
    for number, stock in enumerate(plan.stocks, start=1):
        _stock(book, number, stock)
    return book.finished()


def plan_pdf(plan: PlanPaper, about: About, paper: str) -> bytes:
    """The plan as a PDF."""
    pen = PdfPen(plan.title)
    replay(plan_pages(plan, about, paper), pen)
    return pen.ink()


TAKE_AT = (0.0, 0.06, 0.42, 0.72)
BLANKS_AT = (0.0, 0.12, 0.24, 0.5, 0.78)
CUTS_AT = (0.0, 0.09, 0.55)
"""Shares of the width at which columns begin."""


def _stock(book: Book, number: int, stock: DrawnStock) -> None:
    title = f"{number}. {stock.name}"
    pen = book.sheet(title)
    room = title_head(pen, book.paper, title, stock.told)
    high = min(height_for(stock, room.width), room.height - LEAST_TABLE)
    details = draw_stock(
        pen, stock, Box(room.left, room.top - high, room.right, room.top)
    )
    below = Box(room.left, room.bottom, room.right, room.top - high - 1)
    for detail in details:
        pen, below = _detail(book, pen, below, title, detail)
    rows = [
        Listed((f"{cut.order}{', made' if cut.done else ''}", cut.told, cut.gives))
        for cut in stock.cuts
    ]
    _table(book, pen, below, "", CUTS, rows, CUTS_AT, f"{title}, continued")


def _detail(
    book: Book, pen: Pen, room: Box, title: str, detail: DrawnStock
) -> tuple[Pen, Box]:
    """A part drawn large, on the next page where this one has no room."""
    high = min(max(height_for(detail, room.width), LEAST_DETAIL), MOST_DETAIL)
    if room.height < high:
        name = f"{title}, parts drawn large"
        pen = book.sheet(name)
        room = title_head(pen, book.paper, name)
    draw_stock(pen, detail, Box(room.left, room.top - high, room.right, room.top))
    return pen, Box(room.left, room.bottom, room.right, room.top - high - 1)


LEAST_DETAIL, MOST_DETAIL = 44.0, 90.0  # height of a part drawn large, mm


def _table(
    book: Book,
    pen: Pen,
    room: Box,
    title: str,
    heads: Sequence[str],
    rows: Sequence[Listed],
    at: Sequence[float],
    again: str = "",
) -> tuple[Pen, Box]:
    """Rows under their heads, on as many pages as they take; what is left under."""
    y = room.top
    if title:
        if y - 4 * ROW < room.bottom:
            pen = book.sheet(title.lower())
            room = title_head(pen, book.paper, title)
            y = room.top
        else:
            y -= 6
            pen.text(Point(room.left, y), title, 4.5)
            y -= 2
    if y - 3 * ROW < room.bottom:
        name = again or f"{title}, continued"
        pen = book.sheet(name)
        room = title_head(pen, book.paper, name)
        y = room.top
    y = _heads(pen, room, y, heads, at)
    for row in rows:
        lines = _lines(room, row.cells, at)
        if y - _tall(lines) < room.bottom:
            name = again or f"{title}, continued"
            pen = book.sheet(name)
            room = title_head(pen, book.paper, name)
            y = _heads(pen, room, room.top, heads, at)
        y = _row(pen, room, y, lines, at)
    return pen, Box(room.left, room.bottom, room.right, y - 4)


def _heads(
    pen: Pen, room: Box, y: float, heads: Sequence[str], at: Sequence[float]
) -> float:
    """The heads on their rule, clear of the fractions of the first row."""
    y = _row(pen, room, y, _lines(room, heads, at), at)
    pen.path([Point(room.left, y), Point(room.right, y)], NARROW)
    return y - UNDER_HEAD


def _row(
    pen: Pen, room: Box, y: float, cells: Sequence[list[str]], at: Sequence[float]
) -> float:
    """One row of cells in lines; gives where the next begins."""
    for start, lines in zip(at, cells, strict=True):
        base = y - ROW + 2.0
        for number, words in enumerate(lines):
            base -= lettering.step(words, TEXT) if number else 0.0
            pen.text(Point(room.left + start * room.width, base), words, TEXT)
    return y - _tall(cells)


def _lines(room: Box, cells: Sequence[str], at: Sequence[float]) -> list[list[str]]:
    """Each cell in as many lines as it takes."""
    ends = [*at[1:], 1.0]
    return [
        lettering.wrapped(words, TEXT, (end - start) * room.width - 2)
        for words, start, end in zip(cells, at, ends, strict=True)
    ]


def _tall(cells: Sequence[list[str]]) -> float:
    """Height of a row, mm."""
    more = (sum(lettering.step(words, TEXT) for words in lines[1:]) for lines in cells)
    return ROW + max(more, default=0.0)


def list_pdf(
    title: str,
    facts: Sequence[str],
    heads: Sequence[str],
    rows: Sequence[Listed],
    at: Sequence[float],
    about: About,
    paper: str,
) -> bytes:
    """A plain list as a PDF: what to order."""
    book = Book(paper_named(paper), about)
    pen = book.sheet(title.lower())
    room = title_head(pen, book.paper, title, about.day)
    y = room.top
    for words in facts:
        y -= LINE + 0.8
        pen.text(Point(room.left, y), words, TEXT)
    _table(
        book,
        pen,
        Box(room.left, room.bottom, room.right, y - 3),
        "",
        heads,
        rows,
        at,
        f"{title}, continued",
    )
    ink = PdfPen(title)
    replay(book.finished(), ink)
    return ink.ink()
