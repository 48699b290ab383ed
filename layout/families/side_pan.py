"""The side pan: along a side wall, from the wall to the next roof seam.

Built as the left one; the right one is its mirror image.
"""

from __future__ import annotations

from layout.families.draft import Draft, Label, drafted
from layout.families.site import Rise, Site, climb_of, cross_line_at, strip_places
from layout.folding.facts import ShopFacts
from layout.folding.leg import Edge, stand
from layout.folding.seam import Seam
from layout.folding.sheet import ROOF, Sheet
from layout.folding.sweep import Climb
from layout.geometry.space import Vec

UP = Vec(0, 0, 1)


def side_pan(site: Site, shop: ShopFacts, seam_top: float) -> Draft:
    """A side pan whose upper end turns up as a leg and meets the back pan.

    seam_top: how high the swept seam climbs the corner line, mm along it
    """
    sheet = Sheet()
    corner, outer = site.corners[3], cross_line_at(site, site.left_seam)
    base, wall = _base_and_wall(sheet, site, shop, [corner, outer])
    top = corner.plus(site.corner_line("left", "back"), seam_top)
    made = stand(
        sheet,
        "upper end",
        [Edge(base, outer, corner), Edge(wall, corner, top)],
        site.wall("back").up,
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
    rise: of the trough, as seen in this (left) hand: A, R and the seam up the
    roof lie in the left wall's plane, drawn on.
    """
    sheet = Sheet()
    corner = site.corners[3]
    end = rise.slope_end(site.top_edge)
    outer = Vec(site.left_seam, end.y, 0)
    base, wall = _base_and_wall(sheet, site, shop, [corner, end, outer])
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
    top = corner.plus(site.corner_line("left", "back"), seam_top)
    made = stand(
        sheet,
        "trough seam",
        [
            Edge(base, end, rise.on_roof),
            Edge(cheek, rise.on_roof, rise.on_wall),
            Edge(wall, rise.on_wall, top),
        ],
        rise.upright,
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
    sheet: Sheet, site: Site, shop: ShopFacts, upper: list[Vec]
) -> tuple[int, int]:
    """Base, hem at the lower end, upstand on the wall, leg at the roof seam.

    upper: the base's corners from the chimney's back left corner to the seam
    """
    pan, foot = site.left_seam, -shop.number("slope_lap")
    front, corner = site.corners[0], site.corners[3]
    base = sheet.add_folded(
        "base",
        "roof",
        ROOF,
        [Vec(pan, foot, 0), Vec(0, foot, 0), front, *upper],
    )
    side = site.wall("left")
    places = strip_places(side, site.ends(side), 0.0, site.upstand_side)
    wall = sheet.hang_face(
        "upstand", "wall", base, front, corner, places, "upstand", "left"
    )
    sheet.strip(
        "hem",
        "hem",
        base,
        Vec(pan, foot, 0),
        Vec(0, foot, 0),
        Vec(0, shop.number("hem"), 0),
        "hem",
        closed=-1,
    )
    roof_leg(sheet, base, site.seam, Vec(pan, foot, 0), upper[-1])
    sheet.joint_line("lower end", base, Vec(pan, foot, 0), Vec(0, foot, 0))
    sheet.joint_line("upstand front", wall, front, places[2])
    sheet.joint_line("upstand top", wall, places[3], places[2])
    return base, wall


def roof_leg(sheet: Sheet, base: int, seam: Seam, a: Vec, b: Vec) -> None:
    """The covering leg at the roof's own seam, along the base's edge a-b."""
    stand(sheet, "roof seam", [Edge(base, a, b)], UP, seam, "covering")
