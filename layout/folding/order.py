"""Fold order: searched on the shop's own brake, least turnings first.

Takes a pattern, its folds and the brake, gives the folds in an order that can
be made, each with how the sheet lies; what the brake can't make is left to
hand tools, with the reason.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from layout.folding.brake import fits
from layout.folding.facts import BrakeFacts
from layout.folding.pattern import FlatPattern
from layout.folding.result import Fold, Step
from layout.folding.section import Section, sections
from layout.geometry.point import Point
from layout.geometry.tolerance import EPS

MOST_TURNINGS = 24
"""More turnings than two for each of twelve folds are no plan. Our own bound."""


@dataclass(frozen=True, slots=True)
class Lie:
    """How the sheet lies: turned over or not, and which way its front points.

    section: index of the section; forward: its higher strips are in front
    """

    over: bool
    section: int
    forward: bool

    def turnings(self, before: Lie | None) -> int:
        """Turning the sheet over and turning it round count one each."""
        if before is None:
            return 0
        round_ = (self.section, self.forward) != (before.section, before.forward)
        return (self.over != before.over) + round_


@dataclass(frozen=True, slots=True)
class Turn:
    """One fold on the brake: index of the fold, how the sheet lies, the section."""

    fold: int
    lie: Lie
    step: Step | None = None


@dataclass(frozen=True, slots=True)
class ByHand:
    """A fold left to hand tools. why: in words; frees: what would let the
    brake make it."""

    fold: int
    why: str
    frees: str


@dataclass(frozen=True, slots=True)
class Plan:
    """Steps on the brake in order, then what is left to hand tools."""

    steps: tuple[Turn, ...]
    by_hand: tuple[ByHand, ...]
    turnings: int


def plan(pattern: FlatPattern, folds: Sequence[Fold], brake: BrakeFacts) -> Plan:
    """The order with the least turnings in which the brake makes the most folds.

    Folds that can't be made even on the flat sheet, or for which no order is
    found, are left to hand tools: as few as possible, small ones first.
    """
    search = _Search(pattern, folds, brake)
    left: list[ByHand] = [
        ByHand(i, "closed by hand when its legs stand", "")
        for i, fold in enumerate(folds)
        if fold.where == "hand"
    ]
    wanted = []
    for i in search.places:
        why = search.never(i)
        if why:
            left.append(ByHand(i, why, "a bar folder or hand tongs"))
        else:
            wanted.append(i)
    found = search.order(wanted)
    if found is None:
        stuck = search.stuck(wanted)
        for fold in stuck:
            left.append(
                ByHand(
                    fold,
                    "no order lets it past the jaws, the bed or a standing edge",
                    "hand tongs after the others, or a joint beside it",
                )
            )
        found = search.order([i for i in wanted if i not in stuck])
    steps = found or ()
    turnings = sum(
        step.lie.turnings(before.lie)
        for before, step in zip(steps, steps[1:], strict=False)
    )
    return Plan(tuple(search.drawn(steps)), tuple(left), turnings)


def in_order(folds: Sequence[Fold], made: Plan) -> tuple[Fold, ...]:
    """The folds renumbered: the brake's in their order, then by hand."""
    brake = [
        replace(folds[turn.fold], where="brake", over=turn.lie.over, step=turn.step)
        for turn in made.steps
    ]
    hand = [
        replace(folds[left.fold], where="hand", why=left.why, frees=left.frees)
        for left in made.by_hand
    ]
    hand.sort(key=lambda fold: fold.what == "pocket")
    return tuple(
        replace(fold, order=order) for order, fold in enumerate(brake + hand, start=1)
    )


