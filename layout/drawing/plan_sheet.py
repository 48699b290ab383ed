"""One stock with its blanks: where each lies, the cuts in order, what is kept.

Takes plain values in mm, in the frame of the stock (x across the rolling direction, y
along it). Stock lies down on paper: along it to the right, across it upwards.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from layout.drawing import lettering, tape
from layout.drawing.paper import Box
from layout.drawing.pen import FOLD, HIDDEN, NARROW, WHITE, WIDE, LineKind, Pen
from layout.drawing.pen import text_box as words_box
from layout.drawing.placing import meet
from layout.geometry.point import Point

Rect = tuple[float, float, float, float]
"""x, y, width across, length along; mm in the frame of the stock."""

CUT = LineKind("cut", 0.35, (2.0, 1.0))
TINT = 0.93  # of a kept offcut
CUT_TINT = 0.82  # of a blank that is cut
CAP = 4.0  # height of marks in blanks, mm
RING = 2.7  # radius round the number of a cut, mm
CLEAR = 0.5  # kept round words in a blank, mm
EDGE = 9.0  # kept round the stock for figures, mm


@dataclass(frozen=True, slots=True)
class DrawnBlank:
    """words: mark and copy; size: in the shop's unit; outline: as it lies, in the
    frame of the stock; cut: free already"""

    words: str
    size: str
    box: Rect
    outline: tuple[Point, ...]
    cut: bool = False


@dataclass(frozen=True, slots=True)
class DrawnCut:
    """line: its two ends; part: what it parts; told: where to set the stop;
    gives: what comes free"""

    order: int
    line: tuple[Point, Point]
    part: Rect
    told: str
    gives: str
    done: bool = False


@dataclass(frozen=True, slots=True)
class DrawnStock:
    """One stock of a plan. outline: of an offcut that is no rectangle, else ()

    letter: of a detail, which part of the stock it is
    """

    name: str
    told: str
    width: float
    length: float
    unit: tape.Unit
    blanks: tuple[DrawnBlank, ...]
    cuts: tuple[DrawnCut, ...]
    offcuts: tuple[tuple[str, Rect], ...]
    outline: tuple[Point, ...] = ()
    lost: str = ""
    letter: str = ""


class _View:
    """From the frame of the stock to paper: turned to lie down, scaled to the room."""

    def __init__(self, stock: DrawnStock, room: Box) -> None:
        inner = room.shrunk(EDGE)
        self.scale = min(inner.width / stock.length, inner.height / stock.width)
        self.width = stock.width
        self.left = inner.left + (inner.width - stock.length * self.scale) / 2
        self.foot = inner.top - stock.width * self.scale

    def at(self, p: tuple[float, float] | Point) -> Point:
        # A quarter turn clockwise; a mirror would show the wrong hand.
        return Point(
            self.left + p[1] * self.scale, self.foot + (self.width - p[0]) * self.scale
        )

    def box(self, rect: Rect) -> Box:
        x, y, w, h = rect
        low, high = self.at((x + w, y)), self.at((x, y + h))
        return Box(low.x, low.y, high.x, high.y)


def height_for(stock: DrawnStock, width: float) -> float:
    """Height of the room that a stock takes at that width of paper, mm."""
    return (width - 2 * EDGE) * stock.width / stock.length + 2 * EDGE


def draw_stock(pen: Pen, stock: DrawnStock, room: Box) -> list[DrawnStock]:
    """The stock as large as the room takes, at its top.

    Gives the parts that are too small to be told there; they bear a letter and are
    drawn once more as details, each as a stock of its own.
    """
    view = _View(stock, room)
    small = _small_parts(stock, view.scale)
    whole = view.box((0, 0, stock.width, stock.length))
    taken: list[tuple[Point, ...]] = []
    for words, rect in stock.offcuts:
        told = not _in_any(rect, small)
        _draw_offcut(pen, view.box(rect), words if told else "", taken)
    for blank in stock.blanks:
        _draw_blank(pen, view, blank, taken, not _in_any(blank.box, small))
    _rect(pen, whole, WIDE)
    if stock.outline:
        pen.path([view.at(p) for p in stock.outline], WIDE, closed=True)
    for cut in stock.cuts:
        ends = [view.at(p) for p in cut.line]
        pen.path(ends, NARROW if cut.done else CUT)
    for letter, part in zip(LETTERS, small, strict=False):
        _draw_letter(pen, view.box(part), letter, taken)
    for cut in stock.cuts:
        if not _in_any(cut.part, small):
            _draw_number(pen, [view.at(p) for p in cut.line], cut, taken)
    _draw_size(pen, stock, whole)
    return [
        _detail(stock, letter, part)
        for letter, part in zip(LETTERS, small, strict=False)
    ]


LETTERS = "abcdefgh"
LEAST = 13.0
"""Narrower on paper, the numbers of a part's cuts would cover it, mm."""


