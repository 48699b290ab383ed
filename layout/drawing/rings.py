"""A fold's number in its circle."""

from __future__ import annotations

from layout.drawing import lettering
from layout.drawing.pen import NARROW, WHITE, Pen
from layout.geometry.point import Point

RADIUS = 2.9


def ring(pen: Pen, centre: Point, order: int, turn: float = 0.0) -> None:
    """The number in a circle of 5.8 mm; turn: of the lettering, degrees."""
    pen.circle(centre, RADIUS, NARROW, fill=WHITE)
    height = lettering.SMALLEST
    up = Point(1, 0).turned(turn).left()
    pen.text(centre.plus(up, -height / 2), str(order), height, "middle", turn)
