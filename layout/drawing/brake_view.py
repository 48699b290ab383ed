"""One fold in the brake: jaw, bed and leaf in grey, the metal before and after.

Takes a step and the bounds that all steps of a piece share, draws its words and
its picture inside a cell.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from layout.drawing import lettering
from layout.drawing.flat import fold_words
from layout.drawing.frame import fitting
from layout.drawing.in_brake import CLOSED, Lain, Stretch, places
from layout.drawing.paper import Box
from layout.drawing.pen import HIDDEN, NARROW, WHITE, LineKind, Pen, arrow
from layout.drawing.rings import RADIUS, ring
from layout.drawing.seam_view import BASES, HEAD
from layout.drawing.view import View, fitted
from layout.folding.brake import BED, CRUSH_FROM, JAW, LEAF, Shape
from layout.folding.facts import BrakeFacts
from layout.geometry.outline import bounds
from layout.geometry.point import Point

METAL = LineKind("metal in the brake", 0.8)
LAYERS = 1.3
"""From one layer to the next where metal lies on metal, mm on paper."""
LONGEST = 100.0
"""A longer stretch is drawn this long, with a break, mm."""
MOST = 0.5
"""The largest scale."""
TOOLS_TONE, LEAF_TONE = 0.75, 0.87
AROUND = (Point(-50, -28), Point(32, 38))
"""What is shown of the tools at least, mm."""


class Tools(NamedTuple):
    """A brake's section: convex shapes round the fold line at the origin, mm."""

    jaw: tuple[Shape, ...]
    bed: tuple[Shape, ...]
    leaf: tuple[Shape, ...]


USUAL = Tools(JAW, BED, LEAF)


def tools_of(brake: BrakeFacts | None) -> Tools:
    """The shop's own section where it was entered, else a usual one."""
    if brake is None:
        return USUAL
    return Tools(brake.jaw or JAW, brake.bed or BED, brake.leaf or LEAF)


def around(steps: Sequence[Lain]) -> tuple[Point, ...]:
    """What all steps need to show, so that all are drawn to one scale."""
    shown = list(AROUND)
    for step in steps:
        for back, front in (_drawn(step, 0.0, 0.0), _drawn(step, step.fold.angle, 0.0)):
            shown += [*places(back), *places(front)]
    x0, y0, x1, y1 = bounds(shown)
    return Point(x0, y0), Point(x1, y1)


def _drawn(
    step: Lain, angle: float, apart: float
) -> tuple[list[Stretch], list[Stretch]]:
    """Back and front as drawn, the front swung by `angle` degrees."""
    back = [
        Stretch(Point(-a.x, a.y), Point(-b.x, b.y), cut)
        for a, b, cut in step.back.stretches(0.0, apart, LONGEST)
    ]
    return back, list(step.front.stretches(angle, apart, LONGEST))


def draw_step(
    step: Lain, shown: Sequence[Point], pen: Pen, box: Box, tools: Tools = USUAL
) -> None:
    """One fold: its words, and the metal in the brake before and after."""
    _draw_words(pen, step, box)
    picture = Box(box.left, box.bottom, box.right, box.top - HEAD)
    view = fitted(shown, picture.shrunk(LAYERS), MOST)
    closes = step.fold.angle >= CLOSED
    _draw_tools(pen, view, picture, tools, LAYERS * 1.5 if closes else 0.0)
    apart = LAYERS / view.scale
    _, before = _drawn(step, 0.0, apart)
    back, after = _drawn(step, step.fold.angle, apart)
    pen.path(view.all_on(places(before)), HIDDEN)
    _draw_swing(pen, view, step, before)
    for stretches in (back, after):
        pen.path(view.all_on(places(stretches)), METAL)
        for stretch in stretches:
            if stretch.cut:
                _draw_break(pen, view.on(stretch.start), view.on(stretch.end))


def _draw_words(pen: Pen, step: Lain, box: Box) -> None:
    fold, left = step.fold, box.left
    ring(pen, Point(left + RADIUS, box.top - BASES[0] + 1.75), fold.order)
    words = f"{fold_words(fold)} {fold.what}"
    room = box.width - 2 * RADIUS - 2
    height = fitting(words, 4.0, room)
    at = Point(left + 2 * RADIUS + 1.5, box.top - BASES[0])
    pen.text(at, lettering.shortened(words, height, room), height)
    said = step.says()
    height = fitting(said, 4.0, box.width)
    pen.text(Point(left, box.top - BASES[1]), said, height)
    side = "weather side down" if fold.over else "weather side up"
    crush = ", crush" if fold.angle >= CLOSED else ""
    pen.text(Point(left, box.top - BASES[2] + 1.5), side + crush)
    edge = f"{step.edge} edge on the leaf" if step.edge else ""
    pen.text(Point(left, box.top - BASES[3] + 1.5), edge)


def _draw_tools(
    pen: Pen, view: View, picture: Box, tools: Tools, lifted: float
) -> None:
    """lifted: the jaw, above a fold that it crushes, mm on paper"""
    for shapes, tone, up in (
        (tools.bed, TOOLS_TONE, 0.0),
        (tools.leaf, LEAF_TONE, 0.0),
        (tools.jaw, TOOLS_TONE, lifted),
    ):
        for shape in shapes:
            on = [p.plus(Point(0, up)) for p in view.all_on(shape)]
            inside = _within(on, picture)
            if len(inside) > 2:
                pen.path(inside, None, closed=True, fill=tone)


def _within(shape: Sequence[Point], box: Box) -> list[Point]:
    """A convex shape cut off at a box (Sutherland and Hodgman, 1974)."""
    kept = list(shape)
    for axis, limit, sign in (
        (0, box.left, 1), (0, box.right, -1), (1, box.bottom, 1), (1, box.top, -1),
    ):  # fmt: skip
        ring_, kept = kept, []
        for a, b in zip(ring_, (*ring_[1:], *ring_[:1]), strict=True):
            in_a, in_b = sign * (a[axis] - limit), sign * (b[axis] - limit)
            if in_a >= 0:
                kept.append(a)
            if in_a * in_b < 0:
                kept.append(a.plus(b.minus(a), in_a / (in_a - in_b)))
    return kept


def _draw_swing(pen: Pen, view: View, step: Lain, before: Sequence[Stretch]) -> None:
    """An arc with its arrow, from the leaf at rest to where it stops."""
    stop = CRUSH_FROM if step.fold.angle >= CLOSED else step.fold.angle
    size = view.scale * before[0].end.minus(before[0].start).length()
    radius = min(9.0, max(4.5, size * 0.6))
    centre = view.on(Point(0, 0))
    pen.arc(centre, radius, 4.0, max(stop - 8.0, 4.0), NARROW)
    tip = centre.plus(Point(radius, 0).turned(stop - 4.0))
    arrow(pen, tip, Point(1, 0).turned(stop + 86.0), 2.2)


def _draw_break(pen: Pen, start: Point, end: Point) -> None:
    """Two strokes across a run that is drawn shorter than it is."""
    along = end.minus(start).unit()
    middle = start.plus(end.minus(start), 0.7)
    slant = along.left().plus(along, 0.5).unit().scaled(1.6)
    gap = along.scaled(0.7)
    corners = [
        middle.plus(gap, s).plus(slant, t)
        for s, t in ((-1, -1), (1, -1), (1, 1), (-1, 1))
    ]
    pen.path(corners, None, closed=True, fill=WHITE)
    for a, b in ((corners[0], corners[3]), (corners[1], corners[2])):
        pen.path([a, b], NARROW)
