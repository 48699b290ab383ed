"""A chimney or curb: from a record as read to the pieces around it."""

from __future__ import annotations

from collections.abc import Iterator
from operator import add
from typing import Any

from layout.families import chimney, footprint
from layout.families.assembly import Assembly
from layout.families.site import Site, square_leans
from layout.faults import BadRecord, Fault
from layout.folding.facts import ShopFacts
from layout.kinds import roof_seam
from shop.units import Unit, show_length


def assemble(read: dict[str, Any], unit: Unit, shop: ShopFacts) -> Assembly:
    """All pieces around it. Raises BadRecord where the sides can't close."""
    site = site_of(read, unit, shop)
    return chimney.assemble(site, shop)


def faults(read: dict[str, Any]) -> Iterator[Fault]:
    """Measures that can be read one by one, but not together."""
    walls, build = read["walls"], read["build"]
    if build["counterflashing"] != "none" and walls["reglet"] is None:
        yield Fault(
            "walls.reglet",
            "was null",
            "give the groove's height over the crease, or build.counterflashing none",
        )
    if build["counterflashing"] == "stepped" and walls["course"] is None:
        yield Fault(
            "walls.course",
            "was null",
            "give the height of one course, or build.counterflashing level and raked",
        )
    if build["counterflashing"] == "stepped" and walls["stand"] == "square to the roof":
        yield Fault(
            "build.counterflashing",
            'was "stepped"',
            "steps follow level courses of a plumb wall; give level and raked or none "
            "for walls square to the roof",
        )
    yield from roof_seam.faults(read)
    height = read["roof"]["seam"]["height"]
    if build["leg_at_wall_top"] > height:
        yield Fault(
            "build.leg_at_wall_top",
            f"was {build['leg_at_wall_top']:.1f} mm",
            f"give no more than the seam's height, {height:.1f} mm",
        )


def site_of(read: dict[str, Any], unit: Unit, shop: ShopFacts) -> Site:
    """The measured Site of a record as read.

    Raises BadRecord where the sides can't close, naming the measure to take
    again.
    """
    hole, roof, walls, build = (
        read["penetration"],
        read["roof"],
        read["walls"],
        read["build"],
    )
    # Sides may differ by this and be square, mm.
    corners = _corners(hole, shop.number("square_tolerance"), unit)
    measured = (walls[f"lean_{side}"] or 0.0 for side in SIDES)
    stands = (0.0, 0.0, 0.0, 0.0)
    if walls["stand"] == "square to the roof":
        stands = square_leans(corners, roof["pitch"])
    front, right, behind, left = map(add, stands, measured)
    return Site(
        kind=hole["kind"],
        corners=corners,
        pitch=roof["pitch"],
        left_pan=roof["left_pan"],
        right_pan=roof["right_pan"],
        below=roof["below"],
        above=roof["above"],
        seam=roof_seam.seam_of(read, shop),
        upstand_front=walls["upstand_front"],
        upstand_side=walls["upstand_side"],
        upstand_back=walls["upstand_back"],
        course=walls["course"] or 0.0,
        reglet=walls["reglet"] or 0.0,
        back=build["back"],
        counterflashing=build["counterflashing"],
        sweep_radius=build["sweep_radius"],
        leg_at_wall_top=build["leg_at_wall_top"],
        leans=(front, right, behind, left),
    )


def _corners(hole: dict[str, Any], tolerance: float, unit: Unit) -> footprint.Corners:
    """The footprint, checked against the other diagonal where it was taken."""

    def show(size: float) -> str:
        return show_length(size, unit)

    def fault(name: str, given: float | None, expected: str) -> BadRecord:
        words = "was null" if given is None else f"was {show(given)}"
        return BadRecord([Fault(f"penetration.{name}", words, expected)])

    sides = footprint.Sides(
        *(hole[name] for name in ("front", "right", "back", "left", "diagonal"))
    )
    try:
        found = footprint.corners(sides, tolerance)
    except footprint.Unclosed as unclosed:
        if sides.diagonal is None:
            raise fault(
                "diagonal",
                None,
                f"front {show(sides.front)} and back {show(sides.back)}, left "
                f"{show(sides.left)} and right {show(sides.right)} are out of square; "
                "take the diagonal, front left to back right",
            ) from unclosed
        least, most = footprint.span(sides)
        raise fault(
            "diagonal",
            sides.diagonal,
            "the sides can't close with it: it must lie between "
            f"{show(least)} and {show(most)}; take it again",
        ) from unclosed
    for corner, angle in zip(CORNERS, footprint.angles(found), strict=True):
        if not SHARPEST <= angle <= 180 - SHARPEST:
            raise fault(
                "diagonal",
                sides.diagonal,
                f"the {corner} corner would be {angle:.1f}°; take the sides and the "
                "diagonal again",
            )
    other = hole["other_diagonal"]
    follows = found[3].minus(found[1]).length()
    if other is not None and abs(other - follows) > tolerance:
        raise fault(
            "other_diagonal",
            other,
            f"{show(follows)} follows from the sides and the first diagonal; take "
            "both diagonals again",
        )
    return found


SIDES = ("front", "right", "back", "left")
CORNERS = ("front left", "front right", "back right", "back left")
SHARPEST = 45.0
"""No chimney corner is sharper than this, degrees: a slip of the tape. Our
own bound."""
