"""Around a chimney: which pieces, and which joint each makes with its neighbour.

Takes a measured Site and the shop's facts, gives drafts and the joints as
data: which piece covers which, by what fold or lap.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from math import radians, tan
from typing import Literal

from layout.families import apron, back, cleat, counterflashing, side_pan
from layout.families.draft import Draft, Label
from layout.families.site import Rise, Site, climb_of, rise
from layout.folding.corner import NeedsSeam
from layout.folding.facts import ShopFacts
from layout.folding.leg import Climb, SweepDoesNotFit
from layout.folding.pattern import other_hand
from layout.geometry.space import Vec, flipped
from layout.geometry.tolerance import EPS

REACH = 1.2
"""A sweep takes its radius times the tangent of half its turn along each side:
1 for a square corner, up to this for the tapered one."""

DOWN_SLOPE = Vec(0, -1, 0)


@dataclass(frozen=True, slots=True)
class JointPlan:
    """upper covers lower: (mark, joint line) each. promised: lap in mm along
    flow, 0 for a seam."""

    kind: Literal["lap", "seam"]
    upper: tuple[str, str]
    lower: tuple[str, str]
    promised: float = 0.0
    flow: Vec = DOWN_SLOPE

    def mirrored(self) -> JointPlan:
        def turn(end: tuple[str, str]) -> tuple[str, str]:
            mark = end[0].translate(str.maketrans("LR", "RL"))
            return mark, other_hand(end[1])

        return JointPlan(
            self.kind,
            turn(self.upper),
            turn(self.lower),
            self.promised,
            flipped(self.flow),
        )


@dataclass(slots=True)
class Assembly:
    """All drafts of a site and their joints.

    fall: of the trough or valley behind the chimney, degrees; 0 = none
    refused: what cannot be built, in words
    smaller_sweep: radius of the sweep at a trough's high end where the asked
    one has no room, mm; 0 = a mitred corner; None = as asked
    asked_above: metal above the chimney as measured, mm; the site's may be more
    """

    site: Site
    drafts: list[Draft] = field(default_factory=list)
    joints: list[JointPlan] = field(default_factory=list)
    fall: float = 0.0
    refused: list[str] = field(default_factory=list)
    smaller_sweep: float | None = None
    asked_above: float = 0.0

    def make(self, build: Callable[[], Draft | list[Draft]]) -> None:
        """Adds what `build` gives, or the reason why it can't be built."""
        try:
            made = build()
        except (NeedsSeam, SweepDoesNotFit) as fault:
            self.refused.append(str(fault))
            return
        self.drafts += made if isinstance(made, list) else [made]

    def lap(
        self,
        upper: tuple[str, str],
        lower: tuple[str, str],
        by: float,
        flow: Vec = DOWN_SLOPE,
    ) -> None:
        self.joints.append(JointPlan("lap", upper, lower, by, flow))

    def seam(self, upper: tuple[str, str], lower: tuple[str, str]) -> None:
        self.joints.append(JointPlan("seam", upper, lower))

    def mirrored(self) -> Assembly:
        width = self.site.width
        return replace(
            self,
            site=self.site.mirrored(),
            drafts=[draft.mirrored(width) for draft in self.drafts],
            joints=[joint.mirrored() for joint in self.joints],
        )


def assemble(site: Site, shop: ShopFacts) -> Assembly:
    """All pieces around a square chimney or curb."""
    made = _assemble(site, shop)
    made.asked_above = site.above
    made.drafts.sort(key=lambda draft: ORDER.index(draft.mark))
    return made


def _assemble(site: Site, shop: ShopFacts) -> Assembly:
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


ORDER = ["A", "PL", "PR", "B", "BL", "BR", "CF", "CL", "CL2", "CR", "CR2",
         "CB", "CBL", "CBR", "K"]  # fmt: skip
"""From the eave upwards, as the pieces go on the roof."""


# --- the back ----------------------------------------------------------------


