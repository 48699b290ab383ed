"""Standing seams: least slope, height, and what a sweep does to the metal."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import atan, degrees

from layout.families.pan import PanAlone
from layout.folding.facts import SeamFacts
from layout.folding.result import Finding, Piece
from layout.folding.seam import Seam
from layout.rules.case import Case


def slope_of(rise: float) -> float:
    """Degrees of a slope of `rise` in 12."""
    return degrees(atan(rise / 12))


CODE_SLOPE = slope_of(0.25)
"""Standing seam, 1/4 in 12: IBC 2012 section 1507.4.2."""
COPPER_SLOPE = slope_of(4)
"""Standard standing seam details want 4 in 12: Copper in Architecture Design
Handbook, section 8.2."""
ZINC_SLOPE = 3.0
"""Zinc producers' standing seam guide: at least 3 degrees."""
ZINC_WISHED = 7.0
"""The same guide: better 7 degrees."""
SINGLE_SLOPE = 25.0
"""Zinc producers' standing seam guide: a single fold only above 25 degrees."""
LEAST_HEIGHT = 25.0
"""Finished standing seam at least 1 in (25 mm): Copper Flashings 1925, ten
rules, no. 7; Unified Facilities Guide Specification 07600, p.15."""


def code_allows_standing_seam(pitch: float) -> bool:
    """True when the code allows a standing seam at that pitch, degrees."""
    return pitch >= CODE_SLOPE - 1e-9


def slope(case: Case) -> Iterator[Finding]:
    """The roof's pitch against the seam's least slope, code and practice apart."""
    yield from slope_of_roof(case, case.site.pitch, case.site.seam)


def slope_of_roof(case: Case, pitch: float, seam: Seam) -> Iterator[Finding]:
    """The same for any roof with standing seams. pitch: degrees."""
    metal = case.shop.metal.kind
    if not code_allows_standing_seam(pitch):
        yield Finding(
            "warning",
            "code",
            "slope under the code's least",
            f"{pitch:.1f}° is flatter than {CODE_SLOPE:.1f}° (1/4:12), the code's "
            "least for a standing seam",
            "Use another covering; ask the building department.",
            "",
            "IBC 2012 section 1507.4.2",
        )
    if metal == "copper" and pitch < COPPER_SLOPE - 1e-9:
        yield Finding(
            "warning",
            "practice",
            "slope under the handbook's least",
            f"{pitch:.1f}° is flatter than {COPPER_SLOPE:.1f}° (4:12), the least for "
            "the standard copper standing seam details",
            "Seal the seams and the cross seams as the handbook shows for low slopes.",
            "",
            "Copper in Architecture Design Handbook, section 8.2",
        )
    if metal == "zinc" and pitch < ZINC_WISHED:
        least = pitch < ZINC_SLOPE
        yield Finding(
            "warning" if least else "note",
            "practice",
            "slope for zinc",
            f"{pitch:.1f}°: zinc wants at least {ZINC_SLOPE:.0f}°, better "
            f"{ZINC_WISHED:.0f}°",
            "Seal the seams as the maker says, or use another covering.",
            "",
            "zinc producers' standing seam guide",
        )
    if seam.fold == "single" and pitch < SINGLE_SLOPE:
        yield Finding(
            "warning",
            "practice",
            "single fold on a low slope",
            f"a single fold at {pitch:.1f}°; it is used above {SINGLE_SLOPE:.0f}° only",
            "Fold the seams twice.",
            "",
            "zinc producers' standing seam guide",
        )


def height(case: Case) -> Iterator[Finding]:
    """A seam lower than the trade's least."""
    yield from height_of(case, case.site.seam)


def height_of(case: Case, seam: Seam) -> Iterator[Finding]:
    """The same for any roof with standing seams."""
    size = seam.height
    if size < LEAST_HEIGHT:
        yield Finding(
            "warning",
            "practice",
            "seam height",
            f"the roof's seam is {case.show(size)} high; at least "
            f"{case.show(LEAST_HEIGHT)} is usual",
            "Measure the seam again; match it if that is what is there.",
            "",
            "Copper Flashings, 2nd ed. 1925, ten rules, no. 7; Unified Facilities "
            "Guide Specification 07600, p.15",
        )


TAPE = 1.6
"""Legs are told apart from a sixteenth of an inch on, mm: what a tape shows.
Common practice, no source."""


