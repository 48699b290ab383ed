"""A brake's section as the owner enters it: checked in words, and pictured.

Convex shapes of [x, y] in mm, corners counter-clockwise, the fold line at 0, 0; the
clamped metal runs back along -x between jaw and bed, the metal in front lies on the
leaf along +x. No database and no framework here.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import atan2, isfinite, pi
from typing import Any

Shape = tuple[tuple[float, float], ...]

PARTS = ("jaw", "bed", "leaf")
MOST_SHAPES, MOST_CORNERS, FARTHEST = 12, 24, 2000.0
_WHERE = {
    "jaw": "The jaw lies above the metal and behind the fold line: x 0 or less, y 0"
    " or more.",
    "bed": "The bed lies below the metal and behind the fold line: x 0 or less, y 0"
    " or less.",
    "leaf": "The leaf lies below the metal and before the fold line: x 0 or more, y 0"
    " or less.",
}
_SIDE = {"jaw": (-1, 1), "bed": (-1, -1), "leaf": (1, -1)}
_HOW = "Write shapes such as [[[0, 0], [-45, 25], [-110, 25], [-110, 0]]]."


def faults(part: str, given: Any) -> list[str]:
    """What is wrong with a part's shapes, in words with the remedy; [] if nothing."""
    if not isinstance(given, list):
        return [f"This is not a list of shapes. {_HOW}"]
    if len(given) > MOST_SHAPES:
        return [f"{len(given)} shapes are too many. Give {MOST_SHAPES} at most."]
    return [
        f"Shape {number}: {fault}"
        for number, shape in enumerate(given, start=1)
        for fault in _shape_faults(part, shape)
    ]


def shapes(given: Sequence[Any]) -> tuple[Shape, ...]:
    """Stored shapes as plain values; they have passed `faults`."""
    return tuple(tuple((float(x), float(y)) for x, y in shape) for shape in given)


def _shape_faults(part: str, shape: Any) -> Iterator[str]:
    if not isinstance(shape, list) or not 3 <= len(shape) <= MOST_CORNERS:
        yield f"it needs 3 to {MOST_CORNERS} corners. {_HOW}"
        return
    for number, corner in enumerate(shape, start=1):
        if not _is_corner(corner):
            yield (
                f"corner {number}, {str(corner)[:40]}, is not a place. Write [x, y] in"
                f" mm, neither farther than {FARTHEST:.0f} from the fold line."
            )
            return
    yield from _turn_faults(shape)
    right, up = _SIDE[part]
    for number, (x, y) in enumerate(shape, start=1):
        if x * right < 0 or y * up < 0:
            yield f"corner {number}, [{x:g}, {y:g}], lies outside. {_WHERE[part]}"


def _is_corner(corner: Any) -> bool:
    return (
        isinstance(corner, list)
        and len(corner) == 2
        and all(
            isinstance(size, int | float)
            and not isinstance(size, bool)
            and isfinite(size)
            and abs(size) <= FARTHEST
            for size in corner
        )
    )


def _turn_faults(shape: list[list[float]]) -> Iterator[str]:
    """Convex and counter-clockwise: every corner turns left, once round in all."""
    turns = [_turn(shape, i) for i in range(len(shape))]
    if all(turn < 0 for turn in turns):
        yield "its corners run clockwise. Write them in the other order."
        return
    for number, turn in enumerate(turns, start=1):
        if turn <= 0:
            x, y = shape[number - 1]
            yield (
                f"it is not convex at corner {number}, [{x:g}, {y:g}]. Leave the"
                " corner out, or cut the shape into convex parts."
            )
            return
    if sum(_angle(shape, i) for i in range(len(shape))) > 1.5 * 2 * pi:
        yield "it runs round more than once. Give each corner once."


def _edges(shape: list[list[float]], i: int) -> tuple[float, float, float, float]:
    """The edge into corner i and the edge out of it."""
    (ax, ay), (bx, by) = shape[i - 1], shape[i]
    cx, cy = shape[(i + 1) % len(shape)]
    return bx - ax, by - ay, cx - bx, cy - by


def _turn(shape: list[list[float]], i: int) -> float:
    """More than 0 where the outline turns left at corner i."""
    ax, ay, bx, by = _edges(shape, i)
    return ax * by - ay * bx


def _angle(shape: list[list[float]], i: int) -> float:
    """How far it turns there, radians."""
    ax, ay, bx, by = _edges(shape, i)
    return atan2(_turn(shape, i), ax * bx + ay * by)


def picture(parts: Mapping[str, Sequence[Shape]], title: str) -> str:
    """The section as SVG text: tools filled, the metal a line, both axes marked.

    parts: jaw, bed and leaf with their shapes; title: said to who can't see it.
    Colours are the page's own; no style attribute, for the page allows none.
    """
    corners = [(0.0, 0.0), (40.0, 0.0), (-40.0, 0.0)]
    corners += [c for part in parts.values() for shape in part for c in shape]
    margin = 8.0
    left, right = min(x for x, _ in corners), max(x for x, _ in corners)
    low, high = min(y for _, y in corners), max(y for _, y in corners)
    box = f"{left - margin:g} {-high - margin:g}"
    size = f"{right - left + 2 * margin:g} {high - low + 2 * margin:g}"
    drawn = "".join(
        f'<polygon class="tool tool--{name}" fill="#b9ab92" stroke="#4b443a"'
        f' stroke-width="1" points="{_points(shape)}"/>'
        for name, part in parts.items()
        for shape in part
    )
    return (
        f'<svg class="brake-section" xmlns="http://www.w3.org/2000/svg" role="img"'
        f' aria-label="{_plain(title)}" viewBox="{box} {size}" width="320">{drawn}'
        f'<path d="M{left:g} 0H{right:g}" stroke="#7d340e" stroke-width="2"/>'
        '<circle r="2.5" fill="#163f6b"/></svg>'
    )


def _points(shape: Shape) -> str:
    return " ".join(f"{x:g},{0 - y:g}" for x, y in shape)


def _plain(words: str) -> str:
    return words.replace("&", "&amp;").replace("<", "&lt;").replace('"', "&quot;")
