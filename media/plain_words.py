"""What is built, in words for somebody who has never seen a brake."""

from __future__ import annotations

from collections.abc import Iterable

# Family -> (one of it, several of it, what it does).
PLAIN = {
    "apron": (
        "An apron below the chimney",
        "{n} aprons below the chimney",
        "turned up the wall and round both front corners",
    ),
    "side_pan": (
        "A side pan beside the chimney",
        "{n} side pans beside the chimney",
        "turned up the wall and folded into the roof’s standing seams",
    ),
    "back_pan": (
        "A back pan above the chimney",
        "{n} back pans above the chimney",
        "that leads the water round it",
    ),
    "saddle_half": (
        "One half of a saddle behind the chimney",
        "A saddle of {n} halves behind the chimney",
        "that parts the water; its ridge is a folded seam",
    ),
    "counterflashing": (
        "Counterflashing on the wall",
        "Counterflashing on the wall, {n} pieces",
        "let into the masonry and covering the turned-up metal",
    ),
    "cleat": (
        "A hidden cleat",
        "{n} hidden cleats",
        "that hold the seams down and let the metal move",
    ),
    "valley": (
        "A valley pan",
        "A valley of {n} lengths",
        "where two slopes of the roof meet",
    ),
    "wall": (
        "Flashing along the wall",
        "Flashing along the wall, {n} lengths that lap",
        "on the roof and up the wall",
    ),
    "end_cap": ("An end cap", "{n} end caps", "that close the metal’s ends"),
    "pipe_collar": (
        "A collar round the pipe",
        "A collar round the pipe, {n} parts",
        "with a flange on the roof",
    ),
    "profile": ("A folded profile", "{n} lengths of folded profile", "to the section"),
}


def built(pieces: Iterable[tuple[str, int]]) -> list[str]:
    """A sentence for each family, in the order they come. pieces: family, how many"""
    counted: dict[str, int] = {}
    for family, number in pieces:
        counted[family] = counted.get(family, 0) + number
    return [_sentence(family, number) for family, number in counted.items()]


def _sentence(family: str, number: int) -> str:
    known = PLAIN.get(family)
    if known is None:
        words = family.replace("_", " ")
        return f"{words.capitalize()}: {number} piece{'s' if number > 1 else ''}."
    one, several, does = known
    return f"{one if number == 1 else several.format(n=number)}, {does}."
