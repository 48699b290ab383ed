"""The closed seam cut across: every layer of the two legs, and of a pocket.

Takes a laid set and one of its pieces, gives the seams the piece closes with;
draws them with the metal thicker than true and the layers apart, and says so.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from layout.drawing import lettering, tape
from layout.drawing.frame import fitting
from layout.drawing.paper import Box
from layout.drawing.pen import LineKind, Pen
from layout.folding.result import LaidSet, Piece
from layout.folding.seam import Seam
from layout.geometry.point import Point
from layout.rules.seams import layer_count

LEAST_METAL = 0.8
"""Metal is drawn at least this thick, mm on paper."""
APART = 0.6
FOOT = 17.0
LABELS = 5.0
BASES = (5.0, 11.0, 18.3, 22.7)
"""Baselines of a cell's four lines of words, from its top, mm."""
HEAD = 24.5
POCKET = 2
"""Layers a pocket lays behind its leg: out and back."""


TURNS = ("turn", "second turn")


@dataclass(frozen=True, slots=True)
class ClosedSeam:
    """One seam as it is on the roof. thickness: of the metal, mm

    receiving_pocket, covering_pocket: a pocket is folded behind that leg
    who: which pieces it joins, in words
    """

    seam: Seam
    thickness: float
    receiving_pocket: bool = False
    covering_pocket: bool = False
    who: str = ""

    def layers(self) -> int:
        """Layers between the tongs, counted as the rule counts them."""
        return layer_count(
            self.seam.turns("receiving"), self.receiving_pocket
        ) + layer_count(self.seam.turns("covering"), self.covering_pocket)

    def is_at_pocket(self) -> bool:
        return self.receiving_pocket or self.covering_pocket


def seams_of(laid: LaidSet, piece: Piece) -> list[ClosedSeam]:
    """The seam the piece closes with; again where a pocket thickens it."""
    tucked = {p.mark for p in (*laid.pieces, piece) if _has_pocket(p)}
    if piece.seam is None:
        return []
    closed: list[ClosedSeam] = []
    for joint in laid.joints:
        lower, upper = joint.lower.mark, joint.upper.mark
        if joint.kind != "lap" and piece.mark in (lower, upper):
            pockets = lower in tucked, upper in tucked
            who = f"{upper} over {lower}"
            closed.append(ClosedSeam(piece.seam, piece.thickness, *pockets, who))
    if not closed and any(line.what in TURNS for line in piece.pattern.roof_lines):
        own = _covers(piece)
        pockets = (_has_pocket(piece) and not own, _has_pocket(piece) and own)
        who = "with the pan beside it"
        closed.append(ClosedSeam(piece.seam, piece.thickness, *pockets, who))
    if not closed:
        return []
    who = ", ".join(dict.fromkeys(one.who for one in closed))
    found = [ClosedSeam(piece.seam, piece.thickness, who=who)]
    thickest = max(closed, key=ClosedSeam.layers)
    if thickest.is_at_pocket():
        found.append(thickest)
    return found


def _covers(piece: Piece) -> bool:
    return any(line.what == "second turn" for line in piece.pattern.roof_lines)


def _has_pocket(piece: Piece) -> bool:
    return any(face.role == "pocket" for face in piece.pattern.faces)


def layers_of(closed: ClosedSeam, metal: float, scale: float) -> Iterator[list[Point]]:
    """Every line of metal in the cut, its foot at y 0, on paper from the seam's foot.

    metal: from one layer to the next, mm on paper; scale: of height and turns
    The receiving leg stands at x 0 and comes from the left; all folds go left.
    """
    d, high = metal, closed.seam.height * scale
    down = high - closed.seam.turn * scale
    hook = min(down + closed.seam.hook * scale, high - d)
    behind = POCKET if closed.receiving_pocket else 0
    out = -(behind + 1) * d
    if closed.seam.fold == "double":
        yield [Point(-FOOT, 0), Point(0, 0), Point(0, high), Point(out - d, high),
               Point(out - d, down + d)]  # fmt: skip
        yield [Point(d + FOOT, 0), Point(d, 0), Point(d, high + d),
               Point(out - 2 * d, high + d), Point(out - 2 * d, down),
               Point(out, down), Point(out, hook)]  # fmt: skip
    else:
        yield [Point(-FOOT, 0), Point(0, 0), Point(0, high)]
        yield [Point(d + FOOT, 0), Point(d, 0), Point(d, high + d),
               Point(out, high + d), Point(out, down)]  # fmt: skip
    for i in range(behind):
        yield [Point(-(i + 1) * d, d), Point(-(i + 1) * d, high - 2 * d)]
    for i in range(POCKET if closed.covering_pocket else 0):
        yield [Point((i + 2) * d, d), Point((i + 2) * d, high)]


def draw_seam(closed: ClosedSeam, unit: tape.Unit, pen: Pen, box: Box) -> None:
    """One closed seam with its words, inside a cell of the strip."""
    seam = closed.seam
    room = box.height - HEAD - LABELS - 4 * (LEAST_METAL + APART)
    scale = min(1.0, room / seam.height)
    metal = max(closed.thickness * scale, LEAST_METAL)
    _draw_words(pen, closed, metal / (closed.thickness * scale), unit, box)
    middle = Point((box.left + box.right) / 2, box.bottom + LABELS)
    for line in layers_of(closed, metal + APART, scale):
        pen.path([middle.plus(p) for p in line], LineKind("seam", metal))
    for words, side in (("receiving", -1), ("covering", 1)):
        at = Point(middle.x + side * 12.5, box.bottom + 0.8)
        pen.text(at, words, lettering.SMALLEST, "middle")


def _draw_words(
    pen: Pen, closed: ClosedSeam, times: float, unit: tape.Unit, box: Box
) -> None:
    seam = closed.seam
    place = "At the pocket: " if closed.is_at_pocket() else ""
    thick = "Metal true, " if times < 1.05 else f"Metal {times:.1f} x true, "
    turns = tape.length(seam.turn, unit)
    if seam.first_turn is not None:
        turns = f"{turns}, first {tape.length(seam.hook, unit)}"
    size = f"{tape.length(seam.height, unit)} high, turn {turns}"
    for base, words, height in zip(
        BASES,
        (
            f"{seam.fold.capitalize()} fold: {closed.layers()} layers",
            f"{place}{closed.who}",
            size,
            f"{thick}layers apart",
        ),
        (4.0, 4.0, lettering.SMALLEST, lettering.SMALLEST),
        strict=True,
    ):
        height = fitting(words, height, box.width)
        said = lettering.shortened(words, height, box.width)
        pen.text(Point(box.left, box.top - base), said, height)