class _Search:
    def __init__(
        self, pattern: FlatPattern, folds: Sequence[Fold], brake: BrakeFacts
    ) -> None:
        self.folds, self.brake = folds, brake
        self.sections: list[Section] = sections(pattern, folds)
        self.places = {
            fold: (s, position)
            for s, section in enumerate(self.sections)
            for position, fold in enumerate(section.folds)
        }
        self.members = [
            sum(1 << fold for fold in section.folds) for section in self.sections
        ]
        self.ends = _standing_ends(pattern, folds, self.places)
        self.known: dict[tuple[int, bool, int], bool] = {}

    def never(self, fold: int) -> str:
        """Why the brake can't make a fold even on the flat sheet; "" if it can."""
        section, position = self.places[fold]
        size = self.folds[fold].line[1].minus(self.folds[fold].line[0]).length()
        if size > self.brake.length:
            return f"longer than the brake, {self.brake.name}"
        angle = self.folds[fold].angle
        if self.brake.largest_angle < angle < 180 - EPS:
            return f"goes past the {self.brake.largest_angle:.0f}° the leaf swings"
        if any(self.can(fold, forward, 0) for forward in (True, False)):
            return ""
        widths = self.sections[section].widths
        behind, ahead = sum(widths[: position + 1]), sum(widths[position + 1 :])
        if min(behind, ahead) < self.brake.smallest_flange:
            return "its edge is smaller than the brake folds"
        if max(behind, ahead) < self.brake.clamp:
            return "there is less metal than the jaws hold"
        if min(behind, ahead) > self.brake.throat:
            return "it does not fit the brake's throat"
        return "it meets the jaws before it is done"

    def can(self, fold: int, forward: bool, done: int) -> bool:
        """True when a fold can be made with the bits of `done` folded."""
        if not self.jaws_clear(fold, done):
            return False
        index, position = self.places[fold]
        section = self.sections[index]
        key = (fold, forward, done & self.members[index])
        if key not in self.known:
            before = [i for i, other in enumerate(section.folds) if done & (1 << other)]
            self.known[key] = fits(section, position, before, forward, self.brake)
        return self.known[key]

    def jaws_clear(self, fold: int, done: int) -> bool:
        """A straight jaw passes one standing edge at its open end, not two."""
        return not all(
            any(done & (1 << other) for other in at_end) for at_end in self.ends[fold]
        )

    def order(self, wanted: Sequence[int]) -> list[Turn] | None:
        """The wanted folds in an order with the least turnings, or None."""
        if not self.reachable(wanted):
            return None
        # Every way the sheet must lie at least once costs a turning to get to.
        lies = {(self.over(fold), self.places[fold][0]) for fold in wanted}
        for allowed in range(max(0, len(lies) - 1), MOST_TURNINGS + 1):
            failed: set[tuple[int, Lie | None, int]] = set()
            steps = self._go_on(0, None, tuple(wanted), allowed, failed)
            if steps is not None:
                return steps
        return None

    def ways(self, fold: int) -> tuple[bool, bool]:
        """Which side to try on the leaf first: the smaller, the larger clamped."""
        index, place = self.places[fold]
        widths = self.sections[index].widths
        ahead, behind = sum(widths[place + 1 :]), sum(widths[: place + 1])
        return (True, False) if ahead <= behind else (False, True)

    def over(self, fold: int) -> bool:
        return self.folds[fold].direction == "down"

    def _go_on(
        self,
        done: int,
        lie: Lie | None,
        left: tuple[int, ...],
        allowed: int,
        failed: set[tuple[int, Lie | None, int]],
    ) -> list[Turn] | None:
        if not left:
            return []
        key = (done, lie, allowed)
        if key in failed:
            return None
        for fold in left:
            index, _ = self.places[fold]
            for forward in self.ways(fold):
                new = Lie(self.over(fold), index, forward)
                rest = allowed - new.turnings(lie)
                if rest < 0 or not self.can(fold, forward, done):
                    continue
                others = tuple(i for i in left if i != fold)
                steps = self._go_on(done | 1 << fold, new, others, rest, failed)
                if steps is not None:
                    return [Turn(fold, new), *steps]
        failed.add(key)
        return None

    def reachable(self, wanted: Sequence[int]) -> bool:
        """True when some order, whatever its turnings, makes all wanted folds."""
        goal = sum(1 << fold for fold in wanted)
        return goal in self._reached(wanted, goal)

    def _reached(self, wanted: Sequence[int], goal: int = -1) -> set[int]:
        """Every set of folds that can be done, or as many as are met on the way
        to the goal."""
        reached, waiting = {0}, [0]
        while waiting and goal not in reached:
            done = waiting.pop()
            for fold in wanted:
                more = done | 1 << fold
                if more in reached:
                    continue
                if any(self.can(fold, way, done) for way in (True, False)):
                    reached.add(more)
                    waiting.append(more)
        return reached

    def stuck(self, wanted: Sequence[int]) -> list[int]:
        """The fewest and shortest folds to leave out so that the rest can be made."""
        best = max(
            self._reached(wanted), key=lambda bits: (bits.bit_count(), self.made(bits))
        )
        return [fold for fold in wanted if not best & (1 << fold)]

    def drawn(self, turns: Sequence[Turn]) -> Iterator[Turn]:
        """The turns with the section of each, as the folds before left it."""
        done: dict[int, list[int]] = {}
        for turn in turns:
            index, place = self.places[turn.fold]
            before = done.setdefault(index, [])
            section, lie = self.sections[index], turn.lie
            front = section.arm(place, before, lie.forward, lie.over)
            back = section.arm(place, before, not lie.forward, lie.over)
            angle = self.folds[turn.fold].angle
            step = Step(
                tuple(Point(-p.x, p.y) for p in back),
                tuple(front),
                tuple(p.turned(angle) for p in front),
            )
            before.append(place)
            yield replace(turn, step=step)

    def made(self, done: int) -> float:
        """Length of all folds done, mm."""
        return sum(
            fold.line[1].minus(fold.line[0]).length()
            for i, fold in enumerate(self.folds)
            if done & (1 << i)
        )


def _standing_ends(
    pattern: FlatPattern, folds: Sequence[Fold], places: dict[int, tuple[int, int]]
) -> dict[int, tuple[frozenset[int], frozenset[int]]]:
    """For each fold, at each end of its line, the folds of other directions
    that stand an edge up there."""
    found = {}
    for fold, (section, _) in places.items():
        ends = []
        for place in folds[fold].line:
            standing = {
                other
                for other, (its_section, _) in places.items()
                if its_section != section
                and folds[other].angle < 180 - EPS
                and any(p.minus(place).length() < EPS for p in folds[other].line)
            }
            ends.append(frozenset(standing))
        found[fold] = (ends[0], ends[1])
    return found
