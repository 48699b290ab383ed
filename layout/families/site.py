"""The measured site around a chimney or curb, as plain numbers.

Lengths in mm, angles in degrees. Roof frame: origin at the front left corner
at the roof line, x to the right along the front side (seen from the eave),
y up the slope, z square to the roof.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import asin, atan2, cos, degrees, radians, sin, tan
from typing import NamedTuple

from layout.folding.seam import Seam
from layout.folding.sweep import Climb
from layout.geometry.space import Plane, Vec, flipped, meeting_direction, mirrored

NEIGHBOURS = {
    "front": ("left", "right"),
    "right": ("front", "back"),
    "back": ("right", "left"),
    "left": ("back", "front"),
}
"""The walls met at the left and the right end of each, seen from outside."""


class Wall(NamedTuple):
    """One wall: its foot on the roof from a to b, left to right from outside."""

    name: str
    a: Vec
    b: Vec
    plane: Plane

    @property
    def along(self) -> Vec:
        return self.b.minus(self.a).unit()

    @property
    def up(self) -> Vec:
        """Unit direction in the wall, square to its foot, away from the roof."""
        return self.plane.normal.cross(self.along)

    def level(self, plumb: Vec) -> Vec:
        """Unit direction in the wall, level, to the right seen from outside."""
        level = plumb.cross(self.plane.normal).unit()
        return level if level.dot(self.along) > 0 else level.scaled(-1)


@dataclass(frozen=True, slots=True)
class Site:
    """A penetration and how its flashing is to be built.

    corners: front left, front right, back right, back left, at the roof line
    leans: front, right, back, left: out of plumb, positive where the wall's
    top stands away from the chimney
    back: "flat", "falling left", "falling right" or "saddle"
    counterflashing: "none", "level and raked" or "stepped"
    reglet, course: 0 where not measured
    """

    kind: str
    corners: tuple[Vec, Vec, Vec, Vec]
    pitch: float
    left_pan: float
    right_pan: float
    below: float
    above: float
    seam: Seam
    upstand_front: float
    upstand_side: float
    upstand_back: float
    course: float
    reglet: float
    back: str
    counterflashing: str
    sweep_radius: float
    leg_at_wall_top: float
    leans: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)

    # --- the roof ----------------------------------------------------------

    @property
    def plumb(self) -> Vec:
        """Unit direction straight up."""
        return Vec(0, sin(radians(self.pitch)), cos(radians(self.pitch)))

    @property
    def level(self) -> Vec:
        """Unit direction level, into the slope."""
        return Vec(0, cos(radians(self.pitch)), -sin(radians(self.pitch)))

    @property
    def sine(self) -> float:
        return sin(radians(self.pitch))

    @property
    def tangent(self) -> float:
        return tan(radians(self.pitch))

    @property
    def width(self) -> float:
        """The front side, mm."""
        return self.corners[1].x

    @property
    def left_seam(self) -> float:
        """x of the roof's seam on the left."""
        return -self.left_pan

    @property
    def right_seam(self) -> float:
        return self.width + self.right_pan

    @property
    def top_edge(self) -> float:
        """y where the metal behind the chimney ends."""
        return max(self.corners[2].y, self.corners[3].y) + self.above

    # --- the walls ---------------------------------------------------------

    def wall(self, name: str) -> Wall:
        """A wall by its name: front, right, back or left."""
        index = ("front", "right", "back", "left").index(name)
        a, b = self.corners[index], self.corners[(index + 1) % 4]
        along = b.minus(a).unit()
        level_out = along.cross(self.plumb).unit()
        # A wall that leans out turns about its foot, its top moving outwards.
        normal = level_out.turned(along, self.leans[index])
        return Wall(name, a, b, Plane(a, normal))

    def walls(self) -> dict[str, Plane]:
        """Each wall's plane, its normal away from the chimney."""
        return {name: self.wall(name).plane for name in NEIGHBOURS}

    def corner_line(self, one: str, other: str) -> Vec:
        """Unit direction, upwards, of the line where two walls meet."""
        line = meeting_direction(self.wall(one).plane, self.wall(other).plane)
        return line if line.dot(self.plumb) > 0 else line.scaled(-1)

    def ends(self, wall: Wall) -> tuple[Vec, Vec]:
        """Directions of the corner lines at a wall's ends a and b."""
        left, right = NEIGHBOURS[wall.name]
        return self.corner_line(wall.name, left), self.corner_line(wall.name, right)

    @property
    def side_at_corner(self) -> float:
        """Left side upstand's top along the back left corner line, mm."""
        wall = self.wall("left")
        return self.upstand_side / self.corner_line("left", "back").dot(wall.up)

    def mirrored(self) -> Site:
        """The same site with left and right changed over."""
        back = {"falling left": "falling right", "falling right": "falling left"}
        front_left, front_right, back_right, back_left = (
            mirrored(corner, self.width) for corner in self.corners
        )
        front, right, behind, left = self.leans
        return replace(
            self,
            corners=(front_right, front_left, back_left, back_right),
            leans=(front, left, behind, right),
            left_pan=self.right_pan,
            right_pan=self.left_pan,
            back=back.get(self.back, self.back),
        )


