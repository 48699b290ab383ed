"""Blocks: blanks that share a side, set together so that nothing is lost between.

Takes how many of each kind are wanted, gives blocks to fill a sheet with. A
block is sheared off whole and then cut up, so cuts stay straight through; it
makes patterns possible whose first cut runs along no single blank.
"""

from __future__ import annotations

from random import Random
from typing import NamedTuple

from layout.nesting.fill import Entry, Put
from layout.nesting.model import Kind, Spot
from layout.nesting.parts import Part


class Block(NamedTuple):
    """Blanks fixed to each other. w, h in steps; area: of the blanks in it.

    members: which blocks of the pool went into it
    """

    w: int
    h: int
    area: int
    turned: bool
    spots: tuple[Spot, ...]
    members: tuple[int, ...]


def single(number: int, kind: Kind) -> Block:
    """The block of one blank."""
    spot = (number, 0, 0, 0)
    return Block(kind.w, kind.h, kind.area, kind.turned, (spot,), (number,))


def block_of(part: Part, kinds: tuple[Kind, ...]) -> Block:
    """A part of a sheet as one block."""
    turned = all([kinds[spot[0]].turned for spot in part.spots])
    spots = moved(part.spots, -part.x, -part.y)
    return Block(part.w, part.h, part.area, turned, spots, ())


def quarter(block: Block, kinds: tuple[Kind, ...]) -> Block:
    """The block a quarter turn round, counter-clockwise."""
    spots = []
    for kind, x, y, turn in block.spots:
        high = kinds[kind].w if turn & 1 else kinds[kind].h
        spots.append((kind, block.h - y - high, x, turn + 1 & 3))
    return Block(
        block.h, block.w, block.area, block.turned, tuple(spots), block.members
    )


def moved(spots: tuple[Spot, ...], dx: int, dy: int) -> tuple[Spot, ...]:
    """The places shifted."""
    return tuple([(k, x + dx, y + dy, t) for k, x, y, t in spots])


def beside(one: Block, two: Block) -> Block:
    """Two blocks of one height side by side."""
    spots = one.spots + moved(two.spots, one.w, 0)
    turned = one.turned and two.turned
    both = one.members + two.members
    high = one.h if one.h > two.h else two.h
    return Block(one.w + two.w, high, one.area + two.area, turned, spots, both)


def above(one: Block, two: Block) -> Block:
    """Two blocks of one width, the second above the first."""
    spots = one.spots + moved(two.spots, 0, one.h)
    turned = one.turned and two.turned
    both = one.members + two.members
    wide = one.w if one.w > two.w else two.w
    return Block(wide, one.h + two.h, one.area + two.area, turned, spots, both)


def merge(
    blocks: list[Block],
    left: list[int],
    kinds: tuple[Kind, ...],
    room: tuple[int, int],
    times: int,
    rng: Random,
) -> None:
    """Sets pairs of blocks together by chance, in place, up to `times` times.

    Only sides that agree exactly are joined. room: largest block that is of
    use, steps; a block that may be turned fits either way.
    """
    alive = [b for b in range(len(blocks)) if left[b]]
    sides: dict[int, list[tuple[int, bool]]] = {}

    def note(number: int) -> None:
        block = blocks[number]
        sides.setdefault(block.w, []).append((number, True))
        sides.setdefault(block.h, []).append((number, False))

    for number in alive:
        note(number)
    random = rng.random
    wide, high = room
    for _ in range(times):
        if not alive:
            return
        place = int(random() * len(alive))
        a = alive[place]
        if not left[a]:
            alive[place] = alive[-1]
            alive.pop()
            continue
        one = blocks[a]
        across = random() < 0.5
        mates = sides[one.w if across else one.h]
        b, by_width = mates[int(random() * len(mates))]
        if not left[b] or (a == b and left[a] < 2):
            continue
        two = blocks[b]
        if by_width != across:
            # Their sides agree once the second (or the first) is turned.
            if two.turned:
                two = quarter(two, kinds)
            elif one.turned:
                one = quarter(one, kinds)
                across = not across
            else:
                continue
        new = above(one, two) if across else beside(one, two)
        if new.w > wide or new.h > high:
            if not new.turned or new.h > wide or new.w > high:
                continue
        left[a] -= 1
        left[b] -= 1
        blocks.append(new)
        left.append(1)
        alive.append(len(blocks) - 1)
        note(len(blocks) - 1)


def entries(
    blocks: list[Block], left: list[int], weights: list[float], w: int, h: int
) -> list[Entry]:
    """Blocks that fit w x h steps, each way they may lie, by falling weight."""
    found: list[Entry] = []
    for number, block in enumerate(blocks):
        if left[number]:
            bw, bh, _area, turned, _spots, _members = block
            weight = weights[number]
            if bw <= w and bh <= h:
                found.append((bw, bh, weight, number, False))
            if turned and bw != bh and bh <= w and bw <= h:
                found.append((bh, bw, weight, number, True))
    found.sort(key=_by_weight)
    return found


def _by_weight(entry: Entry) -> float:
    return -entry[2]


def laid(
    blocks: list[Block], puts: list[Put], kinds: tuple[Kind, ...]
) -> tuple[Spot, ...]:
    """Places of the single blanks of the blocks put."""
    found: list[Spot] = []
    for number, x, y, turn in puts:
        block = blocks[number]
        spots = (quarter(block, kinds) if turn else block).spots
        for kind, sx, sy, st in spots:
            found.append((kind, sx + x, sy + y, st))
    return tuple(found)