def _with_flat_back(site: Site, shop: ShopFacts) -> Assembly:
    made = Assembly(site)
    top = min(site.side_at_corner, site.upstand_back)
    _side_pans(made, shop, top, ("left", "right"))
    made.make(lambda: back.flat_back(site, shop, top))
    for hand, pan in (("left", "PL"), ("right", "PR")):
        made.seam(("B", f"cross seam {hand}"), (pan, "cross seam"))
        made.seam(("B", f"corner seam {hand}"), (pan, "corner seam"))
    if site.counterflashing != "none":
        made.make(
            lambda: counterflashing.across_wall(site, shop, "back", site.upstand_back)
        )
        _covers(made, shop, "CB", "B", site.upstand_back, site.plumb.scaled(-1))
        for hand, side in (("left", "CL"), ("right", "CR")):
            made.lap(
                ("CB", f"tab {hand}"),
                (_last_of(site, shop, side), "back end"),
                shop.number("corner_tab"),
            )
    return made


def _with_saddle(site: Site, shop: ShopFacts) -> Assembly:
    half = site.width / 2
    shape = rise(site, half, half * site.tangent)
    site = _reaching(site, shop, shape)
    made = Assembly(site, fall=shape.fall)
    back_top = site.upstand_back / shape.slant
    top = min(site.side_at_corner, back_top)
    _side_pans(made, shop, top, ("left", "right"))
    climb = climb_of(site, shop.number("sweep_run"))
    labels = {
        "left": Label("BL", "saddle_half", "Saddle half, left", "left"),
        "right": Label("BL", "saddle_half", "Saddle half, left", "left"),
    }

    def build(hand: str) -> Draft:
        seen = site if hand == "left" else site.mirrored()
        part: Literal["receiving", "covering"] = (
            "receiving" if hand == "left" else "covering"
        )
        draft = back.raised_back(
            seen,
            shop,
            shape,
            climb,
            top,
            shape.height + back_top,
            part,
            labels[hand],
            "saddle",
        )
        return draft if hand == "left" else draft.mirrored(site.width)

    for hand, pan, mark in (("left", "PL", "BL"), ("right", "PR", "BR")):
        made.make(lambda hand=hand: build(hand))  # type: ignore[misc]
        made.seam((mark, "cross seam low"), (pan, "cross seam"))
        made.seam((mark, "corner seam low"), (pan, "corner seam"))
    for line in ("slope seam", "ridge seam", "wall seam"):
        made.seam(("BR", line), ("BL", line))
    if site.counterflashing != "none":
        _saddle_cover(made, shop, shape)
    return made


def _saddle_cover(made: Assembly, shop: ShopFacts, shape: Rise) -> None:
    """Two raked pieces over the saddle's upstands; the right one goes over the
    peak and covers the left one's end."""
    site, past = made.site, shop.number("step_lap")
    label = Label("CBL", "counterflashing", "Counterflashing, back, left", "left")
    made.make(lambda: counterflashing.over_rise(site, shop, shape, 0.0, label))
    made.make(
        lambda: counterflashing.over_rise(
            site.mirrored(), shop, shape, past, label
        ).mirrored(site.width)
    )
    made.lap(("CBR", "past peak"), ("CBL", "peak"), past, Vec(-1, 0, 0))
    down = _square_to_rise(site, shape).scaled(-1)
    for hand, cover, under, side in (
        ("left", "CBL", "BL", "CL"),
        ("right", "CBR", "BR", "CR"),
    ):
        flow = down if hand == "left" else flipped(down)
        _covers(made, shop, cover, under, site.upstand_back, flow)
        made.lap(
            (cover, f"tab {hand}"),
            (_last_of(site, shop, side), "back end"),
            shop.number("corner_tab"),
        )


