from __future__ import annotations

from dataclasses import replace
from io import BytesIO

import pdfplumber
import pypdfium2
import pytest

from layout.drawing.about import About
from layout.drawing.paper import Box
from layout.drawing.pen import CircleStroke, RecordingPen
from layout.drawing.plan_book import Listed, list_pdf
from layout.drawing.plan_sheet import (
    DrawnBlank,
    DrawnCut,
    DrawnStock,
    draw_stock,
    height_for,
)
from layout.geometry.point import Point

# A sheet of 900 x 2400: one large blank, and a strip of twelve small ones.
SMALL = 12


def stock() -> DrawnStock:
    blanks = [DrawnBlank("A", "800 mm x 2400 mm", (100, 0, 800, 2400), ())]
    cuts = [cut(1, (100, 0), (100, 2400), (0, 0, 900, 2400))]
    for n in range(SMALL):
        foot = n * 60.0
        blanks.append(DrawnBlank(f"K {n + 1}", "", (0, foot, 50, 60), ()))
        part = (0, foot, 100, 2400 - foot)
        cuts.append(cut(2 * n + 2, (0, foot + 60), (100, foot + 60), part))
        part = (0, foot, 100, 60)
        cuts.append(cut(2 * n + 3, (50, foot), (50, foot + 60), part))
    kept = ("100 mm x 1680 mm", (0, SMALL * 60.0, 100, 1680))
    return DrawnStock("R1", "", 900, 2400, "mm", tuple(blanks), tuple(cuts), (kept,))


def cut(order, start, end, part) -> DrawnCut:  # type: ignore[no-untyped-def]
    return DrawnCut(order, (Point(*start), Point(*end)), part, "", "")


def drawn(what: DrawnStock, width: float = 250.0):  # type: ignore[no-untyped-def]
    pen = RecordingPen()
    high = height_for(what, width)
    pen.page(width, high)
    details = draw_stock(pen, what, Box(0, 0, width, high))
    return pen.pages[0], details


def rings(page) -> int:  # type: ignore[no-untyped-def]
    return sum(isinstance(it, CircleStroke) for it in page.strokes)


def test_small_parts_bear_a_letter_and_are_drawn_once_more() -> None:
    page, details = drawn(stock())
    assert [it.letter for it in details] == ["a"]
    assert "a" in [text.words for text in page.texts()]
    large, none = drawn(details[0])
    assert none == []
    assert rings(page) + rings(large) == len(stock().cuts)
    marks = [text.words.split()[0] for text in large.texts()]
    assert marks.count("K") == SMALL


def test_stock_lies_down_without_a_mirror() -> None:
    """What is at the left edge of the stock lies at the top of the paper."""
    page, _ = drawn(stock())
    (mark,) = [text for text in page.texts() if text.words == "A"]
    (letter,) = [text for text in page.texts() if text.words == "a"]
    assert letter.at.y > mark.at.y
    first = replace(stock(), blanks=stock().blanks[:1], cuts=stock().cuts[:1])
    shown, _ = drawn(first)
    (line,) = [it for it in shown.paths() if it.line and it.line.name == "cut"]
    assert line.points[0].x < line.points[1].x
    assert line.points[0].y == pytest.approx(line.points[1].y)


def test_nothing_is_lettered_smaller_than_can_be_read() -> None:
    page, details = drawn(stock())
    for text in (*page.texts(), *drawn(details[0])[0].texts()):
        assert text.height >= 2.6


def test_a_list_cuts_no_cell_short():
    cells = ("Wed 9 Dec 2026", "galvanized steel 24 ga", "coil 48 in x 330 11/16 in")
    rows = [Listed(cells)] * 60
    heads, at = ("By", "Metal", "What"), (0, 0.1, 0.2)
    ink = list_pdf("To order", [], heads, rows, at, About(), "a4")
    with pdfplumber.open(BytesIO(ink)) as opened:
        said = " ".join(
            " ".join((p.extract_text() or "").split()) for p in opened.pages
        )
    assert "…" not in said
    assert said.count("galvanized") == said.count("330") == 60
    assert len(pypdfium2.PdfDocument(ink)) > 1
