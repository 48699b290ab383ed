"""The cover of a set: whose job, the key plan, the pieces, and what to heed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from layout.drawing import lettering, tape
from layout.drawing.frame import LINE, Book, fitting, title_head
from layout.drawing.key_plan import draw_large_key_plan
from layout.drawing.paper import Box
from layout.drawing.pen import NARROW, Pen
from layout.folding.result import Finding, LaidSet, Piece
from layout.geometry.point import Point

ROW = 7.4
TEXT = 3.5
PROSE = lettering.SMALLEST
COLUMNS = (0.0, 14.0, 26.0, 96.0)
"""Mark, number, title, blank; the weight ends at the right."""

LEVELS = {"blocking": "STOP", "warning": "WARNING", "note": "Note"}
ORDER = {"blocking": 0, "warning": 1, "note": 2}


def draw_cover(book: Book, laid: LaidSet) -> None:
    """The cover, and as many sheets more as pieces and findings need."""
    about = book.about
    pen = book.sheet("cover")
    title = about.job or "Cut sheets"
    room = title_head(pen, book.paper, title, about.paper_number or "Cut sheets")
    y = _draw_names(pen, book, laid, room)
    half = room.left + room.width * 0.31 if laid.key_plan else room.left - 5
    draw_large_key_plan(pen, laid, Box(room.left, room.bottom, half, y - 2))
    table = Box(half + 5, room.bottom, room.right, y)
    _draw_pieces(book, laid, pen, table)
    _draw_words(book, laid)


def _draw_names(pen: Pen, book: Book, laid: LaidSet, room: Box) -> float:
    about = book.about
    client = ", ".join(part for part in (about.client, about.place) if part)
    said = [f"Roof at {tape.angle(laid.pitch)}"] if "roof" in laid.site else []
    build = laid.site.get("build")
    if isinstance(build, dict):
        said.append(f"back {build.get('back')}")
        said.append(f"counterflashing {build.get('counterflashing')}")
    said += sorted({piece.metal for piece in laid.pieces})
    said.append(allowance_words(laid))
    lines = [client, ", ".join(said) + "."]
    y = room.top
    for line in lines:
        if line:
            y -= LINE + 0.8
            words = lettering.shortened(line, TEXT, room.width)
            pen.text(Point(room.left, y), words, TEXT)
    return y - 3


def allowance_words(laid: LaidSet) -> str:
    """By which rule the flats allow for the metal's thickness."""
    rules = {
        "none": "flats without allowance for thickness",
        "din6935": "flats by DIN 6935",
        "handbook": "flats by the handbook's bend allowance",
    }
    return rules.get(laid.allowance, f"flats by {laid.allowance}")


def _draw_pieces(book: Book, laid: LaidSet, pen: Pen, table: Box) -> None:
    y = _head(pen, table)
    for piece in laid.pieces:
        if y - ROW < table.bottom:
            pen = book.sheet("pieces")
            table = title_head(pen, book.paper, "Pieces, continued")
            y = _head(pen, table)
        y = _piece_row(pen, laid, piece, table, y)
    total = sum(piece.weight * piece.quantity for piece in laid.pieces)
    if y - ROW >= table.bottom:
        pen.path([Point(table.left, y), Point(table.right, y)], NARROW)
        words = f"all {tape.weight(total, laid.units)}"
        pen.text(Point(table.right, y - ROW + 1.6), words, TEXT, "end")


def _head(pen: Pen, table: Box) -> float:
    y = table.top - ROW
    for column, words in zip(COLUMNS, ("Mark", "No.", "Piece", "Blank"), strict=True):
        pen.text(Point(table.left + column, y + 1.6), words, TEXT)
    pen.text(Point(table.right, y + 1.6), "Each", TEXT, "end")
    pen.path([Point(table.left, y), Point(table.right, y)], NARROW)
    return y


