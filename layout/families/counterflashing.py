"""Counterflashing: let into the wall, it covers the upstand's top.

Level on the front, raked along a sloping upstand, or stepped to the courses.
Every piece is a strip on one wall over a foot line: its lower edge hangs a
lap below the upstand's top, its upper edge turns into the reglet.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, radians, tan

from layout.families.apron import along_roof
from layout.families.draft import Draft, Label, drafted
from layout.families.site import NEIGHBOURS, Rise, Site, Wall, strip_places
from layout.folding.facts import ShopFacts
from layout.folding.sheet import Patch, Sheet
from layout.geometry.point import Point
from layout.geometry.space import Vec, angle_in_space
from layout.geometry.tolerance import EPS

MOST_COURSES = 3
"""A step rises three bricks at most (copper handbook, stepped and chimney
flashings, trade value 1.65)."""


def _cover(
    shop: ShopFacts,
    wall: Wall,
    places: Sequence[Vec],
    set_back: tuple[float, float] = (0.0, 0.0),
) -> tuple[Sheet, int]:
    """A face with its lower edge 0-1 first; its edge 2-3 is let into the wall.

    set_back: of the drip's outer corners at places 0 and 1, mm
    """
    sheet = Sheet()
    along = places[1].minus(places[0]).unit()
    up = wall.plane.normal.cross(along)
    patch = Patch(Point(0, 0), Point(1, 0), places[0], along, up)
    face = sheet.add_folded("cover", "face", patch, places, wall.name)
    _hook(sheet, shop, face, wall, places[2], places[3])
    # Kicked out from the wall: downwards, turned towards the weather.
    drip = up.scaled(-1).turned(along, shop.number("drip_angle"))
    drip = drip.scaled(shop.number("drip"))
    outer = (
        places[0].plus(drip).plus(along, set_back[0]),
        places[1].plus(drip).plus(along, -set_back[1]),
    )
    ring = [places[0], places[1], outer[1], outer[0]]
    sheet.hang_face("drip", "hem", face, places[0], places[1], ring, "drip")
    sheet.joint_line("lower edge", face, places[0], places[1])
    return sheet, face


def _hook(sheet: Sheet, shop: ShopFacts, face: int, wall: Wall, a: Vec, b: Vec) -> None:
    """Into the reglet, its inner edge turned up."""
    into = wall.plane.normal.scaled(-shop.number("reglet_depth"))
    hook = sheet.strip("reglet", "hook", face, a, b, into, "hook")
    up = wall.plane.normal.cross(a.minus(b).unit())
    inner = a.plus(into), b.plus(into)
    turn = up.scaled(shop.number("reglet_turn"))
    sheet.strip("turn-up", "hook", hook, *inner, turn, "turn-up")


def _tab(
    sheet: Sheet,
    shop: ShopFacts,
    face: int,
    site: Site,
    hand: str,
    a: Vec,
    b: Vec,
    front: bool,
) -> None:
    """A tab round a corner on the edge a-b. At the front it goes up the slope,
    under the side piece; at the back down, over it: the upper piece covers."""
    tab = _reach(site, shop, hand, front)
    lap = sheet.strip(f"tab {hand}", "lap", face, a, b, tab, "corner", hand)
    sheet.joint_line(f"tab {hand}", lap, a.plus(tab), b.plus(tab))


def _reach(site: Site, shop: ShopFacts, hand: str, front: bool) -> Vec:
    """From a corner's edge to the tab's own end, in space."""
    size = shop.number("corner_tab") * (1 if front else -1)
    return along_roof(site, hand).scaled(size)


def _clear_of_tab(shop: ShopFacts, along: Vec, edge: Vec, tab: Vec) -> float:
    """How far the drip is set back at a corner, so that a tab which dips under the
    lower edge in the flat doesn't lie on it, mm.

    along: from the corner along the lower edge; edge: from it, up the tab's fold
    """
    over = angle_in_space(along, edge) + angle_in_space(edge, tab) - 270
    return shop.number("drip") * tan(radians(over)) if over > EPS else 0.0


def across_wall(site: Site, shop: ShopFacts, name: str, upstand: float) -> Draft:
    """A level piece across the front or the back wall, a tab round each corner."""
    wall = site.wall(name)
    low, high = _heights(site, shop, upstand)
    places = strip_places(wall, site.ends(wall), low, high)
    sheet, face = _cover(shop, wall, places)
    edges = (places[0], places[3]), (places[1], places[2])
    for hand, (a, b) in zip(NEIGHBOURS[name], edges, strict=True):
        _tab(sheet, shop, face, site, hand, a, b, name == "front")
    mark = "CF" if name == "front" else "CB"
    return drafted(Label(mark, "counterflashing", f"Counterflashing, {name}"), sheet)


def along_side(site: Site, shop: ShopFacts) -> Draft:
    """The raked piece along the left side wall."""
    wall = site.wall("left")
    low, high = _heights(site, shop, site.upstand_side)
    places = strip_places(wall, site.ends(wall), low, high)
    sheet, face = _cover(shop, wall, places)
    sheet.joint_line("back end", face, places[0], places[3])
    sheet.joint_line("front end", face, places[1], places[2])
    label = Label("CL", "counterflashing", "Counterflashing, left side", "left")
    return drafted(label, sheet)


def over_rise(
    site: Site, shop: ShopFacts, rise: Rise, past: float, label: Label
) -> Draft:
    """The raked piece over a raised back, from the low left corner up to A.

    past: how far it goes on beyond A down the other side of a saddle, mm;
    0 for the saddle's other half, which ends there
    """
    return drafted(label, _over_rise(site, shop, rise, past)[0])


def over_trough(site: Site, shop: ShopFacts, rise: Rise, label: Label) -> Draft:
    """The raked piece over a falling back, a tab round each corner."""
    sheet, face, peak = _over_rise(site, shop, rise, 0.0, right_tab=True)
    _tab(sheet, shop, face, site, "right", *peak, False)
    return drafted(label, sheet)


def _over_rise(
    site: Site, shop: ShopFacts, rise: Rise, past: float, right_tab: bool = False
) -> tuple[Sheet, int, tuple[Vec, Vec]]:
    low, high = _heights(site, shop, site.upstand_back)
    # Seen from behind the chimney the left corner is on the right.
    wall = Wall("back", rise.on_wall, rise.corner, site.wall("back").plane)
    ends = rise.wall_line, site.corner_line("back", "left")
    places = list(strip_places(wall, ends, low, high))
    peak, set_back = (places[0], places[3]), 0.0
    if past:
        drop = _past_peak(site, rise, wall, past)
        places += [peak[1].plus(drop), peak[0].plus(drop)]
        # The drip ends on the peak's line, clear of the metal that goes past it.
        lean = rise.wall_line.dot(wall.along) / rise.wall_line.dot(wall.up)
        set_back = abs(lean) * shop.number("drip")
    elif right_tab:
        tab = _reach(site, shop, "right", False)
        lower = places[1].minus(places[0])
        set_back = _clear_of_tab(shop, lower, peak[1].minus(peak[0]), tab)
    tab = _reach(site, shop, "left", False)
    lower, edge = places[0].minus(places[1]), places[2].minus(places[1])
    left = _clear_of_tab(shop, lower, edge, tab)
    sheet, face = _cover(shop, wall, places, (set_back, left))
    _tab(sheet, shop, face, site, "left", places[1], places[2], False)
    if past:
        sheet.joint_line("past peak", face, places[5], places[4])
    else:
        sheet.joint_line("peak", face, *peak)
    return sheet, face, peak


def _past_peak(site: Site, rise: Rise, wall: Wall, past: float) -> Vec:
    """Down the other side of the saddle, `past` mm level across the peak's line."""
    line = rise.wall_line

    def across(direction: Vec) -> Vec:
        return direction.plus(line, -direction.dot(line))

    level = across(wall.level(site.plumb)).length()
    other = site.corners[2].minus(rise.on_wall)
    return other.scaled(past * level / across(other).length())


