"""The quote: what is built in plain words and a picture, what of the looks is kept.

Takes a laid set and words about the job, gives one PDF the client can sign. Same
input, same bytes. It shows the price, not how the shop reckoned it.
"""

from __future__ import annotations

from dataclasses import dataclass

from layout.drawing import lettering
from layout.drawing.folded_view import draw_folded
from layout.drawing.key_plan import draw_large_key_plan
from layout.drawing.paper import Box, paper_named
from layout.drawing.pen import Page, Pen
from layout.drawing.writing import (
    LINE,
    LOCAL_FIRST,
    TEXT,
    Writing,
    draw_frame,
    head,
    inked,
)
from layout.folding.result import LaidSet, Piece
from layout.geometry.point import Point

CAUTIONS = (
    "Keep people, cars and animals clear of the eaves while we are on the roof.",
    "Old flashing may be lead, and cutting a groove in masonry makes silica dust. We"
    " keep the dust down; keep children away until we have cleared up.",
    "Where anything is soldered we watch the place afterwards. Tell us before we come"
    " what lies under the roof there.",
    "Wind, rain and great heat stop work on a roof. The days may move.",
    LOCAL_FIRST,
)


@dataclass(frozen=True, slots=True)
class Quotation:
    """Words from outside, printed as they are.

    number: of the quote; paper_number: of this paper
    built: what is made, a sentence each
    kept: looks that are kept; not_kept: looks that are not, each with why
    prices: (words, figure) from top to bottom, the last one is what is to be paid
    """

    shop: str
    shop_address: str
    client: str
    client_address: str
    job: str
    place: str
    number: str
    paper_number: str
    day: str
    valid_until: str
    built: tuple[str, ...]
    metal: str
    kept: tuple[str, ...]
    not_kept: tuple[str, ...]
    extras: tuple[str, ...]
    prices: tuple[tuple[str, str], ...]
    terms: str


def quote_pages(laid: LaidSet, words: Quotation, paper: str) -> list[Page]:
    """Every page as strokes. Raises ValueError for an unknown paper."""
    return _written(laid, words, paper).finished()


def quote_pdf(laid: LaidSet, words: Quotation, paper: str = "letter") -> bytes:
    """The quote as a PDF. Raises ValueError for an unknown paper."""
    return inked(_written(laid, words, paper), f"{words.number}, {words.job}")


def _written(laid: LaidSet, words: Quotation, paper: str) -> Writing:
    said = [words.number, words.paper_number, words.day, words.shop, words.job]
    writing = Writing(paper_named(paper), " · ".join(part for part in said if part))
    right = (words.number, words.paper_number, words.day)
    head(writing, words.shop, words.shop_address, right)
    for line in (words.client, *words.client_address.splitlines()):
        writing.line(lettering.shortened(line, TEXT, writing.room.width))
    writing.gap(4.0)
    writing.title(words.job)
    if words.place:
        writing.paragraph(f"At {words.place}.")
    writing.heading("What we build")
    writing.points([*words.built, *words.extras])
    writing.paragraph(words.metal)
    _pictures(writing, laid)
    _looks(writing, words)
    writing.heading("Price")
    for label, figure in words.prices[:-1]:
        writing.pair(label, figure)
    writing.rule()
    label, figure = words.prices[-1]
    writing.pair(label, figure, 4.2)
    writing.paragraph(f"This price holds until {words.valid_until}.")
    if words.terms.strip():
        writing.heading("Terms")
        writing.paragraph(words.terms.strip())
    writing.heading("Please heed")
    writing.points(CAUTIONS)
    writing.heading("Accepted")
    writing.paragraph(
        f"I accept {words.number.lower()} of {words.day} and ask for the work"
        " described in it."
    )
    writing.signature("Day, name and signature of the client", f"For {words.shop}")
    return writing


def _looks(writing: Writing, words: Quotation) -> None:
    if not words.kept and not words.not_kept:
        return
    writing.heading("How it looks")
    if words.kept:
        writing.paragraph("You asked for this, and we keep to it:")
        writing.points(words.kept)
    if words.not_kept:
        writing.paragraph("This differs from what was asked for:")
        writing.points(words.not_kept)


def _pictures(writing: Writing, laid: LaidSet) -> None:
    """The roof seen square, with each piece, beside the most telling piece folded."""
    shown = _telling(laid)
    if not laid.key_plan and shown is None:
        return
    height = 78.0
    boxes = writing.picture_room(height + LINE, 2 if laid.key_plan and shown else 1)
    if laid.key_plan:
        box = boxes.pop(0)
        room = _captioned(writing.pen, box, "The roof from above, with each piece")
        draw_large_key_plan(writing.pen, laid, room)
    if shown is not None:
        caption = f"{shown.title} ({shown.mark}), folded, on the roof"
        room = _captioned(writing.pen, boxes[0], caption)
        draw_folded(writing.pen, shown, laid, room)


def _captioned(pen: Pen, box: Box, words: str) -> Box:
    words = lettering.shortened(words, TEXT, box.width)
    pen.text(Point(box.left, box.bottom + 0.8), words, TEXT)
    frame = Box(box.left, box.bottom + LINE, box.right, box.top)
    draw_frame(pen, frame)
    return frame.shrunk(2.0)


def _telling(laid: LaidSet) -> Piece | None:
    """The piece with the most faces: it says most about the work."""
    pieces = [piece for piece in laid.pieces if piece.family != "cleat"]
    return max(pieces, key=lambda piece: len(piece.pattern.faces), default=None)