def _piece_row(pen: Pen, laid: LaidSet, piece: Piece, table: Box, y: float) -> float:
    base = y - ROW + 1.6
    width, length = piece.pattern.size()
    unit = laid.units
    weight = tape.weight(piece.weight, unit)
    blank = f"{tape.figure(width, unit)} x {tape.figure(length, unit)} {unit}"
    room = COLUMNS[3] - COLUMNS[2] - 3
    pen.text(Point(table.left, base), piece.mark, TEXT)
    pen.text(Point(table.left + COLUMNS[1], base), f"{piece.quantity} x", TEXT)
    title = lettering.shortened(piece.title, lettering.SMALLEST, room)
    pen.text(Point(table.left + COLUMNS[2], base), title)
    left = table.left + COLUMNS[3]
    room = table.right - lettering.width(weight, lettering.SMALLEST) - 3 - left
    pen.text(Point(left, base), blank, fitting(blank, lettering.FIGURE, room))
    pen.text(Point(table.right, base), weight, lettering.SMALLEST, "end")
    return y - ROW


# --- what to heed --------------------------------------------------------------


def _draw_words(book: Book, laid: LaidSet) -> None:
    """Looks to keep, findings and what could not be built, in two columns."""
    flow = _Flow(book, "Read before you cut")
    for heading, paragraphs in _chapters(book, laid):
        flow.heading(heading)
        for paragraph in paragraphs:
            flow.paragraph(paragraph)


def _chapters(book: Book, laid: LaidSet) -> Iterator[tuple[str, Sequence[str]]]:
    looks = book.about.looks or ("No rule of looks is written down for this job.",)
    yield "Looks to keep", looks
    if laid.refused:
        yield "Not in this set", laid.refused
    findings = sorted(laid.findings, key=lambda f: ORDER[f.level])
    yield (
        "Findings",
        [finding_words(finding) for finding in findings] or ["Nothing to remark."],
    )


def finding_words(finding: Finding) -> str:
    """Level, place, what is wrong, remedy and source, as one paragraph."""
    where = f" {finding.where}:" if finding.where else ""
    message = finding.message.strip()
    message = message[:1].upper() + message[1:]
    parts = [
        f"{LEVELS[finding.level]}.{where} {_stopped(message)}",
        _stopped(finding.remedy),
        _stopped(f"Source: {finding.source}, {finding.kind}"),
    ]
    return " ".join(part for part in parts if part)


def _stopped(words: str) -> str:
    words = words.strip()
    return words if not words or words[-1] in ".!?" else words + "."


class _Flow:
    """Paragraphs down one column, then the next, then a fresh sheet."""

    GAP = 8.0

    def __init__(self, book: Book, title: str) -> None:
        self.book, self.title = book, title
        self.again = False
        self._sheet()

    def _sheet(self) -> None:
        title = self.title + (", continued" if self.again else "")
        self.again = True
        self.pen = self.book.sheet(self.title.lower())
        self.room = title_head(self.pen, self.book.paper, title)
        self.column, self.y = 0, self.room.top
        self.width = (self.room.width - self.GAP) / 2

    def _next_column(self) -> None:
        if self.column == 0:
            self.column, self.y = 1, self.room.top
        else:
            self._sheet()

    def _line(self, words: str, height: float, step: float, indent: float) -> None:
        if self.y - step < self.room.bottom:
            self._next_column()
        self.y -= step
        left = self.room.left + self.column * (self.width + self.GAP) + indent
        self.pen.text(Point(left, self.y + 1.0), words, height)

    def heading(self, words: str) -> None:
        if self.y - 20 < self.room.bottom:
            self._next_column()
        if self.y < self.room.top:
            self.y -= 2.0
        self._line(words, lettering.FIGURE, 8.0, 0.0)

    def paragraph(self, words: str) -> None:
        height = PROSE
        for line in lettering.wrapped(words, height, self.width - 3):
            self._line(line, height, lettering.step(line, height), 3.0)
        self.y -= 1.8
