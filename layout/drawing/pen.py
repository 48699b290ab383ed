"""Pen: lines, shapes and lettering in mm on paper. Origin lower left, y up.

Whoever draws knows only this; SvgPen and PdfPen ink the same strokes, and
RecordingPen keeps them. The pen has no opinions.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from math import cos, radians, sin
from typing import Literal, Protocol

from layout.drawing import lettering
from layout.geometry.point import Point

Anchor = Literal["start", "middle", "end"]

BLACK, WHITE = 0.0, 1.0


@dataclass(frozen=True, slots=True)
class LineKind:
    """A kind of line. width and dashes (on, off, ...) in mm."""

    name: str
    width: float
    dashes: tuple[float, ...] = ()


# ISO 128-2: wide to narrow 2:1; dash lengths in line widths d (dash 12 d, gap
# 3 d, long dash 24 d, dot at most 0.5 d). From memory: trade values 9.01-9.06.
WIDE = LineKind("wide", 0.5)
NARROW = LineKind("narrow", 0.25)
FOLD = LineKind("fold", 0.25, (6.0, 0.75, 0.3, 0.75, 0.3, 0.75))
HIDDEN = LineKind("hidden", 0.25, (3.0, 0.75))
CENTRE = LineKind("centre", 0.25, (6.0, 0.75, 0.3, 0.75))
CUTTING = LineKind("cutting plane", 0.7)


class Pen(Protocol):
    """Tones: 0 black to 1 white. Heights are of capitals."""

    def page(self, width: float, height: float) -> None:
        """Takes a fresh page of that size, mm."""

    def path(
        self,
        points: Sequence[Point],
        line: LineKind | None = WIDE,
        closed: bool = False,
        fill: float | None = None,
    ) -> None:
        """Straight lines through (n) points; line None: only filled."""

    def circle(
        self,
        centre: Point,
        radius: float,
        line: LineKind | None = NARROW,
        fill: float | None = None,
    ) -> None: ...

    def arc(
        self,
        centre: Point,
        radius: float,
        start: float,
        sweep: float,
        line: LineKind = NARROW,
    ) -> None:
        """start, sweep: degrees, counter-clockwise positive, from +x."""

    def text(
        self,
        at: Point,
        words: str,
        height: float = lettering.SMALLEST,
        anchor: Anchor = "start",
        turn: float = 0.0,
    ) -> None:
        """Words on a baseline from `at`, turned by degrees, fractions set."""

    def cells(self, squares: Sequence[tuple[Point, float]]) -> None:
        """Black squares by lower left corner and size: the modules of a label."""


@dataclass(frozen=True, slots=True)
class PathStroke:
    points: tuple[Point, ...]
    line: LineKind | None
    closed: bool
    fill: float | None


@dataclass(frozen=True, slots=True)
class CircleStroke:
    centre: Point
    radius: float
    line: LineKind | None
    fill: float | None


@dataclass(frozen=True, slots=True)
class ArcStroke:
    centre: Point
    radius: float
    start: float
    sweep: float
    line: LineKind


@dataclass(frozen=True, slots=True)
class TextStroke:
    at: Point
    words: str
    height: float
    anchor: Anchor
    turn: float

    def box(self) -> tuple[Point, Point, Point, Point]:
        """Corners of the words' own rectangle on paper, counter-clockwise."""
        return text_box(self.at, self.words, self.height, self.anchor, self.turn)


@dataclass(frozen=True, slots=True)
class CellsStroke:
    squares: tuple[tuple[Point, float], ...]


Stroke = PathStroke | CircleStroke | ArcStroke | TextStroke | CellsStroke


@dataclass(slots=True)
class Page:
    width: float
    height: float
    strokes: list[Stroke] = field(default_factory=list)

    def texts(self) -> list[TextStroke]:
        return [stroke for stroke in self.strokes if isinstance(stroke, TextStroke)]

    def paths(self, line: LineKind | None = None) -> list[PathStroke]:
        return [
            stroke
            for stroke in self.strokes
            if isinstance(stroke, PathStroke) and (line is None or stroke.line == line)
        ]


class RecordingPen:
    """Keeps every stroke, page by page."""

    def __init__(self) -> None:
        self.pages: list[Page] = []

    def page(self, width: float, height: float) -> None:
        self.pages.append(Page(width, height))

    def path(
        self,
        points: Sequence[Point],
        line: LineKind | None = WIDE,
        closed: bool = False,
        fill: float | None = None,
    ) -> None:
        self._keep(PathStroke(tuple(points), line, closed, fill))

    def circle(
        self,
        centre: Point,
        radius: float,
        line: LineKind | None = NARROW,
        fill: float | None = None,
    ) -> None:
        self._keep(CircleStroke(centre, radius, line, fill))

    def arc(
        self,
        centre: Point,
        radius: float,
        start: float,
        sweep: float,
        line: LineKind = NARROW,
    ) -> None:
        self._keep(ArcStroke(centre, radius, start, sweep, line))

    def text(
        self,
        at: Point,
        words: str,
        height: float = lettering.SMALLEST,
        anchor: Anchor = "start",
        turn: float = 0.0,
    ) -> None:
        if words.strip():
            self._keep(TextStroke(at, words, height, anchor, turn))

    def cells(self, squares: Sequence[tuple[Point, float]]) -> None:
        self._keep(CellsStroke(tuple(squares)))

    def _keep(self, stroke: Stroke) -> None:
        self.pages[-1].strokes.append(stroke)


def replay(pages: Iterable[Page], pen: Pen) -> None:
    """The kept strokes once more, with another pen."""
    for page in pages:
        pen.page(page.width, page.height)
        for stroke in page.strokes:
            match stroke:
                case PathStroke(points, line, closed, fill):
                    pen.path(points, line, closed, fill)
                case CircleStroke(centre, radius, line, fill):
                    pen.circle(centre, radius, line, fill)
                case ArcStroke(centre, radius, start, sweep, line):
                    pen.arc(centre, radius, start, sweep, line)
                case TextStroke(at, words, height, anchor, turn):
                    pen.text(at, words, height, anchor, turn)
                case CellsStroke(squares):
                    pen.cells(squares)


def text_start(
    at: Point, words: str, height: float, anchor: Anchor, turn: float
) -> Point:
    """Where the first letter begins on the baseline."""
    if anchor == "start":
        return at
    back = lettering.width(words, height) * (0.5 if anchor == "middle" else 1.0)
    return Point(at.x - back * cos(radians(turn)), at.y - back * sin(radians(turn)))


def text_box(
    at: Point, words: str, height: float, anchor: Anchor, turn: float
) -> tuple[Point, Point, Point, Point]:
    """Corners of the rectangle that words fill, counter-clockwise."""
    start = text_start(at, words, height, anchor, turn)
    along = Point(cos(radians(turn)), sin(radians(turn)))
    up = along.left()
    below, above = lettering.extent(words, height)
    size = lettering.width(words, height)
    low = start.plus(up, -below)
    return (
        low,
        low.plus(along, size),
        low.plus(along, size).plus(up, below + above),
        low.plus(up, below + above),
    )


def arrow(pen: Pen, tip: Point, along: Point, size: float = 2.5) -> None:
    """A filled arrowhead at `tip`, pointing along a unit direction (ISO 129-1)."""
    back = tip.plus(along, -size)
    half = along.left().scaled(size / 6)
    pen.path([tip, back.plus(half), back.minus(half)], None, closed=True, fill=BLACK)
