"""Around a chimney: which pieces, and which joint each makes with its neighbour.

Takes a measured Site and the shop's facts, gives drafts and the joints as
data: which piece covers which, by what fold or lap.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from math import radians, tan

from layout.families import apron, back, cleat, counterflashing, side_pan
from layout.families.assembly import Assembly
from layout.families.draft import Draft, Label
from layout.families.site import (
    Rise,
    Site,
    back_upstand,
    climb_of,
    saddle_rise,
    trough_rise,
)
from layout.folding.corner import CannotFold, NeedsSeam
from layout.folding.facts import ShopFacts
from layout.folding.pattern import other_hand
from layout.folding.seam import Part
from layout.folding.sweep import Climb
from layout.geometry.space import Vec, flipped, mirrored
from layout.geometry.tolerance import EPS

REACH = 1.2
"""A sweep takes its radius times the tangent of half its turn along each side:
1 for a square corner, up to this for the tapered one. Our own bound."""


@dataclass(slots=True)
class Around(Assembly):
    """The pieces around a chimney or curb.

    smaller_sweep: radius of the sweep at a trough's high end where the asked
    one has no room, mm; 0 = a mitred corner; None = as asked
    asked_above: metal above the chimney as measured, mm; the site's may be more
    back_tabs: hand and mark of the back counterflashing's tabs
    """

    site: Site = field(kw_only=True)
    smaller_sweep: float | None = None
    asked_above: float = 0.0
    back_tabs: list[tuple[str, str]] = field(default_factory=list)

    def side_covers(self, hand: str) -> list[str]:
        """Marks of the counterflashing along a side, from the front up."""
        letter = "CL" if hand == "left" else "CR"
        return [draft.mark for draft in self.drafts if draft.mark.startswith(letter)]

    def mirrored(self) -> Around:
        other = around(self.site.mirrored())
        return replace(
            self,
            site=other.site,
            walls=other.walls,
            corners=other.corners,
            drafts=[draft.mirrored(self.width) for draft in self.drafts],
            joints=[joint.mirrored() for joint in self.joints],
            refused=[
                CannotFold(other_hand(fault.words), *fault.lengths)
                for fault in self.refused
            ],
        )


def around(site: Site) -> Around:
    """An empty assembly around a site."""
    return Around(
        walls=site.walls(),
        roof_seam=site.seam,
        width=site.width,
        corners=site.corners,
        pitch=site.pitch,
        site=site,
    )


def assemble(site: Site, shop: ShopFacts) -> Around:
    """All pieces around a square chimney or curb."""
    made = _assemble(site, shop)
    made.asked_above = site.above
    made.drafts.sort(key=lambda draft: ORDER.index(draft.mark))
    return made


def _assemble(site: Site, shop: ShopFacts) -> Around:
    if site.back == "falling right":
        return _assemble(site.mirrored(), shop).mirrored()
    if site.back == "flat":
        made = _with_flat_back(site, shop)
    elif site.back == "saddle":
        made = _with_saddle(site, shop)
    else:
        made = _with_falling_back(site, shop)
    made.make(lambda: apron.apron(made.site, shop))
    _apron_joints(made, shop)
    if site.counterflashing != "none":
        _front_and_sides(made, shop)
    made.make(lambda: cleat.seam_cleat(made.site, shop, _seam_lengths(made, shop)))
    return made


ORDER = ["A", "PL", "PR", "B", "BL", "BR", "CF", "CL", "CL1", "CL2", "CL3",
         "CR", "CR1", "CR2", "CR3", "CB", "CBL", "CBR", "K"]  # fmt: skip
"""From the eave upwards, as the pieces go on the roof."""


# --- the back ----------------------------------------------------------------


def _with_flat_back(site: Site, shop: ShopFacts) -> Around:
    made = around(site)
    behind = site.wall("back")
    tops = {}
    for hand, seen in _hands(site):
        up = seen.corner_line("back", "left").dot(seen.wall("back").up)
        tops[hand] = min(seen.side_at_corner, site.upstand_back / up)
        _side_pan(made, shop, hand, tops[hand])
    made.make(lambda: back.flat_back(site, shop, tops))
    for hand, pan in (("left", "PL"), ("right", "PR")):
        made.seam(("B", f"cross seam {hand}"), (pan, "cross seam"))
        made.seam(("B", f"corner seam {hand}"), (pan, "corner seam"))
    if site.counterflashing != "none":
        made.make(
            lambda: counterflashing.across_wall(site, shop, "back", site.upstand_back)
        )
        _covers(made, shop, "CB", "B", site.upstand_back, behind.up.scaled(-1))
        _back_tabs(made, shop, "CB", "CB")
    return made


def _with_saddle(site: Site, shop: ShopFacts) -> Around:
    """Two halves that meet over the middle of the back wall.

    The ridge is as high as gives half a square chimney's saddle the roof's
    own pitch: H = S tan pitch, the building code's table (IRC R1003.20).
    """
    back_right, back_left = site.corners[2:]
    middle = back_left.plus(back_right).scaled(0.5)
    height = back_right.minus(back_left).length() / 2 * site.tangent
    site = _reaching(site, shop, saddle_rise(site, middle, height))
    made = around(site)
    shapes = {
        "left": saddle_rise(site, middle, height),
        "right": saddle_rise(site.mirrored(), mirrored(middle, site.width), height),
    }
    made.fall = min(shape.fall for shape in shapes.values())
    # Both halves' seam ends at one height over the peak, the lower one's.
    wall_seam = min(back_upstand(seen, shapes[hand])[1] for hand, seen in _hands(site))
    for hand, seen in _hands(site):
        over_low, _ = back_upstand(seen, shapes[hand])
        top = min(seen.side_at_corner, over_low)
        _side_pan(made, shop, hand, top)
        _half(made, shop, hand, shapes[hand], top, wall_seam)
    for pan, mark in (("PL", "BL"), ("PR", "BR")):
        made.seam((mark, "cross seam low"), (pan, "cross seam"))
        made.seam((mark, "corner seam low"), (pan, "corner seam"))
    for line in ("slope seam", "ridge seam", "wall seam"):
        made.seam(("BR", line), ("BL", line))
    if site.counterflashing != "none":
        _saddle_cover(made, shop, shapes)
    return made


def _half(
    made: Around,
    shop: ShopFacts,
    hand: str,
    shape: Rise,
    top: float,
    wall_seam: float,
) -> None:
    """One half of a saddle; the right one's ridge leg covers the left one's."""
    seen = made.site if hand == "left" else made.site.mirrored()
    label = Label("BL", "saddle_half", "Saddle half, left", "left")
    climb = climb_of(seen, shop.number("sweep_run"))
    part: Part = "receiving" if hand == "left" else "covering"

    def build() -> Draft:
        return back.raised_back(
            seen, shop, shape, climb, top, wall_seam, part, label, "saddle"
        )

    made.make(build, mirror=hand == "right")


def _saddle_cover(made: Around, shop: ShopFacts, shapes: dict[str, Rise]) -> None:
    """Two raked pieces over the saddle's upstands; the right one goes over the
    peak and covers the left one's end."""
    site, past = made.site, shop.number("step_lap")
    label = Label("CBL", "counterflashing", "Counterflashing, back, left", "left")
    for hand, seen in _hands(site):
        reach = past if hand == "right" else 0.0

        def build(seen: Site = seen, hand: str = hand, reach: float = reach) -> Draft:
            return counterflashing.over_rise(seen, shop, shapes[hand], reach, label)

        made.make(build, mirror=hand == "right")
        down = _square_to_rise(seen, shapes[hand]).scaled(-1)
        flow = flipped(down) if hand == "right" else down
        cover, under = ("CBL", "BL") if hand == "left" else ("CBR", "BR")
        _covers(made, shop, cover, under, site.upstand_back, flow)
    to_left = site.wall("back").level(site.plumb)
    made.lap(("CBR", "past peak"), ("CBL", "peak"), past, to_left)
    _back_tabs(made, shop, "CBL", "CBR")