def _with_falling_back(site: Site, shop: ShopFacts) -> Assembly:
    """The trough falls to the left; the right side pan runs through."""
    try:
        height, climb = _trough_rise(site, shop)
    except NeedsSeam as fault:
        return Assembly(site, refused=[str(fault)])
    shape = rise(site, site.width, height)
    made = Assembly(site, fall=shape.fall)
    back_top = site.upstand_back / shape.slant
    low_top = min(site.side_at_corner, back_top)
    high_top = min(site.side_at_corner, height + back_top)
    _side_pans(made, shop, low_top, ("left",))
    seen = Rise(
        Vec(0, site.depth, 0),
        flipped(shape.on_wall).plus(Vec(site.width, 0, 0)),
        flipped(shape.on_roof).plus(Vec(site.width, 0, 0)),
        site.width,
        height,
    )
    made.make(
        lambda: side_pan.through_pan(
            site.mirrored(), shop, seen, climb, high_top
        ).mirrored(site.width)
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


def _falling_cover(made: Assembly, shop: ShopFacts, shape: Rise) -> None:
    site = made.site
    label = Label("CB", "counterflashing", "Counterflashing, back")
    made.make(lambda: counterflashing.over_rise(site, shop, shape, 0.0, label))
    down = _square_to_rise(site, shape).scaled(-1)
    _covers(made, shop, "CB", "B", site.upstand_back, down)
    for hand, side in (("left", "CL"), ("right", "CR")):
        made.lap(
            ("CB", f"tab {hand}"),
            (_last_of(site, shop, side), "back end"),
            shop.number("corner_tab"),
        )


def _trough_rise(site: Site, shop: ShopFacts) -> tuple[float, Climb]:
    """How far the trough's high end is raised, and how its seam climbs there.

    As high as the metal behind the chimney allows, but low enough for the
    seam to be swept up the wall over it, on the largest radius up to the
    asked one that leaves room both ways; mitred where no sweep has room.
    """
    run, seam = shop.number("sweep_run"), site.seam
    by_roof = (site.above - shop.number("saddle_margin")) * site.sine
    room = site.side_at_corner - seam.height - run
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
            "Back pan: the trough can't rise at its high end. "
            f"{site.above:.0f} mm of metal above and {site.upstand_side:.0f} mm of "
            "side upstand leave no height; raise walls.upstand_side or roof.above"
        )
    return height, climb_of(site, run, radius)


def _reaching(site: Site, shop: ShopFacts, shape: Rise) -> Site:
    """The site with its metal carried past the saddle's ridge end."""
    least = shape.on_roof.y - site.depth + shop.number("saddle_margin")
    return replace(site, above=max(site.above, least))


def _square_to_rise(site: Site, shape: Rise) -> Vec:
    """Unit direction on the back wall, square to C-A, upwards."""
    along = shape.on_wall.minus(shape.corner).unit()
    return site.plumb.plus(along, -site.plumb.dot(along)).unit()


# --- sides, front, counterflashing -------------------------------------------


def _side_pans(
    made: Assembly, shop: ShopFacts, top: float, hands: tuple[str, ...]
) -> None:
    site = made.site
    if "left" in hands:
        made.make(lambda: side_pan.side_pan(site, shop, top))
    if "right" in hands:
        made.make(
            lambda: side_pan.side_pan(site.mirrored(), shop, top).mirrored(site.width)
        )


def _apron_joints(made: Assembly, shop: ShopFacts) -> None:
    for hand, pan in (("left", "PL"), ("right", "PR")):
        made.lap((pan, "lower end"), ("A", f"ear {hand}"), shop.number("slope_lap"))
        made.lap(
            (pan, "upstand front"), ("A", f"return {hand}"), shop.number("apron_return")
        )


def _front_and_sides(made: Assembly, shop: ShopFacts) -> None:
    site = made.site
    made.make(
        lambda: counterflashing.across_wall(site, shop, "front", site.upstand_front)
    )
    _covers(made, shop, "CF", "A", site.upstand_front, site.plumb.scaled(-1))
    for hand, side, pan in (("left", "CL", "PL"), ("right", "CR", "PR")):
        seen = site if hand == "left" else site.mirrored()
        if site.counterflashing == "stepped":
            steps = counterflashing.stepped_side(seen, shop)
        else:
            steps = [counterflashing.along_side(seen, shop)]
        if hand == "right":
            steps = [step.mirrored(site.width) for step in steps]
        made.drafts += steps
        made.lap((side, "front end"), ("CF", f"tab {hand}"), shop.number("corner_tab"))
        _covers(made, shop, side, pan, site.upstand_side, Vec(0, 0, -1))


def _covers(
    made: Assembly, shop: ShopFacts, cover: str, under: str, upstand: float, flow: Vec
) -> None:
    """The counterflashing's lap over the upstand below it."""
    by = counterflashing.lap_over(upstand, shop)
    made.lap((cover, "lower edge"), (under, "upstand top"), by, flow)


def _last_of(site: Site, shop: ShopFacts, side: str) -> str:
    """Mark of the uppermost counterflashing piece on a side."""
    if site.counterflashing != "stepped":
        return side
    return side + "2" if len(counterflashing.stepped_side(site, shop)) > 1 else side


def _seam_lengths(made: Assembly, shop: ShopFacts) -> list[float]:
    """Roof seams, and the seams across the slope beside the back, mm."""
    site = made.site
    seam = site.depth + site.above + shop.number("slope_lap")
    return [seam, seam, site.left_pan, site.right_pan]
