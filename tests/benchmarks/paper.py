"""The PDF of a set against the same strokes by the bare library. Aim: 1.3 times."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO
from math import cos, radians, sin

from reportlab.pdfgen.canvas import Canvas

from layout import run
from layout.drawing import lettering
from layout.drawing.cut_sheet import cut_sheets, cut_sheets_pdf
from layout.drawing.pdf import FONT, PT
from layout.drawing.pen import (
    ArcStroke,
    CellsStroke,
    CircleStroke,
    LineKind,
    Page,
    PathStroke,
    TextStroke,
    text_start,
)
from layout.geometry.point import Point
from tests import sites
from tests.benchmarks import clock

Mark = Callable[[Canvas], None]


def lines() -> list[str]:
    found = []
    for name in ("saddle-copper-in", "flat-back-zinc-mm"):
        laid = run.lay_out(sites.sample(name))
        cut_sheets_pdf(laid)  # makes the font known to the library
        pages = [[_mark(stroke) for stroke in page.strokes] for page in _strokes(laid)]
        sizes = [(page.width * PT, page.height * PT) for page in _strokes(laid)]
        bare = clock.processor(
            lambda pages=pages, sizes=sizes: _bare(sizes, pages),  # type: ignore[misc]
            5,
        )
        ours = clock.processor(lambda laid=laid: cut_sheets_pdf(laid), 5)  # type: ignore[misc]
        drawn = clock.processor(lambda laid=laid: cut_sheets(laid), 5)  # type: ignore[misc]
        found.append(
            f"{name:28} {len(pages):3} pages, bare {bare:6.0f} ms, ours {ours:6.0f} ms "
            f"(of it deciding where all goes {drawn:5.0f} ms): "
            f"{ours / bare:4.2f} x (aim 1.3)"
        )
    return found


def _strokes(laid: object) -> list[Page]:
    return cut_sheets(laid)  # type: ignore[arg-type]


def _bare(sizes: list[tuple[float, float]], pages: list[list[Mark]]) -> bytes:
    """The same ink by plain calls of the library, nothing decided here."""
    file = BytesIO()
    canvas = Canvas(file, pageCompression=1, invariant=1, initialFontName=FONT)
    for size, marks in zip(sizes, pages, strict=True):
        canvas.setPageSize(size)
        for mark in marks:
            mark(canvas)
        canvas.showPage()
    canvas.save()
    return file.getvalue()


def _mark(stroke: object) -> Mark:
    """One stroke as calls of the library, all sums done beforehand."""
    match stroke:
        case PathStroke(points, line, closed, fill):
            return _path([(p.x * PT, p.y * PT) for p in points], line, closed, fill)
        case CircleStroke(centre, radius, line, fill):
            return _round(centre, radius, line, fill)
        case ArcStroke(centre, radius, start, sweep, line):
            return _arc(centre, radius, start, sweep, line)
        case TextStroke(at, words, height, anchor, turn):
            begin = text_start(at, words, height, anchor, turn)
            return _text(begin, words, height, turn)
        case CellsStroke(squares):
            return _cells([(p.x * PT, p.y * PT, size * PT) for p, size in squares])
    raise TypeError(stroke)


def _inked(canvas: Canvas, line: LineKind | None, fill: float | None) -> None:
    if line is not None:
        canvas.setLineWidth(line.width * PT)
        canvas.setDash([dash * PT for dash in line.dashes])
    if fill is not None:
        canvas.setFillGray(fill)


def _path(
    points: list[tuple[float, float]],
    line: LineKind | None,
    closed: bool,
    fill: float | None,
) -> Mark:
    def mark(canvas: Canvas) -> None:
        _inked(canvas, line, fill)
        path = canvas.beginPath()
        path.moveTo(*points[0])
        for x, y in points[1:]:
            path.lineTo(x, y)
        if closed:
            path.close()
        canvas.drawPath(path, int(line is not None), int(fill is not None))

    return mark


def _round(
    centre: Point, radius: float, line: LineKind | None, fill: float | None
) -> Mark:
    def mark(canvas: Canvas) -> None:
        _inked(canvas, line, fill)
        stroke, filled = int(line is not None), int(fill is not None)
        canvas.circle(centre.x * PT, centre.y * PT, radius * PT, stroke, filled)

    return mark


def _arc(
    centre: Point, radius: float, start: float, sweep: float, line: LineKind
) -> Mark:
    low = (centre.x - radius) * PT, (centre.y - radius) * PT
    high = (centre.x + radius) * PT, (centre.y + radius) * PT

    def mark(canvas: Canvas) -> None:
        _inked(canvas, line, None)
        canvas.arc(*low, *high, start, sweep)

    return mark


def _text(begin: Point, words: str, height: float, turn: float) -> Mark:
    c, s = cos(radians(turn)), sin(radians(turn))
    runs = [
        (
            run.words,
            run.size * PT,
            (begin.x + run.start * c) * PT,
            (begin.y + run.start * s) * PT,
        )
        for run in lettering.runs(words, height)
    ]

    def mark(canvas: Canvas) -> None:
        canvas.setFillGray(0)
        for part, size, x, y in runs:
            text = canvas.beginText()
            text.setFont(FONT, size)
            text.setTextTransform(c, s, -s, c, x, y)
            text.textOut(part)
            canvas.drawText(text)

    return mark


def _cells(squares: list[tuple[float, float, float]]) -> Mark:
    def mark(canvas: Canvas) -> None:
        canvas.setFillGray(0)
        path = canvas.beginPath()
        for x, y, size in squares:
            path.rect(x, y, size, size)
        canvas.drawPath(path, 0, 1)

    return mark
