"""What every sheet has: head, cautions and the line that says which sheet it is."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from layout.drawing import cautions, lettering
from layout.drawing.about import About
from layout.drawing.paper import Box, Paper
from layout.drawing.pen import NARROW, WIDE, Page, Pen, RecordingPen
from layout.geometry.point import Point

LINE = 4.5
"""From one line of the smallest lettering to the next, mm."""

UNDER_HEAD = 1.2
"""Kept free between the line under a table's heads and its first figures, mm."""

HEAD = 27.0
TITLE_HEAD = 15.0


def rule(pen: Pen, y: float, box: Box) -> None:
    pen.path([Point(box.left, y), Point(box.right, y)], NARROW)


def foot_height(paper: Paper) -> float:
    """Height of cautions and page line at the foot of a sheet."""
    return LINE * (len(_cautions(paper)) + 1) + 2.0


def between(paper: Paper, head: float) -> Box:
    """What is left between a head of that height and the foot."""
    inside = paper.inside
    return Box(
        inside.left,
        inside.bottom + foot_height(paper) + 1.5,
        inside.right,
        inside.top - head - 1.5,
    )


@cache
def _cautions(paper: Paper) -> list[str]:
    return lettering.wrapped(cautions.EVERY, lettering.SMALLEST, paper.inside.width)


def title_head(pen: Pen, paper: Paper, title: str, beside: str = "") -> Box:
    """A sheet's head with a title alone. Gives what is left under it."""
    inside = paper.inside
    base = inside.top - 8.0
    room = inside.width
    if beside:
        pen.text(Point(inside.right, base), beside, 3.5, "end")
        room -= lettering.width(beside, 3.5) + 6
    pen.text(Point(inside.left, base), lettering.shortened(title, 7.0, room), 7.0)
    rule(pen, inside.top - TITLE_HEAD + 2, inside)
    return between(paper, TITLE_HEAD)


def foot(
    pen: Pen, paper: Paper, about: About, words: str, number: int, pages: int
) -> None:
    """Cautions and page line. words: what this sheet shows"""
    inside = paper.inside
    lines = _cautions(paper)
    top = inside.bottom + foot_height(paper)
    rule(pen, top, inside)
    for i, line in enumerate(lines):
        pen.text(Point(inside.left, top - LINE * (i + 1) + 0.6), line)
    base = inside.bottom + 0.8
    page = f"page {number} of {pages}"
    pen.text(Point(inside.right, base), page, lettering.SMALLEST, "end")
    said = [about.shop, about.job, about.paper_number, words, about.day]
    line = " · ".join(part for part in said if part)
    room = inside.width - lettering.width(page, lettering.SMALLEST) - 6
    pen.text(
        Point(inside.left, base), lettering.shortened(line, lettering.SMALLEST, room)
    )


class Book:
    """The sheets of a set while they are drawn: pages, and what each shows."""

    def __init__(self, paper: Paper, about: About) -> None:
        self.paper, self.about = paper, about
        self.pen = RecordingPen()
        self.shown: list[str] = []

    def sheet(self, shows: str) -> Pen:
        """A fresh page."""
        self.pen.page(self.paper.width, self.paper.height)
        self.shown.append(shows)
        return self.pen

    def finished(self) -> list[Page]:
        """All pages with their feet, numbered."""
        pages = self.pen.pages
        for number, (page, words) in enumerate(
            zip(pages, self.shown, strict=True), start=1
        ):
            self.pen.pages = [page]
            foot(self.pen, self.paper, self.about, words, number, len(pages))
        self.pen.pages = pages
        return pages


def fitting(words: str, height: float, room: float) -> float:
    """The height, or a lower one at which words have room; never the unreadable."""
    while height > 3.5 and lettering.width(words, height) > room:
        height -= 0.25
    return height


def boxed(pen: Pen, box: Box, words: str, height: float) -> None:
    """Words as large as the box takes, at most `height`, inside a wide frame."""
    room = box.width - 4
    height = min(height, height * room / max(lettering.width(words, height), 1e-9))
    corners: Sequence[Point] = (
        Point(box.left, box.bottom),
        Point(box.right, box.bottom),
        Point(box.right, box.top),
        Point(box.left, box.top),
    )
    pen.path(corners, WIDE, closed=True)
    middle = Point((box.left + box.right) / 2, (box.bottom + box.top - height) / 2)
    pen.text(middle, words, max(height, lettering.SMALLEST), "middle")