def _heights(site: Site, shop: ShopFacts, upstand: float) -> tuple[float, float]:
    """Lower edge and reglet over the crease, square to it, mm."""
    return upstand - lap_over(upstand, shop), site.reglet


def lap_over(upstand: float, shop: ShopFacts) -> float:
    """Lap of the counterflashing over an upstand, mm: the shop's, or what an
    upstand leaves that stays clear of the roof."""
    lap = shop.number("counterflashing_lap")
    return min(lap, upstand - shop.number("clear_of_roof"))


def step_courses(course: float, tangent: float, lap: float) -> int:
    """How many courses one step rises: as few as give a run of two laps.

    course, lap: mm; tangent: of the slope along the wall
    """
    for courses in range(1, MOST_COURSES + 1):
        if step_run(course, courses, tangent) >= 2 * lap:
            return courses
    return MOST_COURSES


def step_run(course: float, courses: int, tangent: float) -> float:
    """Level run of one step, mm: rise / tan pitch.

    Example: 75 mm course at 30 degrees -> 129.9 mm.
    """
    return courses * course / tangent


class _Steps:
    """The left side wall in level and rising axes, and its steps' sizes."""

    def __init__(self, site: Site, shop: ShopFacts) -> None:
        self.site, self.shop = site, shop
        self.wall = site.wall("left")
        # To the right seen from outside is down the slope on the left wall.
        self.level = self.wall.level(site.plumb).scaled(-1)
        self.rising = self.wall.plane.normal.cross(self.level.scaled(-1))
        self.foot = site.corners[0]
        back = site.corners[3].minus(self.foot)
        self.length = back.dot(self.level)
        self.tangent = back.dot(self.rising) / self.length
        self.share = self.wall.up.dot(self.rising)
        self.courses = step_courses(site.course, self.tangent, shop.number("step_lap"))
        self.run = step_run(site.course, self.courses, self.tangent)
        count = max(1, ceil((self.length - EPS) / self.run))
        rest = self.length - (count - 1) * self.run
        # A last step narrower than a lap is joined to the one before it.
        narrow = count > 1 and rest < shop.number("step_lap")
        self.count = count - 1 if narrow else count

    def over_roof(self, level: float, square: float) -> float:
        """Height on the rising axis of a place `square` mm over the foot."""
        return level * self.tangent + square / self.share

    def low_at(self, level: float, square: float) -> Vec:
        """The place `square` mm over the foot; at an end, on the corner line."""
        corner = self.corner_at(level)
        if corner is None:
            return self.at(level, self.over_roof(level, square))
        return self.at(level, self.over_roof(level, 0.0)).plus(
            corner, square / corner.dot(self.wall.up)
        )

    def top_at(self, level: float, height: float) -> Vec:
        """The place at a height; at an end, where the corner line reaches it."""
        corner = self.corner_at(level)
        if corner is None:
            return self.at(level, height)
        foot = self.over_roof(level, 0.0)
        return self.at(level, foot).plus(
            corner, (height - foot) / corner.dot(self.rising)
        )

    def at(self, level: float, height: float) -> Vec:
        return self.foot.plus(self.level, level).plus(self.rising, height)

    def corner_at(self, level: float) -> Vec | None:
        if level < EPS:
            return self.site.corner_line("left", "front")
        if level > self.length - EPS:
            return self.site.corner_line("left", "back")
        return None