def _with_falling_back(site: Site, shop: ShopFacts) -> Around:
    """The trough falls to the left; the right side pan runs through."""
    made = around(site)
    try:
        height, climb = _trough_rise(site, shop)
    except NeedsSeam as fault:
        made.refused.append(fault)
        return made
    shape = trough_rise(site, height)
    made.fall = shape.fall
    seen = site.mirrored()
    over_low, over_high = back_upstand(site, shape)
    low_top = min(site.side_at_corner, over_low)
    raised = shape.on_wall.minus(site.corners[2]).length()
    high_top = min(seen.side_at_corner - raised, over_high)
    _side_pan(made, shop, "left", low_top)
    high = shape.mirrored(seen.corners[3], site.width)
    made.make(
        lambda: side_pan.through_pan(seen, shop, high, climb, raised + high_top),
        mirror=True,
    )
    label = Label("B", "back_pan", "Back pan, falling left")
    made.make(
        lambda: back.raised_back(
            site, shop, shape, climb, low_top, high_top, "covering", label, "trough"
        )
    )
    made.seam(("B", "cross seam low"), ("PL", "cross seam"))
    made.seam(("B", "corner seam low"), ("PL", "corner seam"))
    for upper, lower in (
        ("slope seam", "slope seam"),
        ("ridge seam", "ridge seam"),
        ("wall seam", "corner seam"),
    ):
        made.seam(("B", upper), ("PR", lower))
    if climb.radius != site.sweep_radius:
        made.smaller_sweep = climb.radius
    if site.counterflashing != "none":
        _falling_cover(made, shop, shape)
    return made


