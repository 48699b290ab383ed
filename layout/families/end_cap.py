"""An end cap: a flat plate that closes the end of a run of any bent section.

Its edges are folded along the section's legs; at each inside corner the spare
metal is tucked away in a pocket.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from itertools import pairwise

from layout.families.assembly import Assembly
from layout.families.draft import Draft, Label, drafted
from layout.folding.corner import CannotFold, NeedsSeam
from layout.folding.sheet import Patch, Sheet
from layout.folding.tuck import tuck
from layout.geometry import outline
from layout.geometry.point import Point
from layout.geometry.space import Vec

NAME = "End cap"


def assemble(legs: Sequence[float], folds: Sequence[float], flange: float) -> Assembly:
    """The cap of a section of its own: legs mm, the fold between each two in
    degrees, all of one direction; flange: mm.

    The section lies in x-y, the run goes off along z.
    """
    places = [Vec(0, 0, 0)]
    heading = Point(1, 0)
    for i, leg in enumerate(legs):
        end = Point(places[-1].x, places[-1].y).plus(heading, leg)
        places.append(Vec(end.x, end.y, 0))
        if i < len(folds):
            heading = heading.turned(folds[i])
    made = Assembly()
    label = Label("E", "end_cap", NAME)
    made.make(partial(end_cap, label, places, Vec(0, 0, 1), flange))
    return made


def end_cap(label: Label, section: Sequence[Vec], inward: Vec, flange: float) -> Draft:
    """The cap of a run whose section follows places in space.

    section: (n) places in one plane, from one edge of the metal to the other;
    the plate's last side is the straight line between them
    inward: unit direction square to that plane, along the run
    flange: width of the folded edges, mm
    Raises NeedsSeam where the section turns both ways, CannotFold where it
    closes on itself or a leg is too short for its pocket.
    """
    sheet = Sheet()
    patch = _plate(section, inward)
    ring = [patch.local(place) for place in section]
    if _turns_both_ways(ring):
        raise NeedsSeam(
            f"{label.title}: the section turns both ways; at an outside corner metal "
            "is missing and the cap needs a seam: cap each part by itself"
        )
    try:
        outline.triangles(ring if outline.area(ring) > 0 else ring[::-1])
        plate = sheet.add_folded("plate", "face", patch, section)
    except ValueError as crossed:
        raise CannotFold(
            f"{label.title}: the section closes on itself; cap it as a box"
        ) from crossed
    flanges = [
        sheet.strip(f"flange {i}", "lap", plate, a, b, inward.scaled(flange), "leg")
        for i, (a, b) in enumerate(pairwise(section), start=1)
    ]
    for i, (one, two) in enumerate(pairwise(flanges), start=1):
        name = f"{label.title} pocket {i}"
        tuck(sheet, name, plate, section[i], one, two, flange)
    return drafted(label, sheet)


def _plate(section: Sequence[Vec], inward: Vec) -> Patch:
    """The plate's plane, its weather side along the run."""
    u = section[1].minus(section[0]).unit()
    return Patch(Point(0, 0), Point(1, 0), section[0], u, inward.cross(u))


def _turns_both_ways(ring: Sequence[Point]) -> bool:
    turns = [
        b.minus(a).cross(c.minus(b))
        for a, b, c in zip(ring, ring[1:], ring[2:], strict=False)
    ]
    return min(turns, default=0.0) < 0 < max(turns, default=0.0)
