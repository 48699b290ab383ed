"""PdfPen: strokes as one vector PDF. The only place that knows the PDF library."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from io import BytesIO
from math import cos, radians, sin

from reportlab import rl_config
from reportlab.lib.utils import ImageReader
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from layout.drawing import lettering
from layout.drawing.pen import NARROW, WIDE, Anchor, LineKind, text_start
from layout.geometry.point import Point

PT = 72 / 25.4
"""Points in a millimetre (ISO 32000: a point is 1/72 in)."""

FONT = "IBMPlexSans"

# Streams as plain bytes: a fifth smaller, and made in half the time.
rl_config.useA85 = 0


@cache
def _font() -> TTFont:
    font = TTFont(FONT, str(lettering.FONT_FILE))
    pdfmetrics.registerFont(font)
    return font


class _Path:
    """Straight lines as the canvas takes a path: by its operators (ISO 32000,
    8.5.2). The library's own path formats each number on its own, slowly."""

    def __init__(self, points: Sequence[Point], closed: bool) -> None:
        self.points, self.closed = points, closed

    def getCode(self) -> str:  # noqa: N802  the canvas calls it so
        (x, y), *rest = self.points
        code = [f"{x * PT:.4f} {y * PT:.4f} m"]
        code += [f"{x * PT:.4f} {y * PT:.4f} l" for x, y in rest]
        return " ".join([*code, "h"] if self.closed else code)


class _Squares:
    """Squares as a path, in the same way."""

    def __init__(self, squares: Sequence[tuple[Point, float]]) -> None:
        self.squares = squares

    def getCode(self) -> str:  # noqa: N802  the canvas calls it so
        return " ".join(
            f"{p.x * PT:.3f} {p.y * PT:.3f} {size * PT:.3f} {size * PT:.3f} re"
            for p, size in self.squares
        )


class PdfPen:
    """Inks page after page; `ink` gives the bytes. Same strokes, same bytes."""

    def __init__(self, title: str) -> None:
        _font()
        self._file = BytesIO()
        self._canvas = Canvas(
            self._file,
            pagesize=(100 * PT, 100 * PT),
            pageCompression=1,
            invariant=1,
            initialFontName=FONT,
            lang="en",
        )
        self._canvas.setTitle(title)
        self._canvas.setAuthor("Seambook")
        self._canvas.setCreator("Seambook")
        # A sheet that says 1:1 must not be shrunk to fit by the print dialog.
        self._canvas.setViewerPreference("PrintScaling", "None")
        self._begun = False
        self._line: LineKind | None = None
        self._fill: float | None = None

    def page(self, width: float, height: float) -> None:
        if self._begun:
            self._canvas.showPage()
        self._begun = True
        self._canvas.setPageSize((width * PT, height * PT))
        self._canvas.setLineJoin(1)
        self._line = self._fill = None

    def path(
        self,
        points: Sequence[Point],
        line: LineKind | None = WIDE,
        closed: bool = False,
        fill: float | None = None,
    ) -> None:
        self._draw(_Path(points, closed), line, fill)

    def circle(
        self,
        centre: Point,
        radius: float,
        line: LineKind | None = NARROW,
        fill: float | None = None,
    ) -> None:
        path = self._canvas.beginPath()
        path.circle(centre.x * PT, centre.y * PT, radius * PT)
        self._draw(path, line, fill)

    def arc(
        self,
        centre: Point,
        radius: float,
        start: float,
        sweep: float,
        line: LineKind = NARROW,
    ) -> None:
        path = self._canvas.beginPath()
        path.arc(
            (centre.x - radius) * PT,
            (centre.y - radius) * PT,
            (centre.x + radius) * PT,
            (centre.y + radius) * PT,
            start,
            sweep,
        )
        self._draw(path, line, None)

    def text(
        self,
        at: Point,
        words: str,
        height: float = lettering.SMALLEST,
        anchor: Anchor = "start",
        turn: float = 0.0,
    ) -> None:
        start = text_start(at, words, height, anchor, turn)
        c, s = cos(radians(turn)), sin(radians(turn))
        self._tone(0.0)
        for run in lettering.runs(words, height):
            self._canvas.setFont(FONT, run.size * PT)
            x, y = (start.x + run.start * c) * PT, (start.y + run.start * s) * PT
            text = self._canvas.beginText(x, y)
            if turn:
                text.setTextTransform(c, s, -s, c, x, y)
            text.textOut(run.words)
            self._canvas.drawText(text)

    def cells(self, squares: Sequence[tuple[Point, float]]) -> None:
        self._draw(_Squares(squares), None, 0.0)

    def photo(self, corner: Point, width: float, height: float, jpeg: bytes) -> None:
        """A JPEG in the rectangle from its lower left corner."""
        image = ImageReader(BytesIO(jpeg))
        self._canvas.drawImage(
            image, corner.x * PT, corner.y * PT, width * PT, height * PT
        )

    def ink(self) -> bytes:
        """The PDF."""
        self._canvas.showPage()
        self._canvas.save()
        # The font keeps what each document used of it; this one is finished.
        _font().state.pop(self._canvas._doc, None)
        return self._file.getvalue()

    def _draw(self, path: object, line: LineKind | None, fill: float | None) -> None:
        if line is not None and line != self._line:
            self._canvas.setLineWidth(line.width * PT)
            self._canvas.setDash([dash * PT for dash in line.dashes])
            self._line = line
        if fill is not None:
            self._tone(fill)
        self._canvas.drawPath(path, int(line is not None), int(fill is not None))

    def _tone(self, tone: float) -> None:
        if tone != self._fill:
            self._canvas.setFillGray(tone)
            self._fill = tone