def strip_places(
    wall: Wall, ends: tuple[Vec, Vec], low: float, high: float
) -> tuple[Vec, Vec, Vec, Vec]:
    """A strip on a wall between its corner lines: lower left, lower right,
    upper right, upper left. low, high: over the foot, square to it, mm."""
    left, right = (end.scaled(1 / end.dot(wall.up)) for end in ends)
    return (
        wall.a.plus(left, low),
        wall.b.plus(right, low),
        wall.b.plus(right, high),
        wall.a.plus(left, high),
    )


@dataclass(frozen=True, slots=True)
class Rise:
    """The raised back of a chimney: a saddle half or a falling trough.

    corner (C): the low back left corner at the roof line
    on_wall (A): the raised point on the wall; on_roof (R): on the roof
    wall_line: unit direction up the wall from A; slope_line: up the roof from
    R; both lie with A-R in one upright plane, in which upright is the
    direction square to slope_line
    height: of A over the roof line, plumb, mm
    """

    corner: Vec
    on_wall: Vec
    on_roof: Vec
    wall_line: Vec
    slope_line: Vec
    upright: Vec
    height: float

    def slope_end(self, y: float) -> Vec:
        """Where the seam up the roof from R reaches a height y on the slope."""
        return self.on_roof.plus(
            self.slope_line, (y - self.on_roof.y) / self.slope_line.y
        )

    def mirrored(self, corner: Vec, width: float) -> Rise:
        """The same raised place, seen where `corner` is the low one."""
        return Rise(
            corner,
            mirrored(self.on_wall, width),
            mirrored(self.on_roof, width),
            flipped(self.wall_line),
            flipped(self.slope_line),
            flipped(self.upright),
            self.height,
        )

    @property
    def along(self) -> Vec:
        """Unit direction from C to A."""
        return self.on_wall.minus(self.corner).unit()

    @property
    def fall(self) -> float:
        """Fall of the valley C-R to level, degrees."""
        return degrees(asin(self.height / self.on_roof.minus(self.corner).length()))


def saddle_rise(site: Site, foot: Vec, height: float) -> Rise:
    """C, A and R of a saddle half at the back left corner of a site.

    foot: the place of the back wall's foot under A; height: plumb, mm.
    A lies in the back wall over the foot, A-R is level and runs up the slope.
    Square walls: CA = sqrt(S2 + H2), AR = H / tan pitch,
    CR = sqrt(S2 + (H / sin pitch)2).
    """
    upright = Plane(foot, Vec(1, 0, 0))
    line = meeting_direction(site.wall("back").plane, upright)
    line = line if line.dot(site.plumb) > 0 else line.scaled(-1)
    on_wall = foot.plus(line, height / line.dot(site.plumb))
    on_roof = on_wall.plus(site.level, on_wall.z / site.sine)
    slope = Vec(0, 1, 0)
    return Rise(site.corners[3], on_wall, on_roof, line, slope, Vec(0, 0, 1), height)


def trough_rise(site: Site, height: float) -> Rise:
    """C, A and R of a trough that falls to the left.

    A lies on the back right corner line, `height` over its foot, plumb, mm;
    A-R is level in the plane of the right wall, drawn on past the chimney.
    """
    side = site.wall("right")
    line = site.corner_line("right", "back")
    on_wall = site.corners[2].plus(line, height / line.dot(site.plumb))
    level = side.level(site.plumb)
    on_roof = on_wall.plus(level, -on_wall.z / level.z)
    return Rise(site.corners[3], on_wall, on_roof, line, side.along, side.up, height)


def back_upstand(site: Site, shape: Rise) -> tuple[float, float]:
    """Top of a raised back's upstand: along the corner line over C, and along
    the wall line over A, mm. The upstand is square to C-A in the wall."""
    wall = site.wall("back")
    up = wall.plane.normal.cross(shape.along)
    up = up if up.dot(site.plumb) > 0 else up.scaled(-1)
    corner = site.corner_line("back", "left")
    return site.upstand_back / corner.dot(up), site.upstand_back / shape.wall_line.dot(
        up
    )


def climb_of(site: Site, run: float, radius: float | None = None) -> Climb:
    """How a seam climbs the wall on this site. run: straight run at the top."""
    return Climb(
        site.sweep_radius if radius is None else radius, site.leg_at_wall_top, run
    )


def square_corners(width: float, depth: float) -> tuple[Vec, Vec, Vec, Vec]:
    """Corners of a penetration taken as square, sides in mm."""
    return (
        Vec(0, 0, 0),
        Vec(width, 0, 0),
        Vec(width, depth, 0),
        Vec(0, depth, 0),
    )


def square_leans(
    corners: tuple[Vec, Vec, Vec, Vec], pitch: float
) -> tuple[float, float, float, float]:
    """How far walls that stand square to the roof lean out of plumb, degrees:
    front, right, back, left. A square curb: pitch, 0, -pitch, 0."""
    a = radians(pitch)
    plumb, square = Vec(0, sin(a), cos(a)), Vec(0, 0, 1)
    found = []
    for i, foot in enumerate(corners):
        along = corners[(i + 1) % 4].minus(foot).unit()
        upright, wanted = along.cross(plumb).unit(), along.cross(square)
        turn = atan2(upright.cross(wanted).dot(along), upright.dot(wanted))
        found.append(degrees(turn))
    front, right, behind, left = found
    return front, right, behind, left


def cross_line_at(site: Site, x: float) -> Vec:
    """Where the line of the back wall's foot, drawn on, meets a roof seam."""
    back_right, back_left = site.corners[2], site.corners[3]
    along = back_left.minus(back_right)
    return back_right.plus(along, (x - back_right.x) / along.x)