def stepped_side(site: Site, shop: ShopFacts) -> list[Draft]:
    """The steps along the left side wall: equal ones, and the last, cut short.

    The first one stands at the chimney's front corner; where there are more,
    the second is an equal piece and so on up to the last.
    """
    steps = _Steps(site, shop)
    drafts = [_step(steps, 0, 1)]
    if steps.count > 2:
        drafts.append(_step(steps, 1, steps.count - 2))
    if steps.count > 1:
        drafts.append(_step(steps, steps.count - 1, 1))
    return drafts


def _step(steps: _Steps, index: int, quantity: int) -> Draft:
    """One step of the side; all but the last go on under the next by a lap."""
    site, shop, run = steps.site, steps.shop, steps.run
    last = index == steps.count - 1
    low, high = _heights(site, shop, site.upstand_side)
    start = index * run
    end = steps.length if last else start + run
    reach = end if last else end + shop.number("step_lap")
    top = steps.over_roof(max(start + run, end), high)
    places = [
        steps.low_at(reach, low),
        steps.low_at(start, low),
        steps.top_at(start, top),
        steps.top_at(end, top),
    ]
    if not last:
        places.append(steps.top_at(reach, top))
    sheet, face = _cover(shop, steps.wall, places)
    sheet.joint_line("front end", face, places[1], places[2])
    sheet.joint_line("back end", face, places[0], places[-1])
    plural = "s" if steps.courses > 1 else ""
    number = 1 if index == 0 else 3 if last else 2
    where = {1: "first", 2: "between", 3: "last"}[number]
    label = Label(
        f"CL{number}",
        "counterflashing",
        f"Counterflashing step, left side, {where}",
        "left",
    )
    note = f"Each step rises {steps.courses} course{plural} of masonry."
    return drafted(label, sheet, quantity, (note,))
