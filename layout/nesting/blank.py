"""What is to be cut: one blank, and how it may lie on the metal.

Takes sizes in mm. Width is across the rolling direction and length along it, as
the blank lies when it has not been turned.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite

from layout.geometry import outline as polygon
from layout.geometry.point import Point

ANY_WAY = (0, 90, 180, 270)
HEAD_TO_TAIL = (0, 180)
AS_DRAWN = (0,)


@dataclass(frozen=True, slots=True)
class Blank:
    """One copy of one piece, as the rectangle it is sheared from.

    mark, copy: name of the piece and which of its copies, from 1
    width, length: mm, above 0
    outline: (n) Points inside the rectangle, its lower left corner at (0, 0);
    () = the whole rectangle
    turns: degrees by which it may be turned on the metal, of 0, 90, 180, 270;
    see `turns_allowed`
    Raises ValueError for a size that is not a length.
    """

    mark: str
    copy: int
    width: float
    length: float
    outline: tuple[Point, ...] = ()
    turns: tuple[int, ...] = ANY_WAY

    def __post_init__(self) -> None:
        for name, size in (("width", self.width), ("length", self.length)):
            if not (isfinite(size) and size > 0):
                raise ValueError(
                    f"blank {self.mark}: {name} was {size}; give a length over 0 mm"
                )
        if self.turns not in (ANY_WAY, HEAD_TO_TAIL, AS_DRAWN):
            raise ValueError(
                f"blank {self.mark}: turns were {self.turns}; give {ANY_WAY},"
                f" {HEAD_TO_TAIL} or {AS_DRAWN}"
            )

    @property
    def area(self) -> float:
        """Of the outline, square mm."""
        if self.outline:
            return abs(polygon.area(self.outline))
        return self.width * self.length

    @property
    def box(self) -> float:
        """Of the rectangle, square mm."""
        return self.width * self.length


def turns_allowed(rolled: bool, one_way: bool = False) -> tuple[int, ...]:
    """Degrees by which a blank may be turned on the metal.

    rolled: its length must run along the rolling direction
    one_way: the finish must point one way, as the arrow on its film says
    Turning never puts the other side up, so a finish on one side alone forbids
    no turn.
    """
    if one_way:
        return AS_DRAWN
    return HEAD_TO_TAIL if rolled else ANY_WAY


def blank_of(
    mark: str,
    copy: int,
    outline: Sequence[Point],
    turns: tuple[int, ...] = ANY_WAY,
) -> Blank:
    """The blank of an outline in its bench frame: what runs along the datum
    edge (x) is the length, what stands off it (y) the width.

    outline: (n) Points, mm, anywhere in the plane
    """
    low_x, low_y, high_x, high_y = polygon.bounds(outline)
    width = high_y - low_y
    # A quarter turn counter-clockwise brings x along the rolling direction.
    turned = tuple(Point(width - (p.y - low_y), p.x - low_x) for p in outline)
    return Blank(mark, copy, width, high_x - low_x, turned, turns)


def outline_as_it_lies(blank: Blank, turn: int) -> tuple[Point, ...]:
    """The outline turned by 0, 90, 180 or 270 degrees counter-clockwise, its
    rectangle's lower left corner at (0, 0)."""
    w, h = blank.width, blank.length
    corners = (Point(0, 0), Point(w, 0), Point(w, h), Point(0, h))
    points = blank.outline or corners
    for _ in range(turn // 90 % 4):
        points = tuple(Point(h - p.y, p.x) for p in points)
        w, h = h, w
    return points
