"""The apron: below the chimney, with returns round both front corners."""

from __future__ import annotations

from layout.families.draft import Draft, Label, drafted
from layout.families.site import Site
from layout.folding.facts import ShopFacts
from layout.folding.sheet import ROOF, Sheet
from layout.geometry.space import Vec

SEAM_CLEARANCE = 25.4
"""Kept between the ear and the roof seam so that the seam closes freely, mm
(1 in). Common practice, no source."""


def ear(pan: float, shop: ShopFacts) -> float:
    """How far the apron reaches past a corner, mm, for a side pan that wide."""
    return min(shop.number("apron_ear"), pan - SEAM_CLEARANCE)


def apron(site: Site, shop: ShopFacts) -> Draft:
    """The apron of a site. Between a return's foot and the ear's top a wedge of
    exactly the pitch opens at the corner: it is cut, under the side pan."""
    sheet = Sheet()
    left, right = ear(site.left_pan, shop), ear(site.right_pan, shop)
    wide = site.width
    base = sheet.add_folded(
        "base",
        "roof",
        ROOF,
        [
            Vec(-left, -site.below, 0),
            Vec(wide + right, -site.below, 0),
            Vec(wide + right, 0, 0),
            Vec(wide, 0, 0),
            Vec(0, 0, 0),
            Vec(-left, 0, 0),
        ],
    )
    up = site.plumb.scaled(site.upstand_front)
    corner_left, corner_right = Vec(0, 0, 0), Vec(wide, 0, 0)
    front = sheet.strip(
        "upstand", "wall", base, corner_left, corner_right, up, "upstand", "front"
    )
    back = Vec(0, shop.number("apron_return"), 0)
    for wall, foot in (("left", corner_left), ("right", corner_right)):
        face = sheet.strip(
            f"return {wall}", "wall", front, foot, foot.plus(up), back, "corner", wall
        )
        far = foot.plus(back)
        sheet.joint_line(f"return {wall}", face, far, far.plus(up))
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
    sheet.joint_line("ear left", base, Vec(-left, 0, 0), Vec(0, 0, 0))
    sheet.joint_line("ear right", base, Vec(wide, 0, 0), Vec(wide + right, 0, 0))
    sheet.joint_line("upstand top", front, up, corner_right.plus(up))
    return drafted(Label("A", "apron", "Apron"), sheet)
