"""A valley: the pan between two roofs, with an upstand along its middle."""

from __future__ import annotations

from dataclasses import dataclass
from math import acos, cos, degrees, radians, sin

from layout.families.chain import Between, Strip
from layout.families.draft import Label
from layout.families.long_run import Bent, LongRun, add
from layout.folding.facts import ShopFacts
from layout.folding.sheet import Patch
from layout.geometry.point import Point
from layout.geometry.space import Vec


@dataclass(frozen=True, slots=True)
class Valley:
    """length, wing, upstand: mm (upstand 0 = none); pitches and the angle
    between the eaves in plan: degrees."""

    length: float
    wing: float
    upstand: float
    pitch: float
    other_pitch: float
    plan_angle: float


def fold_angle(pitch: float, other: float, plan_angle: float) -> float:
    """How far a valley's or hip's metal turns from flat, degrees.

    The angle between the two roofs' normals:
    cos = cos a cos b - sin a sin b cos(plan).
    Example: 6:12 and 6:12 at 90 degrees -> 36.87; 12:12 -> 60.
    """
    a, b = radians(pitch), radians(other)
    return degrees(acos(cos(a) * cos(b) - sin(a) * sin(b) * cos(radians(plan_angle))))


def roof_normals(valley: Valley) -> tuple[Vec, Vec]:
    """Normals of the main and the other roof: x along the main eave, z up.

    Seen up the valley the main roof lies on the left.
    """
    a, b = radians(valley.pitch), radians(valley.other_pitch)
    turn = radians(90 - (180 - valley.plan_angle))
    return (
        Vec(0, -sin(a), cos(a)),
        Vec(-sin(b) * cos(turn), -sin(b) * sin(turn), cos(b)),
    )


def assemble(valley: Valley, shop: ShopFacts) -> LongRun:
    """The valley, in one pan or in lengths that lap. It lies in the main roof's
    frame, its middle through the origin, its length up the valley."""
    main, other = roof_normals(valley)
    line = main.cross(other).unit()
    line = line if line.z > 0 else line.scaled(-1)
    a = radians(valley.pitch)
    up = Vec(line.x, line.y * cos(a) + line.z * sin(a), 0)
    turned = fold_angle(valley.pitch, valley.other_pitch, valley.plan_angle)
    wing = valley.wing
    ends = Strip("other wing", "trough", wing, wing), Strip("wing", "roof", wing, wing)
    if valley.upstand:
        rib = valley.upstand
        strips = [
            ends[0],
            Strip("rib 1", "leg", rib, rib),
            Strip("rib 2", "leg", rib, rib),
            ends[1],
        ]
        folds = [
            Between(90 + turned / 2, "upstand"),
            Between(-180.0, "ridge"),
            Between(90 + turned / 2, "upstand"),
        ]
    else:
        strips, folds = list(ends), [Between(turned, "valley")]
    place = Patch(Point(0, 0), Point(1, 0), Vec(0, 0, 0), up, Vec(0, 0, 1).cross(up))
    made = LongRun(pitch=valley.pitch)
    bent = Bent(valley.length, strips, folds, len(strips) - 1, place)
    add(made, shop, Label("V", "valley", "Valley"), bent)
    return made
