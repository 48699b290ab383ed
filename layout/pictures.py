"""A small picture of its place for each measure, with that one lit.

Takes a kind of site and a measure's name, gives inline SVG of 160 by 120 units.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from math import cos, radians, sin

from layout import pictures_bent, pictures_chimney, pictures_walls
from layout.picture_marks import HEIGHT, WIDTH, Place, line, word

Draw = Callable[[], str]

PICTURES: dict[str, Mapping[str, Draw]] = {
    "chimney": pictures_chimney.PICTURES,
    "curb": pictures_chimney.PICTURES,
    **pictures_walls.PICTURES,
    **pictures_bent.PICTURES,
}
"""Kind of a site -> measure -> what draws it."""


def picture(kind: str, name: str = "") -> str:
    """The picture of a measure of a site of that kind; of the place without a name."""
    drawn = PICTURES[kind].get(name, PICTURES[kind]["metal"])()
    return _svg(drawn)


def names(kind: str) -> Sequence[str]:
    """The measures that have a picture of their own."""
    return tuple(PICTURES[kind])


def section(parts: Sequence[Mapping[str, object]]) -> str:
    """The section of legs, folds and hems, drawn as it stands, its first leg level.

    parts: as read, lengths in mm, folds in degrees from flat
    """
    return _svg(_drawn_section(parts))


def _svg(drawn: str) -> str:
    return (
        f'<svg class="picture" viewBox="0 0 {WIDTH} {HEIGHT}" aria-hidden="true"'
        f' focusable="false">{drawn}</svg>'
    )


def _drawn_section(parts: Sequence[Mapping[str, object]]) -> str:
    places = _followed(parts)
    xs, ys = [x for x, _ in places], [y for _, y in places]
    room = max(max(xs) - min(xs), (max(ys) - min(ys)) * 1.25, 1e-9)
    scale = 130 / room
    left = (WIDTH - scale * (max(xs) + min(xs))) / 2
    top = (HEIGHT + scale * (max(ys) + min(ys))) / 2
    seen = [(left + x * scale, top - y * scale) for x, y in places]
    return line("lit-edge", *seen) + word("weather side up", (WIDTH / 2, 12))


def _followed(parts: Sequence[Mapping[str, object]]) -> list[Place]:
    """Corners of the section in mm, y up. A hem lies beside its leg, drawn apart."""
    widest = max(float(str(it["leg"])) for it in parts if "leg" in it)
    apart = widest / 12
    places: list[Place] = [(0.0, 0.0)]
    way = 0.0
    for number, part in enumerate(parts):
        turn = -1.0 if part.get("direction") == "down" else 1.0
        if "fold" in part:
            way += turn * float(str(part["fold"]))
        elif "leg" in part:
            places.append(_on(places[-1], way, float(str(part["leg"]))))
        elif number == 0:
            foot = _on(places[0], way + turn * 90, apart)
            places = [_on(foot, way, float(str(part["hem"]))), foot, places[0]]
        else:
            foot = _on(places[-1], way + turn * 90, apart)
            places += [foot, _on(foot, way + 180, float(str(part["hem"])))]
    return places


def _on(start: Place, way: float, size: float) -> Place:
    x, y = start
    return (x + size * cos(radians(way)), y + size * sin(radians(way)))
