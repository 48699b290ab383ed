"""A bent length of metal as long as a run: in one piece, or in lengths that lap.

Takes strips and folds as a chain does, gives the drafts of its lengths, each
in its true place, and the laps between them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from itertools import accumulate
from math import hypot

from layout.families.assembly import Assembly
from layout.families.chain import BENCH, Between, Strip, chain
from layout.families.draft import Draft, Label, drafted
from layout.folding import movement
from layout.folding.divide import Length, alike, divide, longest
from layout.folding.facts import ShopFacts
from layout.folding.sheet import Patch, Sheet
from layout.geometry.point import Point
from layout.geometry.space import Vec


@dataclass(slots=True)
class LongRun(Assembly):
    """Pieces along one run, for the rules.

    run: mm; overlap: of one length over another, mm; lengths: as they follow
    """

    run: float = 0.0
    overlap: float = 0.0
    lengths: list[Length] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Bent:
    """What is run: strips, the folds between them and where they lie.

    length: mm; root: index of the strip that lies in `place`, whose u runs
    along the run, from its near end
    """

    length: float
    strips: Sequence[Strip]
    folds: Sequence[Between]
    root: int
    place: Patch = BENCH

    def girth(self) -> float:
        """Stretch-out at its wider end, mm."""
        near = sum(strip.near for strip in self.strips)
        return max(near, sum(strip.far for strip in self.strips))

    def slant(self) -> float:
        """How much longer a tapered piece's slanted lines are than the piece,
        as a share: 1 where nothing tapers."""
        off = accumulate(strip.far - strip.near for strip in self.strips)
        return max(hypot(1, gap / self.length) for gap in off)

    def part(self, length: Length) -> Sheet:
        """One length of the run, its widths as they are there."""
        low, high = length.start, length.start + length.size

        def width(strip: Strip, at: float) -> float:
            return strip.near + (strip.far - strip.near) * at / self.length

        strips = [
            replace(strip, near=width(strip, low), far=width(strip, high))
            for strip in self.strips
        ]
        # A tapered root's lower edge runs off its line as the strips under it do.
        under = self.strips[: self.root]
        off = sum(strip.far - strip.near for strip in under) * low / self.length
        origin = self.place.space(Point(low, off))
        place = self.place._replace(origin=origin)
        return chain(length.size, strips, self.folds, self.root, place)


def add(made: LongRun, shop: ShopFacts, label: Label, bent: Bent) -> None:
    """Adds the run's pieces, and the laps between them, to an assembly.

    In one piece it has the label's own mark; else marks are numbered from the
    near end and lengths of one size are one piece with its quantity.
    """
    lap = shop.number("slope_lap")
    made.run, made.overlap = bent.length, lap
    made.lengths = divide(
        bent.length,
        longest(bent.girth(), shop.brake, shop.stocks) / bent.slant(),
        lap,
        movement.INTERVAL[shop.metal.kind].value,
        shop.number("shortest_length"),
    )
    if len(made.lengths) == 1:
        made.make(partial(_whole, bent, label))
        return
    tapers = any(strip.near != strip.far for strip in bent.strips)
    groups = [[i] for i in range(len(made.lengths))]
    if not tapers:
        groups = alike(made.lengths)
    shown = {_shown(group): n for n, group in enumerate(groups, start=1)}
    for group in groups:
        number = shown[_shown(group)]
        made.make(
            partial(_length, bent, made.lengths, group, _numbered(label, number), lap)
        )
    for group in groups:
        mark, after = f"{label.mark}{shown[_shown(group)]}", _shown(group) + 1
        if after in shown:
            _over(made, f"{label.mark}{shown[after]}", "near end", mark, bent, lap)
        if any(i + 1 < len(made.lengths) for i in group if i + 1 not in shown):
            _over(made, mark, "next length", mark, bent, lap)


def _shown(group: Sequence[int]) -> int:
    """Which of a group of like lengths is drawn: its last, beside another size."""
    return group[-1]


def _over(
    made: LongRun, upper: str, line: str, lower: str, bent: Bent, lap: float
) -> None:
    flow = bent.place.u.scaled(-1)
    made.lap((upper, line), (lower, "far end"), lap, flow)


def _numbered(label: Label, number: int) -> Label:
    return label._replace(
        mark=f"{label.mark}{number}", title=f"{label.title}, length {number}"
    )


def _whole(bent: Bent, label: Label) -> Draft:
    return drafted(label, bent.part(Length(0.0, bent.length, "end")))


def _length(
    bent: Bent,
    lengths: Sequence[Length],
    group: Sequence[int],
    label: Label,
    lap: float,
) -> Draft:
    """One size of length, with the lines its neighbours meet it on."""
    here = lengths[_shown(group)]
    sheet = bent.part(here)
    near_low, far_low, far_high, near_high = sheet.parts[0].points
    share = 1 - lap / here.size
    for name, low, high in (
        ("near end", near_low, near_high),
        ("far end", far_low, far_high),
        (
            "next length",
            near_low.plus(far_low.minus(near_low), share),
            near_high.plus(far_high.minus(near_high), share),
        ),
    ):
        sheet.joint_line(name, 0, *_in_space(sheet, low, high))
    return drafted(label, sheet, len(group))


def _in_space(sheet: Sheet, low: Point, high: Point) -> tuple[Vec, Vec]:
    patch = sheet.parts[0].patch
    return patch.space(low), patch.space(high)
