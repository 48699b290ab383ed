"""SvgPen: strokes as one SVG drawing with its size in real millimetres.

Only presentation attributes are written, no style attributes, so that a page
with a strict content policy shows it whole.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, radians, sin
from xml.etree import ElementTree as ET

from layout.drawing import lettering
from layout.drawing.pen import NARROW, WIDE, Anchor, LineKind, text_start
from layout.geometry.point import Point

SVG = "http://www.w3.org/2000/svg"
PLACES = 4


class SvgPen:
    """Inks one page. Raises ValueError at a second page."""

    def __init__(self, title: str, words: str = "") -> None:
        self._title, self._words = title, words
        self._root: ET.Element | None = None
        self._height = 0.0

    def page(self, width: float, height: float) -> None:
        if self._root is not None:
            raise ValueError("an SVG drawing has one page")
        self._height = height
        self._root = ET.Element(
            "svg",
            {
                "xmlns": SVG,
                "width": f"{_n(width)}mm",
                "height": f"{_n(height)}mm",
                "viewBox": f"0 0 {_n(width)} {_n(height)}",
                "role": "img",
                "fill": "none",
                "stroke-linejoin": "round",
                "font-family": f"'{lettering.FAMILY}', sans-serif",
            },
        )
        ET.SubElement(self._root, "title").text = self._title
        if self._words:
            ET.SubElement(self._root, "desc").text = self._words

    def path(
        self,
        points: Sequence[Point],
        line: LineKind | None = WIDE,
        closed: bool = False,
        fill: float | None = None,
    ) -> None:
        places = " ".join(f"{_n(p.x)},{_n(self._height - p.y)}" for p in points)
        tag = "polygon" if closed else "polyline"
        self._add(tag, {"points": places, **_inked(line, fill)})

    def circle(
        self,
        centre: Point,
        radius: float,
        line: LineKind | None = NARROW,
        fill: float | None = None,
    ) -> None:
        place = {
            "cx": _n(centre.x),
            "cy": _n(self._height - centre.y),
            "r": _n(radius),
        }
        self._add("circle", {**place, **_inked(line, fill)})

    def arc(
        self,
        centre: Point,
        radius: float,
        start: float,
        sweep: float,
        line: LineKind = NARROW,
    ) -> None:
        ends = [
            Point(
                centre.x + radius * cos(radians(angle)),
                self._height - centre.y - radius * sin(radians(angle)),
            )
            for angle in (start, start + sweep)
        ]
        r, large, side = _n(radius), int(abs(sweep) > 180), int(sweep < 0)
        d = (
            f"M{_n(ends[0].x)} {_n(ends[0].y)}"
            f"A{r} {r} 0 {large} {side} {_n(ends[1].x)} {_n(ends[1].y)}"
        )
        self._add("path", {"d": d, **_inked(line, None)})

    def text(
        self,
        at: Point,
        words: str,
        height: float = lettering.SMALLEST,
        anchor: Anchor = "start",
        turn: float = 0.0,
    ) -> None:
        start = text_start(at, words, height, anchor, turn)
        x, y = start.x, self._height - start.y
        for run in lettering.runs(words, height):
            attributes = {
                "x": _n(x + run.start * cos(radians(turn))),
                "y": _n(y - run.start * sin(radians(turn))),
                "font-size": _n(run.size),
                "fill": "#000",
                # Where the font is not there, another one keeps to the same room.
                "textLength": _n(run.width),
                "lengthAdjust": "spacingAndGlyphs",
                "xml:space": "preserve",
            }
            if turn:
                attributes["transform"] = (
                    f"rotate({_n(-turn)} {attributes['x']} {attributes['y']})"
                )
            self._add("text", attributes).text = run.words

    def cells(self, squares: Sequence[tuple[Point, float]]) -> None:
        d = "".join(
            f"M{_n(p.x)} {_n(self._height - p.y)}h{_n(s)}v{_n(-s)}h{_n(-s)}z"
            for p, s in squares
        )
        self._add("path", {"d": d, "fill": "#000"})

    def ink(self) -> bytes:
        """The drawing as UTF-8 SVG; same strokes, same bytes."""
        assert self._root is not None
        ink: bytes = ET.tostring(self._root, encoding="utf-8", xml_declaration=True)
        return ink

    def _add(self, tag: str, attributes: dict[str, str]) -> ET.Element:
        assert self._root is not None, "page() comes first"
        return ET.SubElement(self._root, tag, attributes)


def _inked(line: LineKind | None, fill: float | None) -> dict[str, str]:
    found: dict[str, str] = {}
    if fill is not None:
        found["fill"] = _tone(fill)
    if line is not None:
        found["stroke"] = "#000"
        found["stroke-width"] = _n(line.width)
        if line.dashes:
            found["stroke-dasharray"] = " ".join(_n(dash) for dash in line.dashes)
    return found


def _tone(tone: float) -> str:
    return f"#{round(tone * 255):02x}" + f"{round(tone * 255):02x}" * 2


def _n(number: float) -> str:
    """A number in few characters, without a negative nought."""
    return f"{round(number, PLACES) + 0.0:.{PLACES}f}".rstrip("0").rstrip(".")
