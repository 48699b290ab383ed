"""Fold allowance: how the metal's thickness changes a developed length.

Takes one fold (angle, inside radius, thickness) and a rule, gives what is
added to the sum of the two legs, mm: usually a little less than nothing.

Legs are measured to the mould line on a stated face of the metal. Up to 90
degrees from flat they run to the point where the faces would meet, beyond it
to the tangent of the bend (DIN 6935).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import log10, pi, radians, tan
from typing import Literal

Rule = Literal["none", "din6935", "handbook"]
Faces = Literal["outside", "inside", "fold line"]

RULES: tuple[Rule, ...] = ("none", "din6935", "handbook")


def as_rule(word: str) -> Rule:
    """The rule of that name. Raises ValueError for a word that is none."""
    for rule in RULES:
        if rule == word:
            return rule
    raise ValueError(f"{word} is no allowance rule; known are {', '.join(RULES)}")


FLAT_ENOUGH = 15.0
"""Folds of less than this from flat (opening over 165 degrees) take no
correction: DIN 6935, from memory."""

CRUSHED = 0.43
"""Neutral line of a fold crushed flat, share of the thickness from the inside:
16 gauge cold-rolled steel, Sheet Metal Work Book, neutral line theory (trade
value 3.29). DIN's factor has no value at radius 0."""

HANDBOOK = {"soft": 0.55, "half-hard": 0.64, "hard": 0.71}
"""Machinery's Handbook, Bending Sheet Metal, from memory: 90 degree arc
L = c T + 1.57 R for soft copper and brass; half-hard copper and brass, soft
steel, aluminium; hard copper, bronze, cold-rolled steel."""

TEMPER = {
    "copper": "half-hard",
    "zinc": "half-hard",
    "steel": "half-hard",
    "aluminium": "half-hard",
    "stainless": "hard",
    "lead": "soft",
}
"""Which of the handbook's rows a roofing metal is read in. Copper for roofs is
cold-rolled (H00). Our own reading, no source."""


class NoRule(ValueError):
    """The rule gives no answer for this radius."""


@dataclass(frozen=True, slots=True)
class Bend:
    """What a rule needs to know. radius: inside, mm; thickness: mm.

    measured: what the shop measured its own brake to take from the outside
    legs at a fold of 90 degrees in this metal, mm; 0 = not measured
    """

    radius: float
    thickness: float
    kind: str = "copper"
    measured: float = 0.0


def din_factor(radius: float, thickness: float) -> float:
    """DIN 6935 correction factor k = 0.65 + 0.5 log10(r/s), at most 1.

    Raises NoRule where it falls to nothing (r/s up to about 0.05).
    Source: DIN 6935:2011-10; the formula seen quoted, the cap from memory.
    Example: r/s = 1 -> 0.65; 5 -> 0.9995; 6 -> 1.
    """
    if radius <= 0:
        raise NoRule("a fold of no radius has no DIN factor: it is a crushed fold")
    share = radius / thickness
    k = 0.65 + 0.5 * log10(share)
    if k <= 0:
        raise NoRule(
            f"inside radius {radius:g} mm is too sharp for DIN 6935 at {thickness:g} "
            "mm: treat it as a crushed fold"
        )
    return min(k, 1.0) if share > 5 else k


def arc(angle: float, bend: Bend, rule: Rule) -> float:
    """Length of the neutral line through a fold of `angle` degrees, mm."""
    if rule == "handbook":
        factor = HANDBOOK[TEMPER.get(bend.kind, "half-hard")]
        return (factor * bend.thickness + 1.57 * bend.radius) * angle / 90
    k = din_factor(bend.radius, bend.thickness)
    return radians(angle) * (bend.radius + bend.thickness * k / 2)


def setback(angle: float, radius: float) -> float:
    """From the bend's tangent to where a leg is measured to, mm.

    radius: of the face the leg is measured on. Up to 90 degrees the apex,
    r tan(angle / 2); beyond it the tangent square to the leg, r.
    Source: DIN 6935 (from memory); at 90 degrees FAA handbook, setback R + T.
    """
    return radius * tan(radians(angle) / 2) if angle <= 90 else radius


def correction(
    angle: float, bend: Bend, rule: Rule = "din6935", faces: Faces = "outside"
) -> float:
    """What one fold adds to the sum of its legs, mm (DIN's v).

    angle: degrees from flat, 0 to 180; 180 is a crushed fold
    Example: DIN, r 1.75, s 0.7, 90 degrees, outside -> -1.684.
    """
    if rule == "none" or faces == "fold line":
        return 0.0
    if angle >= 180:
        return crushed(bend.thickness, faces)
    if angle < FLAT_ENOUGH:
        return 0.0
    if bend.measured and faces == "outside":
        # The shop's own measure wins over theory, scaled by the angle.
        return -bend.measured * angle / 90
    reach = bend.radius + (bend.thickness if faces == "outside" else 0.0)
    return arc(angle, bend, rule) - 2 * setback(angle, reach)


def crushed(thickness: float, faces: Faces = "outside") -> float:
    """What a fold crushed flat on itself adds to its two legs, mm.

    Its neutral line is a half circle 0.43 s from the inside: pi x 0.43 s; legs
    measured outside reach s further on either side.
    """
    outside = 2 * thickness if faces == "outside" else 0.0
    return pi * CRUSHED * thickness - outside


def open_hem(thickness: float, gap: float, faces: Faces = "outside") -> float:
    """What a hem folded 180 degrees about a gap adds to its two legs, mm.

    The bend's inside radius is half the gap: the neutral line a half circle.
    """
    radius = gap / 2
    outside = 2 * (radius + thickness) if faces == "outside" else 2 * radius
    return pi * (radius + CRUSHED * thickness) - outside