def prints(row: SeamFacts, seam: Seam) -> bool:
    """True when a printed row is that seam: fold, height and legs, or the loss
    where no legs are printed.

    Example: double, 25 high, turn 10 is the row with legs 35 and 45.
    """
    seam = replace(seam, play=0.0)  # sources print legs without it
    if row.fold != seam.fold or abs(row.height - seam.height) > TAPE:
        return False
    if not row.receiving:
        return abs(row.lost - seam.lost()) <= TAPE
    return (
        abs(row.receiving - seam.leg("receiving")) <= TAPE
        and abs(row.covering - seam.leg("covering")) <= TAPE
    )


def printed(case: Case) -> Iterator[Finding]:
    """A seam that no source of the shop prints for the metal."""
    made = case.assembly
    seam = made.pan.seam if isinstance(made, PanAlone) else case.site.seam
    kind, show = case.shop.metal.kind, case.show
    rows = [row for row in case.shop.seams if row.metal_kind == kind]
    if any(prints(row, seam) for row in rows):
        return
    rows = sorted(
        (row for row in rows if row.fold == seam.fold),
        key=lambda row: (abs(row.height - seam.height), abs(row.lost - seam.lost())),
    )[:2]
    near = "; ".join(_printed(row, case) for row in rows)
    yield Finding(
        "note",
        "practice",
        "seam not in the tables",
        f"no source the shop keeps prints this {seam.fold} fold for {kind}: "
        f"{show(seam.height)} high, legs {show(seam.leg('receiving'))} and "
        f"{show(seam.leg('covering'))}, {show(seam.lost())} lost a bay"
        + (f"; nearest: {near}" if near else ""),
        "Keep it where it matches the roof; try it on a strip of the metal first.",
        "",
        "; ".join(dict.fromkeys(row.source for row in rows))
        or "the shop's own table of seams",
    )


def _printed(row: SeamFacts, case: Case) -> str:
    legs = f"{case.show(row.lost)} lost a bay"
    if row.receiving:
        legs = f"legs {case.show(row.receiving)} and {case.show(row.covering)}"
    return f"{case.show(row.height)} high, {legs}, by {row.made}"


def layer_count(turns: int, pocketed: bool) -> int:
    """Layers one leg brings into a closed seam: itself and its turns, and two
    more where a pocket lies folded behind it."""
    return 1 + turns + (2 if pocketed else 0)


def layers(case: Case) -> Iterator[Finding]:
    """Seams whose layers pile up past what the shop's tools close.

    A double fold has five: two of the receiving leg, three of the covering one.
    """
    seam, most = case.site.seam, case.shop.number("most_layers")
    pocketed = {p.mark for p in case.pieces if _has_pocket(p)}
    thick: dict[int, list[str]] = {}
    for joint in case.joints:
        if joint.kind == "lap":
            continue
        upper, lower = joint.upper.mark, joint.lower.mark
        count = layer_count(seam.turns("covering"), upper in pocketed)
        count += layer_count(seam.turns("receiving"), lower in pocketed)
        if count > most:
            marks = thick.setdefault(count, [])
            marks += [m for m in (upper, lower) if m not in marks]
    for count, marks in thick.items():
        yield Finding(
            "warning",
            "shop",
            "layers at a pocket",
            f"{count} layers meet where the seam passes the "
            f"pocket; the shop's tools close {most:.0f}",
            "Dress the pocket thin before seaming, or fold the seam once there.",
            ", ".join(marks),
            case.shop.sources["most_layers"],
        )


def _has_pocket(piece: Piece) -> bool:
    return any(face.role == "pocket" for face in piece.pattern.faces)


def sweeps(case: Case) -> Iterator[Finding]:
    """Strain of the free edge of a swept turn against the metal's stretch."""
    worst: dict[tuple[float, float], list[str]] = {}
    for piece in case.pieces:
        for sweep in piece.pattern.sweeps:
            if sweep.smallest_radius and sweep.radius < sweep.smallest_radius:
                key = (sweep.radius, sweep.smallest_radius)
                marks = worst.setdefault(key, [])
                if piece.mark not in marks:
                    marks.append(piece.mark)
    for (radius, smallest), marks in worst.items():
        turn = case.site.seam.turn
        yield Finding(
            "warning",
            "practice",
            "sweep too tight",
            f"a turn of {case.show(turn)} swept on {case.show(radius)} stretches its "
            f"edge by {turn / (radius - turn):.0%}, more than "
            f"{case.shop.metal.stretch:.0%} for {case.shop.metal.name}",
            f"Sweep on {case.show(smallest)} or more, or cut reliefs into the turn.",
            ", ".join(marks),
            f"fold geometry; {case.shop.metal.source}",
        )
