"""How a piece lies in the brake at each fold, as chains of lengths and turns.

Takes a piece whose folds keep their sections (Fold.step), gives for each brake
fold the metal behind and before the jaws, and whether the sheet was turned.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import inf
from typing import NamedTuple

from layout.folding.bench import BY_HAND
from layout.folding.result import Fold, Piece, Step
from layout.folding.section import Section, sections
from layout.geometry.point import Point, angle_between

SAME = 0.01
"""Two sections whose places differ by less than this are one, mm."""

CLOSED = 179.0
"""A turn from here on lays metal on metal, degrees."""


class Stretch(NamedTuple):
    """One straight run as drawn. cut: it is drawn shorter than it is"""

    start: Point
    end: Point
    cut: bool


class Chain(NamedTuple):
    """Metal on one side of a fold line, from the line outwards.

    lengths: (n) mm; turns: (n) degrees at the end of each, counter-clockwise
    positive where the metal runs to the right; 0 is a fold not yet made
    """

    lengths: tuple[float, ...]
    turns: tuple[float, ...]

    def stretches(
        self, heading: float = 0.0, apart: float = 0.0, longest: float = inf
    ) -> Iterator[Stretch]:
        """The straight runs from the origin on, setting out at `heading` degrees.

        apart: how far layers are drawn from each other where metal lies on
        metal, mm; longest: a run longer than this is drawn that long
        """
        place = Point(0, apart if heading >= CLOSED else 0.0)
        for length, turn in zip(self.lengths, self.turns, strict=True):
            along = Point(1, 0).turned(heading)
            end = place.plus(along, min(length, longest))
            yield Stretch(place, end, length > longest)
            place = end
            if apart and abs(turn) >= CLOSED:
                side = along.left().scaled(1 if turn > 0 else -1)
                place = place.plus(side, apart)
            heading += turn


def places(stretches: Iterable[Stretch]) -> list[Point]:
    """Their broken line, from the fold line outwards."""
    made: list[Point] = []
    for stretch in stretches:
        made += [p for p in stretch[:2] if not made or p != made[-1]]
    return made


@dataclass(frozen=True, slots=True)
class Lain:
    """One step: the sheet clamped, one fold about to be made.

    back: as it runs to the left, mirrored; front: before the leaf swings
    edge: of the blank, that lies on the leaf: datum, far, left or right; ""
    where it can't be told
    turned_over, turned_round: since the step before; at first since it was marked
    """

    fold: Fold
    back: Chain
    front: Chain
    edge: str
    turned_over: bool
    turned_round: bool

    def says(self) -> str:
        """What is done with the sheet before it is clamped."""
        if self.turned_over and self.turned_round:
            return "TURN OVER AND ROUND"
        if self.turned_over:
            return "TURN OVER"
        return "TURN ROUND" if self.turned_round else "as it lies"


class _Way(NamedTuple):
    section: Section
    place: int
    forward: bool

    def lies_as(self, other: _Way | None) -> bool:
        """True when the sheet need not be turned round between the two."""
        return other is not None and (
            (self.section, self.forward) == (other.section, other.forward)
        )


def lain(piece: Piece) -> list[Lain]:
    """Every fold made on the brake, in order; folds without a section are left out."""
    at_bench = [
        replace(fold, where="hand" if fold.what in BY_HAND else "brake")
        for fold in piece.folds
    ]
    found = sections(piece.pattern, at_bench)
    done: list[int] = []
    before: _Way | None = None
    over = False
    made = []
    for index, fold in enumerate(piece.folds):
        if fold.where != "brake" or fold.step is None:
            continue
        ways = list(_ways(found, index, fold, fold.step, done))
        # A section alike at both ends: left as it lies.
        as_it_lies = (way for way in ways if way.lies_as(before))
        way = next(as_it_lies, ways[0] if ways else None)
        turned = bool(before and way and not way.lies_as(before))
        made.append(_lain(fold, fold.step, way, done, (fold.over != over, turned)))
        done.append(index)
        before, over = way or before, fold.over
    return made


def _ways(
    found: Sequence[Section], fold: int, made: Fold, step: Step, done: Collection[int]
) -> Iterator[_Way]:
    """The ways round in which the section is the one the step keeps."""
    for section in found:
        if fold not in section.folds:
            continue
        place = section.folds.index(fold)
        for forward in (True, False):
            before = _done_in(section, done)
            front = section.arm(place, before, forward, made.over)
            back = section.arm(place, before, not forward, made.over)
            if _same(front, step.before) and _same(
                [Point(-p.x, p.y) for p in back], step.back
            ):
                yield _Way(section, place, forward)


def _done_in(section: Section, done: Collection[int]) -> list[int]:
    return [i for i, fold in enumerate(section.folds) if fold in done]


def _same(one: Sequence[Point], two: Sequence[Point]) -> bool:
    return len(one) == len(two) and all(
        a.minus(b).length() < SAME for a, b in zip(one, two, strict=True)
    )


def _lain(
    fold: Fold,
    step: Step,
    way: _Way | None,
    done: Collection[int],
    turned: tuple[bool, bool],
) -> Lain:
    if way is None:
        mirrored = [Point(-p.x, p.y) for p in step.back]
        return Lain(fold, _measured(mirrored), _measured(step.before), "", *turned)
    section, place, forward = way
    before = _done_in(section, done)
    return Lain(
        fold,
        _chain(section, place, before, not forward, fold.over),
        _chain(section, place, before, forward, fold.over),
        _edge(section.across.scaled(1 if forward else -1)),
        *turned,
    )


def _chain(
    section: Section, place: int, done: Collection[int], forward: bool, over: bool
) -> Chain:
    """What Section.arm draws, as lengths and turns: a closed fold keeps its sense."""
    strips = range(place + 1, len(section.widths)) if forward else range(place, -1, -1)
    turns = []
    for i in strips:
        beyond = i if forward else i - 1
        made = 0 <= beyond < len(section.folds) and beyond in done
        angle = section.angles[beyond] if made else 0.0
        turns.append(-angle if over else angle)
    return Chain(tuple(section.widths[i] for i in strips), tuple(turns))


def _measured(points: Sequence[Point]) -> Chain:
    """A broken line as lengths and turns; a closed fold is taken as upwards."""
    legs = [b.minus(a) for a, b in zip(points, points[1:], strict=False)]
    turns = [angle_between(a, b) for a, b in zip(legs, legs[1:], strict=False)]
    return Chain(
        tuple(leg.length() for leg in legs),
        (*(180.0 if abs(turn) > CLOSED else turn for turn in turns), 0.0),
    )


def _edge(way: Point) -> str:
    """The edge of the blank that lies that way."""
    if abs(way.y) >= abs(way.x):
        return "far" if way.y > 0 else "datum"
    return "right" if way.x > 0 else "left"
