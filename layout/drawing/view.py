"""View: how places of the bench or of space come to lie on paper."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from layout.drawing.paper import Box
from layout.geometry.outline import bounds
from layout.geometry.point import Point


@dataclass(frozen=True, slots=True)
class View:
    """Scale, then shift. scale 0.125 draws 8 mm as 1 mm."""

    scale: float
    shift: Point

    def on(self, p: Point) -> Point:
        return Point(p.x * self.scale + self.shift.x, p.y * self.scale + self.shift.y)

    def all_on(self, points: Iterable[Point]) -> list[Point]:
        return [self.on(p) for p in points]

    def words(self) -> str:
        """The scale in words: "about 1:8"."""
        return "1:1" if self.scale == 1 else f"about 1:{1 / self.scale:.2g}"


def fitted(points: Sequence[Point], room: Box, most: float = 1.0) -> View:
    """The view that shows all points as large as the room allows, centred.

    most: the largest scale
    """
    x0, y0, x1, y1 = bounds(points)
    scale = min(room.width / max(x1 - x0, 1e-9), room.height / max(y1 - y0, 1e-9), most)
    return View(
        scale,
        Point(
            room.left + (room.width - (x1 - x0) * scale) / 2 - x0 * scale,
            room.bottom + (room.height - (y1 - y0) * scale) / 2 - y0 * scale,
        ),
    )
