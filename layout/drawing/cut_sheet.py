"""The set of cut sheets: cover; a sheet, marks and fold order a piece; templates.

Takes a laid set and words about the job, gives one vector PDF. Same input,
same bytes.
"""

from __future__ import annotations

from layout.drawing.about import About
from layout.drawing.cover import draw_cover
from layout.drawing.fold_strip import draw_fold_order
from layout.drawing.frame import Book
from layout.drawing.marks_page import draw_marks
from layout.drawing.paper import paper_named
from layout.drawing.pdf import PdfPen
from layout.drawing.pen import Page, replay
from layout.drawing.piece import draw_piece
from layout.drawing.template import draw_templates
from layout.folding.result import LaidSet


def cut_sheets(
    laid: LaidSet, about: About | None = None, paper: str = "letter"
) -> list[Page]:
    """Every page of the set as strokes."""
    book = Book(paper_named(paper), about or About())
    draw_cover(book, laid)
    for piece in laid.pieces:
        draw_piece(book, laid, piece)
        under = draw_marks(book, laid, piece)
        draw_fold_order(book, laid, piece, under)
        draw_templates(book, laid, piece)
    return book.finished()


def cut_sheets_pdf(
    laid: LaidSet, about: About | None = None, paper: str = "letter"
) -> bytes:
    """The set as a PDF. paper: "letter" or "a4". Raises ValueError for others."""
    pages = cut_sheets(laid, about, paper)
    job = about.job if about else ""
    pen = PdfPen(f"Cut sheets, {job}" if job else "Cut sheets")
    replay(pages, pen)
    return pen.ink()