def _small_parts(stock: DrawnStock, scale: float) -> list[Rect]:
    """Parts with cuts of their own that are too small to be told."""
    found: list[Rect] = []
    if stock.letter:  # large already
        return found
    for cut in stock.cuts:
        w, h = cut.part[2:]
        whole = w >= stock.width - 1 and h >= stock.length - 1
        if whole or min(w, h) * scale >= LEAST or _in_any(cut.part, found):
            continue
        if sum(_in_any(blank.box, [cut.part]) for blank in stock.blanks) > 1:
            found.append(cut.part)
    return found[: len(LETTERS)]


def _in_any(rect: Rect, parts: Sequence[Rect]) -> bool:
    near = 0.01
    return any(
        all(
            part[way] - near <= rect[way]
            and rect[way] + rect[way + 2] <= part[way] + part[way + 2] + near
            for way in (0, 1)
        )
        for part in parts
    )


def _detail(stock: DrawnStock, letter: str, part: Rect) -> DrawnStock:
    """A part of a stock as a stock of its own."""
    x, y, w, h = part

    def moved(rect: Rect) -> Rect:
        return rect[0] - x, rect[1] - y, rect[2], rect[3]

    return DrawnStock(
        f"{stock.name}: part {letter}",
        stock.told,
        w,
        h,
        stock.unit,
        tuple(
            replace(
                it,
                box=moved(it.box),
                outline=tuple(Point(p.x - x, p.y - y) for p in it.outline),
            )
            for it in stock.blanks
            if _in_any(it.box, [part])
        ),
        tuple(
            replace(
                it,
                part=moved(it.part),
                line=(
                    Point(it.line[0].x - x, it.line[0].y - y),
                    Point(it.line[1].x - x, it.line[1].y - y),
                ),
            )
            for it in stock.cuts
            if _in_any(it.part, [part])
        ),
        tuple(
            (words, moved(rect))
            for words, rect in stock.offcuts
            if _in_any(rect, [part])
        ),
        letter=letter,
    )


def _draw_letter(
    pen: Pen, box: Box, letter: str, taken: list[tuple[Point, ...]]
) -> None:
    """The letter of a part that is drawn again as a detail."""
    _rect(pen, box, WIDE)
    cap = min(5.0, max(box.height - 1, lettering.SMALLEST))
    at = Point((box.left + box.right) / 2, (box.bottom + box.top - cap) / 2)
    shape = words_box(at, letter, cap, "middle", 0.0)
    around = Box(shape[0].x - 1.5, shape[0].y - 0.5, shape[2].x + 1.5, shape[2].y + 0.5)
    _rect(pen, around, None, WHITE)
    pen.text(at, letter, cap, "middle")
    taken.append(shape)


def _rect(pen: Pen, box: Box, line: LineKind | None, fill: float | None = None) -> None:
    corners = [
        Point(box.left, box.bottom),
        Point(box.right, box.bottom),
        Point(box.right, box.top),
        Point(box.left, box.top),
    ]
    pen.path(corners, line, closed=True, fill=fill)


def _draw_offcut(
    pen: Pen, box: Box, words: str, taken: list[tuple[Point, ...]]
) -> None:
    _rect(pen, box, FOLD, TINT)
    if not words:
        return
    for lines in (["KEEP", words], ["KEEP"], ["K"]):
        if _write(pen, box, lines, lettering.SMALLEST, taken):
            return


