"""What lies behind the chimney: flat back pan, falling back pan, saddle halves.

Built as the left hand; right hands are mirror images.
"""

from __future__ import annotations

from layout.families.draft import Draft, Label, drafted
from layout.families.side_pan import roof_leg
from layout.families.site import (
    Rise,
    Site,
    back_upstand,
    climb_of,
    cross_line_at,
    strip_places,
)
from layout.folding.facts import ShopFacts
from layout.folding.leg import Edge, stand
from layout.folding.pattern import Role
from layout.folding.seam import Part
from layout.folding.sheet import ROOF, Sheet
from layout.folding.sweep import Climb
from layout.geometry.space import Vec


def flat_back(site: Site, shop: ShopFacts, seam_tops: dict[str, float]) -> Draft:
    """A back pan in one piece from roof seam to roof seam.

    Upstand and both end legs lie in the plane of the back wall, so one
    straight fold of 90 + pitch makes them all, with no corner to close.
    seam_tops: left, right: how high the swept seams climb the corner lines, mm
    """
    sheet = Sheet()
    corner_right, corner_left = site.corners[2:]
    left = cross_line_at(site, site.left_seam)
    right = cross_line_at(site, site.right_seam)
    upper_left = Vec(site.left_seam, site.top_edge, 0)
    upper_right = Vec(site.right_seam, site.top_edge, 0)
    base = sheet.add_folded(
        "base",
        "roof",
        ROOF,
        [left, corner_left, corner_right, right, upper_right, upper_left],
    )
    behind = site.wall("back")
    ends = site.ends(behind)
    places = strip_places(behind, ends, 0.0, site.upstand_back)
    wall = sheet.hang_face(
        "upstand", "wall", base, corner_left, corner_right, places, "upstand", "back"
    )
    for hand, corner, outer, up in (
        ("left", corner_left, left, ends[1]),
        ("right", corner_right, right, ends[0]),
    ):
        top = corner.plus(up, seam_tops[hand])
        _end_leg(sheet, site, shop, hand, base, wall, outer, corner, top)
    roof_leg(sheet, base, site.seam, left, upper_left)
    roof_leg(sheet, base, site.seam, right, upper_right)
    sheet.joint_line("upstand top", wall, places[3], places[2])
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
    seam_top: how high the swept seam climbs the corner line over C, mm
    climb: of the ridge seam up the wall; high_top: where it ends over A, mm
    label: the piece is a saddle half or a back pan
    """
    sheet = Sheet()
    low, corner_up = rise.corner, site.corner_line("back", "left")
    outer = cross_line_at(site, site.left_seam)
    upper = Vec(outer.x, site.top_edge, 0)
    ridge_end = rise.slope_end(site.top_edge)
    base = sheet.add_folded(
        "base", "roof", ROOF, [outer, low, rise.on_roof, ridge_end, upper]
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
    over_low, over_high = back_upstand(site, rise)
    tops = (
        low.plus(corner_up, over_low),
        rise.on_wall.plus(rise.wall_line, over_high),
    )
    places = [low, rise.on_wall, tops[1], tops[0]]
    wall = sheet.hang_face(
        "upstand", "wall", raised, low, rise.on_wall, places, "upstand", "back"
    )
    corner_top = low.plus(corner_up, seam_top)
    _end_leg(sheet, site, shop, "low", base, wall, outer, low, corner_top)
    roof_leg(sheet, base, site.seam, outer, upper)
    top = rise.on_wall.plus(rise.wall_line, high_top)
    made = stand(
        sheet,
        "ridge",
        [
            Edge(base, ridge_end, rise.on_roof),
            Edge(raised, rise.on_roof, rise.on_wall),
            Edge(wall, rise.on_wall, top),
        ],
        rise.upright,
        site.seam,
        ridge_part,
        climb,
        shop.metal.stretch,
    )
    leg = site.seam.leg(ridge_part)
    sheet.joint_line("slope seam", made.legs[0], ridge_end, rise.on_roof, leg)
    sheet.joint_line("ridge seam", made.legs[1], rise.on_roof, rise.on_wall, leg)
    sheet.joint_line("wall seam", made.legs[2], rise.on_wall, top, leg)
    sheet.joint_line("upstand top", wall, *tops)
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
    top: Vec,
) -> None:
    """The covering leg over a side pan's upper end, swept up the corner line."""
    made = stand(
        sheet,
        f"{name} end",
        [Edge(base, outer, corner), Edge(wall, corner, top)],
        site.wall("back").up,
        site.seam,
        "covering",
        climb_of(site, shop.number("sweep_run")),
        shop.metal.stretch,
    )
    leg = site.seam.leg("covering")
    sheet.joint_line(f"cross seam {name}", made.legs[0], outer, corner, leg)
    sheet.joint_line(f"corner seam {name}", made.legs[1], corner, top, leg)
