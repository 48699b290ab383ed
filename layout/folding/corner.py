"""The pocket: turning a corner with no notch and no cut.

Takes the directions that meet at a corner, gives the sectors of the two
flanges and the spare metal between them. The one idea: after folding, both
flanges share one line c; what the flat has left over between them is folded
away, never cut.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from layout.geometry.point import Point
from layout.geometry.space import Vec, angle_in_space
from layout.geometry.tolerance import EPS


class CannotFold(ValueError):
    """A piece that can't be folded as asked.

    words: the reason, with {0}, {1} where lengths stand; lengths: mm
    """

    def __init__(self, words: str, *lengths: float) -> None:
        super().__init__(words.format(*(f"{size:.1f} mm" for size in lengths)))
        self.words, self.lengths = words, lengths

    def said(self, show: Callable[[float], str]) -> str:
        """The reason with lengths in the reader's own unit."""
        return self.words.format(*map(show, self.lengths))


class NeedsSeam(CannotFold):
    """Metal is missing at a corner: it can be made with a seam only."""


@dataclass(frozen=True, slots=True)
class Pocket:
    """One corner, degrees. spare is folded away in two halves."""

    beta1: float
    beta2: float
    spare: float
    shared: Vec


def shared_line(edge1: Vec, flange1: Vec, edge2: Vec, flange2: Vec) -> Vec:
    """Unit direction c from the corner along which both folded flanges lie.

    edge1, edge2: unit directions from the corner along the two base edges
    flange1, flange2: unit directions across the edges, into the flanges
    Flanges in one plane share the bisector of the angle left between them.
    """
    n1, n2 = edge1.cross(flange1), edge2.cross(flange2)
    across = n1.cross(n2)
    if across.length() < EPS:
        return edge1.plus(edge2).unit()
    c = across.unit()
    return c if c.dot(flange1) + c.dot(flange2) > 0 else c.scaled(-1)


def pocket(taken: float, edge1: Vec, flange1: Vec, edge2: Vec, flange2: Vec) -> Pocket:
    """The pocket at a corner where the base takes `taken` degrees of the flat.

    Raises NeedsSeam when metal is missing (an outside corner).
    Example: taken 90, folds 90 and 123.690 -> 56.310, 90, spare 123.690.
    """
    c = shared_line(edge1, flange1, edge2, flange2)
    beta1, beta2 = angle_in_space(edge1, c), angle_in_space(edge2, c)
    spare = 360 - taken - beta1 - beta2
    if spare < -EPS:
        raise NeedsSeam(
            f"the corner lacks {-spare:.2f}° of metal (an outside corner): it "
            "needs a seam along the corner line, between two pieces"
        )
    return Pocket(beta1, beta2, 0.0 if spare < EPS else spare, c)


def base_corner(alpha: float, fold1: float, fold2: float) -> Pocket:
    """The pocket of a flat base corner of alpha degrees between two folds.

    fold1, fold2: degrees from flat, up. Raises NeedsSeam as above.
    Example: alpha 80, folds 90 and 90 -> 90, 90, spare 100.
    """
    up = Vec(0, 0, 1)
    edge1 = Vec(1, 0, 0)
    e2 = Point(1, 0).turned(alpha)
    edge2 = Vec(e2.x, e2.y, 0)
    out1, out2 = Vec(0, -1, 0), up.cross(edge2)
    return pocket(
        alpha, edge1, out1.turned(edge1, -fold1), edge2, out2.turned(edge2, fold2)
    )
