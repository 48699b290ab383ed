"""The side pan: along a side wall, from the wall to the next roof seam.

Built as the left one; the right one is its mirror image.
"""

from __future__ import annotations

from layout.families.draft import Draft, Label, drafted
from layout.families.site import Rise, Site, climb_of
from layout.folding.facts import ShopFacts
from layout.folding.leg import Climb, Edge, stand
from layout.folding.seam import Seam
from layout.folding.sheet import ROOF, Sheet
from layout.geometry.space import Vec

UP = Vec(0, 0, 1)


def side_pan(site: Site, shop: ShopFacts, seam_top: float) -> Draft:
    """A side pan whose upper end turns up as a leg and meets the back pan.

    seam_top: how high the swept seam climbs the corner line, mm along it
    """
    sheet = Sheet()
    base, wall = _base_and_wall(sheet, site, shop, site.depth)
    corner = Vec(0, site.depth, 0)
    outer = Vec(-site.left_pan, site.depth, 0)
    top = corner.plus(site.plumb, seam_top)
    made = stand(
        sheet,
        "upper end",
        [Edge(base, outer, corner), Edge(wall, corner, top)],
        site.plumb,
        site.seam,
        "receiving",
        climb_of(site, shop.number("sweep_run")),
        shop.metal.stretch,
    )
    leg = site.seam.leg("receiving")
    sheet.joint_line("cross seam", made.legs[0], outer, corner, leg)
    sheet.joint_line("corner seam", made.legs[1], corner, top, leg)
    return drafted(Label("PL", "side_pan", "Side pan, left", "left"), sheet)


def through_pan(
    site: Site, shop: ShopFacts, rise: Rise, climb: Climb, seam_top: float
) -> Draft:
    """The side pan on the high side of a falling back: it runs past the chimney.

    Behind the chimney its upstand goes on as the cheek that closes the high
    end of the trough; the trough's seam stands on the cheek's edge.
    rise: of the trough, as seen in this (left) hand: A and R lie on x = 0.
    """
    sheet = Sheet()
    end = Vec(0, site.depth + site.above, 0)
    base, wall = _base_and_wall(sheet, site, shop, end.y)
    corner = Vec(0, site.depth, 0)
    cheek = sheet.hang_face(
        "cheek",
        "leg",
        base,
        corner,
        rise.on_roof,
        [corner, rise.on_roof, rise.on_wall],
        "leg",
    )
    patch = sheet.parts[cheek].patch
    sheet.join(
        wall,
        cheek,
        patch.flat(patch.local(corner)),
        patch.flat(patch.local(rise.on_wall)),
        "corner",
    )
    top = corner.plus(site.plumb, seam_top)
    made = stand(
        sheet,
        "trough seam",
        [
            Edge(base, end, rise.on_roof),
            Edge(cheek, rise.on_roof, rise.on_wall),
            Edge(wall, rise.on_wall, top),
        ],
        UP,
        site.seam,
        "receiving",
        climb,
        shop.metal.stretch,
    )
    leg = site.seam.leg("receiving")
    sheet.joint_line("slope seam", made.legs[0], end, rise.on_roof, leg)
    sheet.joint_line("ridge seam", made.legs[1], rise.on_roof, rise.on_wall, leg)
    sheet.joint_line("corner seam", made.legs[2], rise.on_wall, top, leg)
    label = Label("PL", "side_pan", "Side pan, left, running through", "left")
    return drafted(label, sheet)


def _base_and_wall(
    sheet: Sheet, site: Site, shop: ShopFacts, end: float
) -> tuple[int, int]:
    """Base, hem at the lower end, upstand on the wall, leg at the roof seam."""
    foot = -shop.number("slope_lap")
    pan = site.left_pan
    corner = Vec(0, site.depth, 0)
    base = sheet.add_folded(
        "base",
        "roof",
        ROOF,
        [
            Vec(-pan, foot, 0),
            Vec(0, foot, 0),
            Vec(0, 0, 0),
            corner,
            Vec(0, end, 0),
            Vec(-pan, end, 0),
        ],
    )
    up = site.plumb.scaled(site.side_at_corner)
    front = Vec(0, 0, 0)
    wall = sheet.strip("upstand", "wall", base, front, corner, up, "upstand", "left")
    sheet.strip(
        "hem",
        "hem",
        base,
        Vec(-pan, foot, 0),
        Vec(0, foot, 0),
        Vec(0, shop.number("hem"), 0),
        "hem",
        closed=-1,
    )
    roof_leg(sheet, base, site.seam, Vec(-pan, foot, 0), Vec(-pan, end, 0))
    sheet.joint_line("lower end", base, Vec(-pan, foot, 0), Vec(0, foot, 0))
    sheet.joint_line("upstand front", wall, front, front.plus(up))
    sheet.joint_line("upstand top", wall, front.plus(up), corner.plus(up))
    return base, wall


def roof_leg(sheet: Sheet, base: int, seam: Seam, a: Vec, b: Vec) -> None:
    """The covering leg at the roof's own seam, along the base's edge a-b."""
    stand(sheet, "roof seam", [Edge(base, a, b)], UP, seam, "covering")
