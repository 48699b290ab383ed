"""Charts as SVG that is made here: classes for every colour, no style, no script.

Takes plain numbers and words, gives markup with a title and a description; the table
under each chart says the same in figures. Each series has its own shape as well as its
tone: colour is never alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, floor, log10
from typing import NamedTuple
from xml.etree import ElementTree as ET

from django.utils.safestring import SafeString, mark_safe

WIDTH = 720.0
LEFT, RIGHT, TOP, FOOT = 74.0, 12.0, 30.0, 34.0
TALL = 280.0
ROW = 34.0
NAME = 250.0


class Pair(NamedTuple):
    """One place along a chart of pairs."""

    label: str
    first: float
    second: float


class Spread(NamedTuple):
    """One row of a chart of spreads; mark: what it is set against, or None"""

    label: str
    low: float
    middle: float
    high: float
    mark: float | None


class Bar(NamedTuple):
    label: str
    amount: float
    words: str


def pairs(
    title: str, rows: Sequence[Pair], names: tuple[str, str], unit: str
) -> SafeString:
    """Two upright bars beside each other for each row, from nought."""
    svg = _svg(title, f"{names[0]} and {names[1]}, in {unit}.", TOP + TALL + FOOT)
    most = max((max(row.first, row.second) for row in rows), default=0)
    least = min((min(row.first, row.second, 0) for row in rows), default=0)
    ticks = _ticks(least, most)
    low, high = ticks[0], ticks[-1]

    def y(amount: float) -> float:
        return TOP + TALL * (high - amount) / (high - low)

    for tick in ticks:
        _line(svg, LEFT, y(tick), WIDTH - RIGHT, y(tick), "chart__grid")
        _text(svg, LEFT - 8, y(tick) + 4, _short(tick), "end")
    _text(svg, 0, 14, unit, "start")
    step = (WIDTH - LEFT - RIGHT) / max(len(rows), 1)
    wide = min(step * 0.38, 34.0)
    # A label every so many places, so that none meets the next.
    every = ceil(62.0 / step)
    for i, row in enumerate(rows):
        middle = LEFT + step * (i + 0.5)
        for amount, left, kind in (
            (row.first, middle - wide, "chart__first"),
            (row.second, middle, "chart__second"),
        ):
            top, bottom = sorted((y(amount), y(0.0)))
            _rect(svg, left, top, wide, bottom - top, kind)
        if i % every == 0:
            _text(svg, middle, TOP + TALL + 18, row.label, "middle")
    _line(svg, LEFT, y(0.0), WIDTH - RIGHT, y(0.0), "chart__axis")
    _key(svg, [("chart__first", names[0]), ("chart__second", names[1])])
    return _markup(svg)


def spreads(title: str, rows: Sequence[Spread], mark: str, unit: str) -> SafeString:
    """For each row a band from low to high, its middle, and a mark set against it."""
    height = TOP + ROW * len(rows) + FOOT
    svg = _svg(
        title, f"Middle half of all jobs, median, and {mark}, in {unit}.", height
    )
    most = max((max(row.high, row.mark or 0.0) for row in rows), default=0)
    ticks = _ticks(0.0, most)
    start, end = NAME, WIDTH - RIGHT - 16

    def x(amount: float) -> float:
        return start + (end - start) * amount / ticks[-1]

    for tick in ticks:
        _line(svg, x(tick), TOP, x(tick), height - FOOT, "chart__grid")
        _text(svg, x(tick), height - FOOT + 18, _short(tick), "middle")
    _text(svg, NAME - 10, height - FOOT + 18, unit, "end")
    for i, row in enumerate(rows):
        y = TOP + ROW * (i + 0.5)
        _text(svg, NAME - 10, y + 5, row.label, "end")
        width = max(x(row.high) - x(row.low), 2.0)
        _rect(svg, x(row.low), y - 8, width, 16, "chart__band")
        _line(svg, x(row.middle), y - 11, x(row.middle), y + 11, "chart__middle")
        if row.mark is not None:
            _diamond(svg, x(row.mark), y)
    kinds = [("chart__band", "middle half"), ("chart__middle", "median")]
    _key(svg, [*kinds, ("chart__mark", mark)])
    return _markup(svg)


def bars(title: str, rows: Sequence[Bar], unit: str) -> SafeString:
    """One lying bar a row, with its amount in words behind it."""
    height = TOP + ROW * len(rows) + 8
    svg = _svg(title, f"In {unit}.", height)
    most = max((row.amount for row in rows), default=0) or 1.0
    room = WIDTH - NAME - 150
    _text(svg, NAME, 16, unit, "start")
    for i, row in enumerate(rows):
        y = TOP + ROW * i
        _text(svg, NAME - 10, y + 19, row.label, "end")
        wide = max(room * row.amount / most, 1.5)
        _rect(svg, NAME, y + 4, wide, ROW - 12, "chart__second")
        _text(svg, NAME + wide + 8, y + 19, row.words, "start")
    return _markup(svg)


def _ticks(least: float, most: float) -> list[float]:
    """Round numbers from at or below the least to at or above the most."""
    span = max(most - least, 1e-9)
    if most <= least:
        return [0.0, 1.0]
    rough = span / 5
    power = 10.0 ** floor(log10(rough))
    step = next(m * power for m in (1, 2, 2.5, 5, 10) if m * power >= rough * 0.999)
    first, last = floor(least / step), ceil(most / step - 1e-9)
    return [round(i * step, 10) for i in range(first, last + 1)]


def _short(number: float) -> str:
    """1500 -> 1.5 k; -2000000 -> −2 M"""
    size, unit = abs(number), ""
    for bound, letter in ((1e9, " G"), (1e6, " M"), (1e3, " k")):
        if size >= bound:
            size, unit = size / bound, letter
            break
    sign = "−" if number < 0 else ""
    return f"{sign}{size:.4g}{unit}"


def _svg(title: str, words: str, height: float) -> ET.Element:
    svg = ET.Element(
        "svg",
        {
            "class": "chart",
            "viewBox": f"0 0 {WIDTH:g} {height + 26:g}",
            "role": "img",
            "aria-label": f"{title}. {words}",
        },
    )
    return svg


def _line(
    svg: ET.Element, x1: float, y1: float, x2: float, y2: float, kind: str
) -> None:
    given = {"class": kind}
    for name, value in (("x1", x1), ("y1", y1), ("x2", x2), ("y2", y2)):
        given[name] = f"{value:.1f}"
    ET.SubElement(svg, "line", given)


def _rect(
    svg: ET.Element, x: float, y: float, width: float, height: float, kind: str
) -> None:
    given = {"class": kind}
    for name, value in (("x", x), ("y", y), ("width", width), ("height", height)):
        given[name] = f"{value:.1f}"
    ET.SubElement(svg, "rect", given)


def _diamond(svg: ET.Element, x: float, y: float, size: float = 7.0) -> None:
    around = ((x, y - size), (x + size, y), (x, y + size), (x - size, y))
    points = " ".join(f"{px:.1f},{py:.1f}" for px, py in around)
    ET.SubElement(svg, "polygon", {"class": "chart__mark", "points": points})


def _text(svg: ET.Element, x: float, y: float, words: str, anchor: str) -> None:
    given = {"x": f"{x:.1f}", "y": f"{y:.1f}", "text-anchor": anchor}
    ET.SubElement(svg, "text", given).text = words


def _key(svg: ET.Element, kinds: Sequence[tuple[str, str]]) -> None:
    """What each shape stands for, under the chart."""
    height = float(svg.attrib["viewBox"].split()[3])
    x, y = LEFT, height - 12
    for kind, words in kinds:
        if kind == "chart__mark":
            _diamond(svg, x + 8, y - 5, 6.0)
        elif kind == "chart__middle":
            _line(svg, x + 8, y - 13, x + 8, y + 3, kind)
        else:
            _rect(svg, x, y - 11, 16, 12, kind)
        _text(svg, x + 24, y, words, "start")
        x += 40 + 8.2 * len(words)


def _markup(svg: ET.Element) -> SafeString:
    # Made of elements: every word in it is escaped.
    return mark_safe(ET.tostring(svg, encoding="unicode"))
