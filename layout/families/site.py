"""The measured site around a chimney or curb, as plain numbers.

Lengths in mm, the pitch in degrees. Roof frame: origin at the front left
corner at the roof line, x to the right seen from the eave, y up the slope,
z square to the roof.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import asin, cos, degrees, hypot, radians, sin, tan

from layout.folding.leg import Climb
from layout.folding.seam import Seam
from layout.geometry.space import Plane, Vec


@dataclass(frozen=True, slots=True)
class Site:
    """A square penetration and how its flashing is to be built.

    width, depth: sides across and up the slope, at the roof line
    back: "flat", "falling left", "falling right" or "saddle"
    counterflashing: "none", "level and raked" or "stepped"
    reglet, course: 0 where not measured
    """

    kind: str
    width: float
    depth: float
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
    def cosine(self) -> float:
        return cos(radians(self.pitch))

    @property
    def tangent(self) -> float:
        return tan(radians(self.pitch))

    def walls(self) -> dict[str, Plane]:
        """Each wall's plane, its normal away from the chimney."""
        level = self.level
        return {
            "front": Plane(Vec(0, 0, 0), level.scaled(-1)),
            "back": Plane(Vec(0, self.depth, 0), level),
            "left": Plane(Vec(0, 0, 0), Vec(-1, 0, 0)),
            "right": Plane(Vec(self.width, 0, 0), Vec(1, 0, 0)),
        }

    def corners(self) -> tuple[Vec, Vec, Vec, Vec]:
        """Front left, front right, back right, back left, at the roof line."""
        return (
            Vec(0, 0, 0),
            Vec(self.width, 0, 0),
            Vec(self.width, self.depth, 0),
            Vec(0, self.depth, 0),
        )

    # --- heights along the plumb corner lines ------------------------------

    @property
    def side_at_corner(self) -> float:
        """Side upstand measured along a plumb corner line."""
        return self.upstand_side / self.cosine

    def mirrored(self) -> Site:
        """The same site with left and right changed over."""
        back = {"falling left": "falling right", "falling right": "falling left"}
        return replace(
            self,
            left_pan=self.right_pan,
            right_pan=self.left_pan,
            back=back.get(self.back, self.back),
        )


@dataclass(frozen=True, slots=True)
class Rise:
    """The raised back of a chimney: a saddle half or a falling trough.

    C is the low corner of the chimney at the roof line, A the raised point on
    the wall, R the raised point on the roof. half: across from C to A, mm;
    height: of A over the roof line, plumb, mm.
    """

    corner: Vec
    on_wall: Vec
    on_roof: Vec
    half: float
    height: float

    @property
    def fall(self) -> float:
        """Fall of the valley C-R to level, degrees."""
        return degrees(asin(self.height / self.on_roof.minus(self.corner).length()))

    @property
    def slant(self) -> float:
        """Ratio of a height square to C-A to the same along the plumb line."""
        return self.half / hypot(self.half, self.height)


def rise(site: Site, half: float, height: float) -> Rise:
    """C, A and R at the back left corner (geometry: CA = sqrt(S2 + H2),
    AR = H / tan pitch, CR = sqrt(S2 + (H / sin pitch)2))."""
    corner = Vec(0, site.depth, 0)
    on_wall = corner.plus(Vec(half, 0, 0)).plus(site.plumb, height)
    on_roof = corner.plus(Vec(half, height / site.sine, 0))
    return Rise(corner, on_wall, on_roof, half, height)


def climb_of(site: Site, run: float, radius: float | None = None) -> Climb:
    """How a seam climbs the wall on this site. run: straight run at the top."""
    return Climb(
        site.sweep_radius if radius is None else radius, site.leg_at_wall_top, run
    )