def _draw_blank(
    pen: Pen,
    view: _View,
    blank: DrawnBlank,
    taken: list[tuple[Point, ...]],
    told: bool,
) -> None:
    box = view.box(blank.box)
    _rect(pen, box, NARROW, CUT_TINT if blank.cut else WHITE)
    if blank.outline:
        pen.path([view.at(p) for p in blank.outline], HIDDEN, closed=True)
    if not told:
        return
    mark = blank.words.split(" ")[0]
    state = ["cut"] if blank.cut else []
    for lines, cap in (
        ([blank.words, blank.size, *state], CAP),
        ([blank.words, blank.size], lettering.SMALLEST),
        ([blank.words], lettering.SMALLEST),
        ([mark], lettering.SMALLEST),
    ):
        if _write(pen, box, lines, cap, taken):
            return


def _write(
    pen: Pen,
    box: Box,
    lines: list[str],
    cap: float,
    taken: list[tuple[Point, ...]],
) -> bool:
    """Lines in the middle of a box, level or upright; False where they don't fit."""
    step = cap * 1.6
    high = [lettering.tallness(line, cap) for line in lines]
    step = max(step, *high) if len(lines) > 1 else step
    deep = step * (len(lines) - 1) + cap
    wide = max(lettering.width(line, cap) for line in lines)
    mid = Point((box.left + box.right) / 2, (box.bottom + box.top) / 2)
    for upright in (False, True):
        room = (box.height, box.width) if upright else (box.width, box.height)
        clear = CLEAR if len(lines) == 1 else 4 * CLEAR
        if wide + clear > room[0] or deep + clear > room[1]:
            continue
        for number, line in enumerate(lines):
            off = deep / 2 - cap - step * number
            at = Point(mid.x - off, mid.y) if upright else Point(mid.x, mid.y + off)
            turn = 90.0 if upright else 0.0
            pen.text(at, line, cap, "middle", turn)
            taken.append(words_box(at, line, cap, "middle", turn))
        return True
    return False


def _draw_number(
    pen: Pen, ends: list[Point], cut: DrawnCut, taken: list[tuple[Point, ...]]
) -> None:
    """The cut's number in a ring on its line, where it covers no words."""
    places = list(_along(ends[0], ends[1]))
    free = next((p for p in places if not any(meet(_ring(p), t) for t in taken)), None)
    at = free or places[0]
    taken.append(_ring(at))
    pen.circle(at, RING, NARROW, CUT_TINT if cut.done else WHITE)
    words = str(cut.order)
    size = lettering.SMALLEST if len(words) < 2 else 2.6
    pen.text(Point(at.x, at.y - size / 2), words, size, "middle")


def _along(a: Point, b: Point) -> Iterator[Point]:
    """Places on a line: near its start first, then further on, then its end."""
    size = max(((b.x - a.x) ** 2 + (b.y - a.y) ** 2) ** 0.5, 1e-9)
    steps = max(int(size / RING), 1)
    for n in range(1, steps + 1):
        share = min(n * RING / size, 1.0) if size > 2 * RING else 0.5
        yield Point(a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share)


def _ring(at: Point) -> tuple[Point, ...]:
    r = RING
    return (
        Point(at.x - r, at.y - r),
        Point(at.x + r, at.y - r),
        Point(at.x + r, at.y + r),
        Point(at.x - r, at.y + r),
    )


def _draw_size(pen: Pen, stock: DrawnStock, whole: Box) -> None:
    """Its own size at two edges, and an arrow along the rolling direction."""
    cap = lettering.SMALLEST + 0.5
    long = tape.length(stock.length, stock.unit)
    wide = tape.length(stock.width, stock.unit)
    middle = (whole.left + whole.right) / 2
    pen.text(Point(middle, whole.bottom - cap - 2), long, cap, "middle")
    pen.text(
        Point(whole.left - 2, (whole.bottom + whole.top) / 2), wide, cap, "middle", 90.0
    )
    words = f"part {stock.letter}" if stock.letter else "rolled this way"
    room = lettering.width(words, lettering.SMALLEST)
    y = whole.top + 2.5
    pen.text(Point(whole.left, y), words, lettering.SMALLEST)
    tip = whole.left + room + 14
    if tip < whole.right:
        pen.path([Point(whole.left + room + 2, y + 1), Point(tip, y + 1)], NARROW)
        pen.path([Point(tip - 2, y + 2), Point(tip, y + 1), Point(tip - 2, y)], NARROW)
    if stock.lost:
        words = lettering.shortened(f"DAMAGED: {stock.lost}", cap, whole.width - room)
        pen.text(Point(whole.right, y), words, cap, "end")
