"""The apron: below the chimney, with returns round both front corners."""

from __future__ import annotations

from layout.families.draft import Draft, Label, drafted
from layout.families.site import Site, strip_places
from layout.folding.corner import CannotFold
from layout.folding.facts import ShopFacts
from layout.folding.sheet import ROOF, Sheet
from layout.geometry.space import Vec
from layout.geometry.tolerance import EPS

SEAM_CLEARANCE = 25.4
"""Kept between the ear and the roof seam so that the seam closes freely, mm
(1 in). Common practice, no source."""


def ear(pan: float, shop: ShopFacts) -> float:
    """How far the apron reaches past a corner, mm, for a side pan that wide."""
    return min(shop.number("apron_ear"), pan - SEAM_CLEARANCE)


def along_roof(site: Site, hand: str) -> Vec:
    """Unit direction up the slope along a side wall's foot."""
    wall = site.wall(hand)
    return wall.along.scaled(-1 if hand == "left" else 1)


def apron(site: Site, shop: ShopFacts) -> Draft:
    """The apron of a site. Between a return's foot and the ear's top a wedge of
    exactly the pitch opens at the corner of a square site: it is cut, under
    the side pan. Raises CannotFold where a pan leaves no room for an ear."""
    sheet = Sheet()
    left, right = ear(site.left_pan, shop), ear(site.right_pan, shop)
    for hand, pan, size in (
        ("left", site.left_pan, left),
        ("right", site.right_pan, right),
    ):
        if size < EPS:
            raise CannotFold(
                f"Apron: the {hand} pan is {{0}} wide; the apron's ear needs more "
                "than {1} beside the seam; open the next roof pan",
                pan,
                SEAM_CLEARANCE,
            )
    wide = site.width
    front_left, front_right = site.corners[:2]
    base = sheet.add_folded(
        "base",
        "roof",
        ROOF,
        [
            Vec(-left, -site.below, 0),
            Vec(wide + right, -site.below, 0),
            Vec(wide + right, 0, 0),
            front_right,
            front_left,
            Vec(-left, 0, 0),
        ],
    )
    wall = site.wall("front")
    places = strip_places(wall, site.ends(wall), 0.0, site.upstand_front)
    upstand = sheet.hang_face(
        "upstand", "wall", base, places[0], places[1], places, "upstand", "front"
    )
    tops = {"left": places[3], "right": places[2]}
    for hand, foot in (("left", front_left), ("right", front_right)):
        up_slope = along_roof(site, hand).scaled(shop.number("apron_return"))
        top = tops[hand]
        face = sheet.strip(
            f"return {hand}", "wall", upstand, foot, top, up_slope, "corner", hand
        )
        far = foot.plus(up_slope), top.plus(up_slope)
        sheet.joint_line(f"return {hand}", face, *far)
    sheet.strip(
        "hem",
        "hem",
        base,
        Vec(-left, -site.below, 0),
        Vec(wide + right, -site.below, 0),
        Vec(0, shop.number("hem"), 0),
        "hem",
        closed=-1,
    )
    sheet.joint_line("ear left", base, Vec(-left, 0, 0), front_left)
    sheet.joint_line("ear right", base, front_right, Vec(wide + right, 0, 0))
    sheet.joint_line("upstand top", upstand, places[3], places[2])
    return drafted(Label("A", "apron", "Apron"), sheet)