def _falling_cover(made: Around, shop: ShopFacts, shape: Rise) -> None:
    site = made.site
    label = Label("CB", "counterflashing", "Counterflashing, back")
    made.make(lambda: counterflashing.over_trough(site, shop, shape, label))
    down = _square_to_rise(site, shape).scaled(-1)
    _covers(made, shop, "CB", "B", site.upstand_back, down)
    _back_tabs(made, shop, "CB", "CB")


def _trough_rise(site: Site, shop: ShopFacts) -> tuple[float, Climb]:
    """How far the trough's high end is raised, and how its seam climbs there.

    As high as the metal behind the chimney allows, but low enough for the
    seam to be swept up the wall over it, on the largest radius up to the
    asked one that leaves room both ways; mitred where no sweep has room.
    """
    run, seam = shop.number("sweep_run"), site.seam
    by_roof = (site.above - shop.number("saddle_margin")) * site.sine
    room = site.mirrored().side_at_corner - seam.height - run
    # At the roof end the path turns by the pitch: it loses a part of a height.
    lost = seam.height * (1 + tan(radians(site.pitch / 2)))
    both_ways = (room / site.tangent - lost) / (REACH * (1 + 1 / site.tangent))
    radius = min(site.sweep_radius, both_ways)
    height = min(by_roof, room - REACH * radius)
    radius = min(radius, (height / site.tangent - lost) / REACH)
    if radius <= seam.above("covering"):
        radius, height = 0.0, min(by_roof, room - site.leg_at_wall_top)
    if height < EPS:
        raise NeedsSeam(
            "Back pan: the trough can't rise at its high end; {0} of metal above and "
            "{1} of side upstand leave no height; raise the side upstand, or take "
            "more metal above",
            site.above,
            site.upstand_side,
        )
    return height, climb_of(site, run, radius)


