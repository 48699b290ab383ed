"""Writing: words one under another on upright paper, for papers a client reads.

Takes paragraphs, pairs and room for pictures, gives pages of strokes and the places
of photos. What does not fit goes on to the next page; every page says which it is.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from layout.drawing import lettering
from layout.drawing.paper import Box, Paper
from layout.drawing.pdf import PdfPen
from layout.drawing.pen import NARROW, Page, Pen, RecordingPen, replay
from layout.geometry.point import Point

SIDE = 18.0
"""Margin of a letter, mm."""
TEXT = lettering.SMALLEST
LINE = 5.2
FOOT = 12.0

LOCAL_FIRST = (
    "Local codes, the metal maker's instructions and licensed practice come first."
    " What is offered is folded metal work: it is not a design for wind, snow, fire or"
    " structure."
)


@dataclass(frozen=True, slots=True)
class PlacedPhoto:
    """page: number from 0; jpeg: the file's bytes"""

    page: int
    box: Box
    jpeg: bytes


@dataclass(slots=True)
class Writing:
    """A letter while it is written. foot: what each page says at its foot"""

    paper: Paper
    foot: str
    pen: RecordingPen = field(default_factory=RecordingPen)
    photos: list[PlacedPhoto] = field(default_factory=list)
    y: float = 0.0

    @property
    def room(self) -> Box:
        return Box(
            SIDE, SIDE - 4 + FOOT, self.paper.height - SIDE, self.paper.width - SIDE
        )

    def fresh_page(self) -> None:
        # Papers lie lengthwise; a letter stands.
        self.pen.page(self.paper.height, self.paper.width)
        self.y = self.room.top

    def need(self, height: float) -> None:
        """Goes on to the next page unless that much is left of this one."""
        if not self.pen.pages or self.y - height < self.room.bottom:
            self.fresh_page()

    def gap(self, height: float) -> None:
        self.y -= height

    def line(self, words: str, height: float = TEXT, step: float = LINE) -> None:
        self.need(step)
        self.y -= step
        self.pen.text(Point(self.room.left, self.y + 1.2), words, height)

    def title(self, words: str) -> None:
        for line in lettering.wrapped(words, 6.0, self.room.width):
            self.line(line, 6.0, 10.0)
        self.gap(1.0)

    def heading(self, words: str) -> None:
        """With at least three lines of what follows on the same page."""
        self.need(10.0 + 3 * LINE)
        self.gap(3.0)
        self.line(words, 4.2, 7.5)
        self.rule()
        self.gap(1.0)

    def rule(self) -> None:
        room = self.room
        self.pen.path([Point(room.left, self.y), Point(room.right, self.y)], NARROW)

    def paragraph(self, words: str, indent: float = 0.0) -> None:
        for part in words.splitlines() or [""]:
            for line in lettering.wrapped(part, TEXT, self.room.width - indent):
                self.need(LINE)
                self.y -= LINE
                self.pen.text(Point(self.room.left + indent, self.y + 1.2), line, TEXT)
        self.gap(1.4)

    def points(self, items: Sequence[str]) -> None:
        """Each with a short dash before it."""
        for words in items:
            self.need(LINE)
            at = self.y - LINE + 1.2
            self.pen.text(Point(self.room.left, at), "–", TEXT)
            self.paragraph(words, 4.0)

    def pair(self, words: str, figure: str, height: float = TEXT) -> None:
        """Words at the left and a figure at the right, on one line."""
        step = LINE * height / TEXT
        self.need(step)
        self.y -= step
        room = self.room
        space = room.width - lettering.width(figure, height) - 4
        shown = lettering.shortened(words, height, space)
        self.pen.text(Point(room.left, self.y + 1.2), shown, height)
        self.pen.text(Point(room.right, self.y + 1.2), figure, height, "end")

    def picture_room(self, height: float, columns: int = 1) -> list[Box]:
        """Room for pictures side by side, taken from the page."""
        self.need(height + 2)
        self.y -= height
        room, gap = self.room, 5.0
        width = (room.width - gap * (columns - 1)) / columns
        lefts = [room.left + i * (width + gap) for i in range(columns)]
        made = [Box(x, self.y, x + width, self.y + height) for x in lefts]
        self.gap(2.0)
        return made

    def photo(self, box: Box, jpeg: bytes, width: float, height: float) -> None:
        """As large as the box takes it, in its lower left. width, height: its shape"""
        scale = min(box.width / width, box.height / height)
        across, up = width * scale, height * scale
        place = Box(box.left, box.bottom, box.left + across, box.bottom + up)
        self.photos.append(PlacedPhoto(len(self.pen.pages) - 1, place, jpeg))

    def signature(self, left: str, right: str) -> None:
        """Two lines to sign on, with what stands under each."""
        self.need(26.0)
        self.y -= 18.0
        room = self.room
        half = room.width / 2 - 5
        for x, words in ((room.left, left), (room.left + half + 10, right)):
            self.pen.path([Point(x, self.y), Point(x + half, self.y)], NARROW)
            for i, line in enumerate(lettering.wrapped(words, TEXT, half)):
                self.pen.text(Point(x, self.y - LINE * (i + 1) + 0.6), line, TEXT)
        self.y -= 2 * LINE

    def finished(self) -> list[Page]:
        """All pages with their feet, numbered."""
        pages = self.pen.pages
        for number, page in enumerate(pages, start=1):
            self.pen.pages = [page]
            self._foot(number, len(pages))
        self.pen.pages = pages
        return pages

    def _foot(self, number: int, pages: int) -> None:
        room = self.room
        y = room.bottom - 5.0
        self.pen.path([Point(room.left, y), Point(room.right, y)], NARROW)
        page = f"page {number} of {pages}"
        self.pen.text(Point(room.right, y - LINE), page, TEXT, "end")
        space = room.width - lettering.width(page, TEXT) - 6
        words = lettering.shortened(self.foot, TEXT, space)
        self.pen.text(Point(room.left, y - LINE), words, TEXT)


def head(writing: Writing, shop: str, address: str, right: Sequence[str]) -> None:
    """The shop at the left, number and day at the right."""
    writing.fresh_page()
    room = writing.room
    top = writing.y
    for i, words in enumerate(right):
        at = Point(room.right, top - 5.0 - i * LINE)
        writing.pen.text(at, words, 4.2 if i == 0 else TEXT, "end")
    writing.line(lettering.shortened(shop, 5.0, room.width * 0.6), 5.0, 7.0)
    for part in address.splitlines():
        writing.line(lettering.shortened(part, TEXT, room.width * 0.6))
    writing.y = min(writing.y, top - 6.0 - len(right) * LINE)
    writing.gap(2.0)
    writing.rule()
    writing.gap(3.0)


def inked(writing: Writing, title: str) -> bytes:
    """The letter as a PDF."""
    pen = PdfPen(title)
    for number, page in enumerate(writing.finished()):
        replay([page], pen)
        for placed in writing.photos:
            if placed.page == number:
                box = placed.box
                at = Point(box.left, box.bottom)
                pen.photo(at, box.width, box.height, placed.jpeg)
    return pen.ink()


def draw_frame(pen: Pen, box: Box) -> None:
    """A thin frame round a picture."""
    pen.path(
        [
            Point(box.left, box.bottom),
            Point(box.right, box.bottom),
            Point(box.right, box.top),
            Point(box.left, box.top),
        ],
        NARROW,
        closed=True,
    )
