"""Counterflashing: let into the wall, it covers the upstand's top.

Level on the front, raked along a sloping upstand, or stepped to the courses.
Every piece is a strip on one wall over a foot line: its lower edge hangs a
lap below the upstand's top, its upper edge turns into the reglet.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from layout.families.draft import Draft, Label, drafted
from layout.families.site import Rise, Site
from layout.folding.facts import ShopFacts
from layout.folding.sheet import Patch, Sheet
from layout.geometry.point import Point
from layout.geometry.space import Vec
from layout.geometry.tolerance import EPS, close

MOST_COURSES = 3
"""A step rises three bricks at most (copper handbook, stepped and chimney
flashings, trade value 1.65)."""


@dataclass(frozen=True, slots=True)
class Strip:
    """A strip on a wall: the foot line it follows, heights square to it.

    foot, end: ends of the foot line on the wall, left to right seen from
    outside; low, high: lower edge and reglet over the foot line, mm
    """

    wall: str
    normal: Vec
    foot: Vec
    end: Vec
    plumb: Vec
    low: float
    high: float

    def at(self, place: Vec, height: float) -> Vec:
        """The place on the plumb line over `place`, `height` mm square to the
        foot line."""
        along = self.end.minus(self.foot).unit()
        share = along.cross(self.plumb).length()
        return place.plus(self.plumb, height / share)


def _raked(strip: Strip, shop: ShopFacts) -> tuple[Sheet, int]:
    """A parallelogram with plumb ends, hook above and drip below."""
    places = [
        strip.at(strip.foot, strip.low),
        strip.at(strip.end, strip.low),
        strip.at(strip.end, strip.high),
        strip.at(strip.foot, strip.high),
    ]
    return _cover(strip, shop, places)


def _cover(strip: Strip, shop: ShopFacts, places: list[Vec]) -> tuple[Sheet, int]:
    """A face with its lower edge 0-1 first; its edge 2-3 is let into the wall."""
    sheet = Sheet()
    along = places[1].minus(places[0]).unit()
    up = strip.normal.cross(along)
    patch = Patch(Point(0, 0), Point(1, 0), places[0], along, up)
    face = sheet.add_folded("cover", "face", patch, places, strip.wall)
    _hook(sheet, shop, face, strip, places[2], places[3])
    tilt = shop.number("drip_angle")
    kicked = up.scaled(-1).turned(along, -tilt)
    if kicked.dot(strip.normal) < 0:
        kicked = up.scaled(-1).turned(along, tilt)
    drip = kicked.scaled(shop.number("drip"))
    sheet.strip("drip", "hem", face, places[0], places[1], drip, "drip")
    sheet.joint_line("lower edge", face, places[0], places[1])
    return sheet, face


def _hook(
    sheet: Sheet, shop: ShopFacts, face: int, strip: Strip, a: Vec, b: Vec
) -> None:
    """Into the reglet, its inner edge turned up."""
    into = strip.normal.scaled(-shop.number("reglet_depth"))
    hook = sheet.strip("reglet", "hook", face, a, b, into, "hook")
    along = b.minus(a).unit()
    up = strip.normal.cross(along)
    up = up if up.dot(strip.plumb) > 0 else up.scaled(-1)
    sheet.strip(
        "turn-up",
        "hook",
        hook,
        a.plus(into),
        b.plus(into),
        up.scaled(shop.number("reglet_turn")),
        "turn-up",
    )


def _tab(
    sheet: Sheet, shop: ShopFacts, face: int, strip: Strip, corner: Vec, hand: str
) -> None:
    """A tab round a corner. At the front it goes up the slope, under the side
    piece; at the back down the slope, over it: the upper piece covers."""
    reach = shop.number("corner_tab") * (1 if strip.wall == "front" else -1)
    tab = Vec(0, reach, 0)
    a, b = strip.at(corner, strip.low), strip.at(corner, strip.high)
    lap = sheet.strip(f"tab {hand}", "lap", face, a, b, tab, "corner", hand)
    sheet.joint_line(f"tab {hand}", lap, a.plus(tab), b.plus(tab))


def across_wall(site: Site, shop: ShopFacts, wall: str, upstand: float) -> Draft:
    """A level piece across the front or the back wall, a tab round each corner."""
    strip = _strip(site, shop, wall, upstand)
    sheet, face = _raked(strip, shop)
    for corner in (strip.foot, strip.end):
        hand = "left" if corner.x < site.width / 2 else "right"
        _tab(sheet, shop, face, strip, corner, hand)
    mark = "CF" if wall == "front" else "CB"
    return drafted(Label(mark, "counterflashing", f"Counterflashing, {wall}"), sheet)


def along_side(site: Site, shop: ShopFacts) -> Draft:
    """The raked piece along the left side wall."""
    strip = _strip(site, shop, "left", site.upstand_side)
    sheet, face = _raked(strip, shop)
    for name, place in (("back end", strip.foot), ("front end", strip.end)):
        low, high = strip.at(place, strip.low), strip.at(place, strip.high)
        sheet.joint_line(name, face, low, high)
    label = Label("CL", "counterflashing", "Counterflashing, left side", "left")
    return drafted(label, sheet)


def over_rise(
    site: Site, shop: ShopFacts, rise: Rise, past: float, label: Label
) -> Draft:
    """The raked piece over a raised back, from the low left corner up to A.

    past: how far it goes on beyond A down the other side of a saddle, mm;
    0 where A lies on the other corner: there it turns round it with a tab.
    """
    low, high = _heights(site, shop, site.upstand_back)
    # Seen from behind the chimney the left corner is on the right.
    strip = Strip(
        "back",
        site.walls()["back"].normal,
        rise.on_wall,
        rise.corner,
        site.plumb,
        low,
        high,
    )
    peak = strip.at(rise.on_wall, low), strip.at(rise.on_wall, high)
    end = strip.at(rise.corner, low), strip.at(rise.corner, high)
    places = [peak[0], end[0], end[1], peak[1]]
    if past:
        drop = Vec(past, 0, 0).plus(site.plumb, -past * rise.height / rise.half)
        places += [peak[1].plus(drop), peak[0].plus(drop)]
    sheet, face = _cover(strip, shop, places)
    _tab(sheet, shop, face, strip, rise.corner, "left")
    if past:
        sheet.joint_line("past peak", face, places[5], places[4])
    elif close(rise.half, site.width):
        _tab(sheet, shop, face, strip, rise.on_wall, "right")
    else:
        sheet.joint_line("peak", face, *peak)
    return drafted(label, sheet)


def _strip(site: Site, shop: ShopFacts, wall: str, upstand: float) -> Strip:
    front_left, front_right, back_right, back_left = site.corners()
    ends = {
        "front": (front_left, front_right),
        "back": (back_right, back_left),
        "left": (back_left, front_left),
    }
    low, high = _heights(site, shop, upstand)
    return Strip(wall, site.walls()[wall].normal, *ends[wall], site.plumb, low, high)


def _heights(site: Site, shop: ShopFacts, upstand: float) -> tuple[float, float]:
    """Lower edge and reglet over the crease, square to it, mm."""
    return upstand - lap_over(upstand, shop), site.reglet


def lap_over(upstand: float, shop: ShopFacts) -> float:
    """Lap of the counterflashing over an upstand, mm: the shop's, or what an
    upstand leaves that stays clear of the roof."""
    lap = shop.number("counterflashing_lap")
    return min(lap, upstand - shop.number("clear_of_roof"))


def step_courses(site: Site, shop: ShopFacts) -> int:
    """How many courses one step rises: as few as give a run of two laps."""
    wanted = 2 * shop.number("step_lap")
    for courses in range(1, MOST_COURSES + 1):
        if courses * site.course / site.tangent >= wanted:
            return courses
    return MOST_COURSES


def step_run(course: float, courses: int, tangent: float) -> float:
    """Level run of one step, mm: rise / tan pitch.

    Example: 75 mm course at 30 degrees -> 129.9 mm.
    """
    return courses * course / tangent


def stepped_side(site: Site, shop: ShopFacts) -> list[Draft]:
    """The steps along the left side wall: equal ones, and the last, cut short."""
    courses = step_courses(site, shop)
    run = step_run(site.course, courses, site.tangent)
    length = site.depth * site.cosine
    count = max(1, ceil((length - EPS) / run))
    if count > 1 and length - (count - 1) * run < shop.number("step_lap"):
        count -= 1
    steps = []
    if count > 1:
        steps.append(_step(site, shop, 0, run, run, False, count - 1))
    last = length - (count - 1) * run
    steps.append(_step(site, shop, count - 1, run, last, True, 1))
    return steps


def _step(
    site: Site,
    shop: ShopFacts,
    index: int,
    run: float,
    own: float,
    last: bool,
    quantity: int,
) -> Draft:
    """One step. own: its level run; the others go on under the next by a lap."""
    strip = _strip(site, shop, "left", site.upstand_side)
    start = index * run
    lap = 0.0 if last else shop.number("step_lap")
    reach = start + own + lap
    share = site.cosine

    def place(level: float, height: float) -> Vec:
        return Vec(0, 0, 0).plus(site.level, level).plus(site.plumb, height)

    def over_roof(level: float, square: float) -> float:
        return level * site.tangent + square / share

    top = over_roof(start + max(run, own), strip.high)
    places = [
        place(reach, over_roof(reach, strip.low)),
        place(start, over_roof(start, strip.low)),
        place(start, top),
        place(start + own, top),
    ]
    if lap:
        places.append(place(reach, top))
    sheet, face = _cover(strip, shop, places)
    sheet.joint_line("front end", face, places[1], places[2])
    sheet.joint_line("back end", face, places[0], places[-1])
    courses = step_courses(site, shop)
    plural = "s" if courses > 1 else ""
    ending = last and index > 0
    label = Label(
        "CL2" if ending else "CL",
        "counterflashing",
        "Counterflashing step, left side" + (", last" if ending else ""),
        "left",
    )
    note = f"Each step rises {courses} course{plural} of masonry."
    return drafted(label, sheet, quantity, (note,))