def _reaching(site: Site, shop: ShopFacts, shape: Rise) -> Site:
    """The site with its metal carried past the saddle's ridge end."""
    short = shape.on_roof.y + shop.number("saddle_margin") - site.top_edge
    return replace(site, above=site.above + max(0.0, short))


def _square_to_rise(site: Site, shape: Rise) -> Vec:
    """Unit direction on the back wall, square to C-A, upwards."""
    up = site.wall("back").plane.normal.cross(shape.along)
    return up if up.dot(site.plumb) > 0 else up.scaled(-1)


# --- sides, front, counterflashing -------------------------------------------


def _hands(site: Site) -> tuple[tuple[str, Site], tuple[str, Site]]:
    """Each hand with the site as seen where that hand is the left one."""
    return ("left", site), ("right", site.mirrored())


def _side_pan(made: Around, shop: ShopFacts, hand: str, top: float) -> None:
    seen = made.site if hand == "left" else made.site.mirrored()
    made.make(lambda: side_pan.side_pan(seen, shop, top), mirror=hand == "right")


def _apron_joints(made: Around, shop: ShopFacts) -> None:
    for hand, pan in (("left", "PL"), ("right", "PR")):
        made.lap((pan, "lower end"), ("A", f"ear {hand}"), shop.number("slope_lap"))
        made.lap(
            (pan, "upstand front"),
            ("A", f"return {hand}"),
            shop.number("apron_return"),
            apron.along_roof(made.site, hand).scaled(-1),
        )


def _front_and_sides(made: Around, shop: ShopFacts) -> None:
    site = made.site
    made.make(
        lambda: counterflashing.across_wall(site, shop, "front", site.upstand_front)
    )
    down = site.wall("front").up.scaled(-1)
    _covers(made, shop, "CF", "A", site.upstand_front, down)
    for hand, seen in _hands(site):

        def build(seen: Site = seen) -> list[Draft]:
            if site.counterflashing == "stepped":
                return counterflashing.stepped_side(seen, shop)
            return [counterflashing.along_side(seen, shop)]

        made.make(build, mirror=hand == "right")
        covers = made.side_covers(hand)
        tab = shop.number("corner_tab")
        down_slope = apron.along_roof(site, hand).scaled(-1)
        made.lap((covers[0], "front end"), ("CF", f"tab {hand}"), tab, down_slope)
        pan = "PL" if hand == "left" else "PR"
        for cover in covers:
            down = site.wall(hand).up.scaled(-1)
            _covers(made, shop, cover, pan, site.upstand_side, down)
        for lower, upper in zip(covers, covers[1:], strict=False):
            if (lower, upper) in (("CL1", "CL2"), ("CR1", "CR2")) or len(covers) == 2:
                lap = shop.number("step_lap")
                level = site.wall(hand).level(site.plumb)
                flow = level if level.y < 0 else level.scaled(-1)
                made.lap((upper, "front end"), (lower, "back end"), lap, flow)
    for hand, cover in made.back_tabs:
        made.lap(
            (cover, f"tab {hand}"),
            (made.side_covers(hand)[-1], "back end"),
            shop.number("corner_tab"),
            apron.along_roof(site, hand).scaled(-1),
        )


def _back_tabs(made: Around, shop: ShopFacts, left: str, right: str) -> None:
    """The back counterflashing's tabs, over the side pieces' back ends."""
    made.back_tabs = [("left", left), ("right", right)]


def _covers(
    made: Around, shop: ShopFacts, cover: str, under: str, upstand: float, flow: Vec
) -> None:
    """The counterflashing's lap over the upstand below it."""
    by = counterflashing.lap_over(upstand, shop)
    made.lap((cover, "lower edge"), (under, "upstand top"), by, flow)


def _seam_lengths(made: Around, shop: ShopFacts) -> list[float]:
    """Roof seams, and the seams across the slope beside the back, mm."""
    site = made.site
    seam = site.top_edge + shop.number("slope_lap")
    return [seam, seam, site.left_pan, site.right_pan]
