"""The label of one item on the rack: its number large, and a code a phone reads.

Takes words, gives a small PDF of one label, to be printed on a label printer or cut
out and taped on.
"""

from __future__ import annotations

from dataclasses import dataclass

from layout.drawing import lettering
from layout.drawing.label import draw_label
from layout.drawing.pdf import PdfPen
from layout.drawing.pen import NARROW, Pen
from layout.geometry.point import Point

WIDTH, HEIGHT = 89.0, 36.0
"""Of the label, mm: a common size for addresses. Common practice, no source."""
CODE = 30.0
EDGE = 3.0


@dataclass(frozen=True, slots=True)
class RackLabel:
    """number: R12; lines: metal, size and lot; code: address of the item's page"""

    number: str
    lines: tuple[str, ...]
    code: str


def draw_rack_label(pen: Pen, label: RackLabel) -> None:
    """One label on a page of its own."""
    pen.page(WIDTH, HEIGHT)
    draw_label(pen, Point(EDGE, (HEIGHT - CODE) / 2), CODE, label.code)
    left = EDGE + CODE + 1
    room = WIDTH - left - EDGE
    pen.text(Point(left, HEIGHT - EDGE - 8), label.number, 8.0)
    pen.path([Point(left, HEIGHT - 13.5), Point(WIDTH - EDGE, HEIGHT - 13.5)], NARROW)
    y = HEIGHT - 13.5
    for words in label.lines:
        y -= 5.0
        shown = lettering.shortened(words, lettering.SMALLEST, room)
        pen.text(Point(left, y), shown)


def rack_label_pdf(label: RackLabel) -> bytes:
    """The label as a PDF of its own size."""
    pen = PdfPen(f"Label {label.number}")
    draw_rack_label(pen, label)
    return pen.ink()
