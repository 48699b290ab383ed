"""Paths cut off at a box, so that no pen needs to know about clipping."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from layout.drawing.paper import Box
from layout.geometry.point import Point


def clipped_path(points: Sequence[Point], box: Box) -> Iterator[list[Point]]:
    """The parts of an open path that lie inside a box (Liang and Barsky, 1984)."""
    part: list[Point] = []
    for a, b in zip(points, points[1:], strict=False):
        inside = _inside(a, b, box)
        if inside is None:
            if len(part) > 1:
                yield part
            part = []
            continue
        p, q, leaves = inside
        if part and part[-1] == p:
            part.append(q)
        else:
            if len(part) > 1:
                yield part
            part = [p, q]
        if leaves:
            yield part
            part = []
    if len(part) > 1:
        yield part


def _inside(a: Point, b: Point, box: Box) -> tuple[Point, Point, bool] | None:
    """The stretch of a-b inside, and whether it ends at the box's edge."""
    dx, dy = b.x - a.x, b.y - a.y
    enter, leave = 0.0, 1.0
    for step, room in (
        (-dx, a.x - box.left),
        (dx, box.right - a.x),
        (-dy, a.y - box.bottom),
        (dy, box.top - a.y),
    ):
        if step == 0:
            if room < 0:
                return None
        else:
            share = room / step
            if step < 0:
                enter = max(enter, share)
            else:
                leave = min(leave, share)
    if enter >= leave:
        return None
    along = b.minus(a)
    start = a if enter == 0 else a.plus(along, enter)
    end = b if leave == 1 else a.plus(along, leave)
    return start, end, leave < 1
