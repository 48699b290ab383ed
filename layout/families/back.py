"""What lies behind the chimney: flat back pan, falling back pan, saddle halves.

Built as the left hand; right hands are mirror images.
"""

from __future__ import annotations

from layout.families.draft import Draft, Label, drafted
from layout.families.side_pan import UP, roof_leg
from layout.families.site import Rise, Site, climb_of
from layout.folding.facts import ShopFacts
from layout.folding.leg import Climb, Edge, stand
from layout.folding.pattern import Role
from layout.folding.seam import Part
from layout.folding.sheet import ROOF, Sheet
from layout.geometry.space import Vec


def flat_back(site: Site, shop: ShopFacts, seam_top: float) -> Draft:
    """A back pan in one piece from roof seam to roof seam.

    Upstand and both end legs lie in the plane of the back wall, so one
    straight fold of 90 + pitch makes them all, with no corner to close.
    """
    sheet = Sheet()
    left, right = -site.left_pan, site.width + site.right_pan
    foot, end = site.depth, site.depth + site.above
    corner_left, corner_right = Vec(0, foot, 0), Vec(site.width, foot, 0)
    base = sheet.add_folded(
        "base",
        "roof",
        ROOF,
        [
            Vec(left, foot, 0),
            corner_left,
            corner_right,
            Vec(right, foot, 0),
            Vec(right, end, 0),
            Vec(left, end, 0),
        ],
    )
    up = site.plumb.scaled(site.upstand_back)
    wall = sheet.strip(
        "upstand", "wall", base, corner_left, corner_right, up, "upstand", "back"
    )
    for hand, corner, outer in (
        ("left", corner_left, Vec(left, foot, 0)),
        ("right", corner_right, Vec(right, foot, 0)),
    ):
        _end_leg(sheet, site, shop, hand, base, wall, outer, corner, seam_top)
    roof_leg(sheet, base, site.seam, Vec(left, foot, 0), Vec(left, end, 0))
    roof_leg(sheet, base, site.seam, Vec(right, foot, 0), Vec(right, end, 0))
    top = corner_right.plus(up)
    sheet.joint_line("upstand top", wall, corner_left.plus(up), top)
    return drafted(Label("B", "back_pan", "Back pan"), sheet)


def raised_back(
    site: Site,
    shop: ShopFacts,
    rise: Rise,
    climb: Climb,
    seam_top: float,
    high_top: float,
    ridge_part: Part,
    label: Label,
    face_role: Role,
) -> Draft:
    """A back with one raised face: a saddle half, or a falling back pan.

    The raised face C-A-R folds up from the base along the valley C-R and
    meets the wall along C-A; its third edge A-R carries the seam that goes on
    down the roof and up the wall, all in one upright plane.
    climb: of that seam up the wall; high_top: where it ends over the roof
    line, mm along the plumb line through A
    label: the piece is a saddle half or a back pan
    """
    sheet = Sheet()
    low, wall_top = rise.corner, site.plumb.scaled(site.upstand_back / rise.slant)
    outer = Vec(-site.left_pan, site.depth, 0)
    end = site.depth + site.above
    ridge_end = Vec(rise.half, end, 0)
    base = sheet.add_folded(
        "base",
        "roof",
        ROOF,
        [outer, low, rise.on_roof, ridge_end, Vec(outer.x, end, 0)],
    )
    raised = sheet.hang_face(
        face_role,
        face_role,
        base,
        low,
        rise.on_roof,
        [low, rise.on_wall, rise.on_roof],
        "valley",
    )
    wall = sheet.strip(
        "upstand", "wall", raised, low, rise.on_wall, wall_top, "upstand", "back"
    )
    _end_leg(sheet, site, shop, "low", base, wall, outer, low, seam_top)
    roof_leg(sheet, base, site.seam, outer, Vec(outer.x, end, 0))
    top = rise.on_wall.plus(site.plumb, high_top - rise.height)
    made = stand(
        sheet,
        "ridge",
        [
            Edge(base, ridge_end, rise.on_roof),
            Edge(raised, rise.on_roof, rise.on_wall),
            Edge(wall, rise.on_wall, top),
        ],
        UP,
        site.seam,
        ridge_part,
        climb,
        shop.metal.stretch,
    )
    leg = site.seam.leg(ridge_part)
    sheet.joint_line("slope seam", made.legs[0], ridge_end, rise.on_roof, leg)
    sheet.joint_line("ridge seam", made.legs[1], rise.on_roof, rise.on_wall, leg)
    sheet.joint_line("wall seam", made.legs[2], rise.on_wall, top, leg)
    sheet.joint_line(
        "upstand top", wall, low.plus(wall_top), rise.on_wall.plus(wall_top)
    )
    return drafted(label, sheet)


def _end_leg(
    sheet: Sheet,
    site: Site,
    shop: ShopFacts,
    name: str,
    base: int,
    wall: int,
    outer: Vec,
    corner: Vec,
    seam_top: float,
) -> None:
    """The covering leg over a side pan's upper end, swept up the corner line."""
    top = corner.plus(site.plumb, seam_top)
    made = stand(
        sheet,
        f"{name} end",
        [Edge(base, outer, corner), Edge(wall, corner, top)],
        site.plumb,
        site.seam,
        "covering",
        climb_of(site, shop.number("sweep_run")),
        shop.metal.stretch,
    )
    leg = site.seam.leg("covering")
    sheet.joint_line(f"cross seam {name}", made.legs[0], outer, corner, leg)
    sheet.joint_line(f"corner seam {name}", made.legs[1], corner, top, leg)
