"""The hand-over paper: what was built, how it was and is, how to care for the metal.

Takes words and photos, gives one PDF that both sides sign. Same input, same bytes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from layout.drawing import lettering
from layout.drawing.paper import Box, paper_named
from layout.drawing.writing import LINE, LOCAL_FIRST, TEXT, Writing, head, inked
from layout.geometry.point import Point

# What owners of such roofs are told; common practice, no source.
CARE = {
    "copper": (
        "Copper turns brown within months and green over years. That is its skin: do"
        " not polish, paint or seal it.",
        "Water that ran over copper stains light stone and render, and eats zinc,"
        " aluminium and galvanized steel below it. Do not lead it over them.",
    ),
    "zinc": (
        "Zinc turns from bright to a dull blue-grey. Do not polish or paint it.",
        "Keep lime mortar, wet leaves and bitumen off it, and copper above it.",
    ),
    "steel": (
        "Wash painted steel with water once a year. Touch up scratches through the"
        " paint with the maker's own paint, no other.",
        "Cut or drilled steel chips rust on it: brush them off after any work.",
    ),
    "stainless": (
        "Wash stainless with water. Chips of other steel rust on it: brush them off.",
    ),
    "aluminium": (
        "Wash aluminium with water once a year. Keep wet mortar and copper above it"
        " away from it.",
    ),
    "lead": ("Do not walk on lead. Wash hands after touching it.",),
}
ALWAYS = (
    "Once a year, and after a storm, let somebody who works at heights look at it and"
    " take out leaves and branches. Do not go up yourself without fall protection.",
    "Nothing here is sealed with caulk. Do not let anybody caulk, nail or screw"
    " through the metal: it must be able to move with heat and cold.",
    "If water comes in, or a seam stands open, call us before anything is done to it.",
    LOCAL_FIRST,
)


@dataclass(frozen=True, slots=True)
class Picture:
    """One photo with its words. width, height: its shape, any unit"""

    jpeg: bytes
    width: float
    height: float
    words: str


@dataclass(frozen=True, slots=True)
class HandOver:
    """Words from outside, printed as they are.

    built: what was made, a sentence each; metal: its kind, as in CARE
    differs: what was done otherwise than quoted, in words, or nothing
    """

    shop: str
    shop_address: str
    client: str
    client_address: str
    job: str
    place: str
    paper_number: str
    day: str
    built: tuple[str, ...]
    metal: str
    metal_words: str
    differs: str
    before: tuple[Picture, ...]
    after: tuple[Picture, ...]


def hand_over_pdf(words: HandOver, paper: str = "letter") -> bytes:
    """The paper as a PDF. Raises ValueError for an unknown paper."""
    said = ["Hand-over", words.paper_number, words.day, words.shop, words.job]
    writing = Writing(paper_named(paper), " · ".join(part for part in said if part))
    right = ("Hand-over", words.paper_number, words.day)
    head(writing, words.shop, words.shop_address, right)
    for line in (words.client, *words.client_address.splitlines()):
        writing.line(lettering.shortened(line, TEXT, writing.room.width))
    writing.gap(4.0)
    writing.title(words.job)
    if words.place:
        writing.paragraph(f"At {words.place}.")
    writing.heading("What was built")
    writing.points(words.built)
    writing.paragraph(words.metal_words)
    if words.differs:
        writing.paragraph(f"Otherwise than quoted: {words.differs}")
    _photos(writing, "Before", words.before)
    _photos(writing, "After", words.after)
    writing.heading("Care")
    writing.points([*CARE.get(words.metal, ()), *ALWAYS])
    writing.heading("Handed over")
    writing.paragraph("The work was looked over together and is handed over.")
    writing.signature("Day, name and signature of the client", f"For {words.shop}")
    return inked(writing, f"Hand-over, {words.job}")


def _photos(writing: Writing, title: str, photos: Sequence[Picture]) -> None:
    """Two beside each other, with their words under them."""
    if not photos:
        return
    writing.need(85.0)
    writing.heading(title)
    for first in range(0, len(photos), 2):
        both = photos[first : first + 2]
        boxes = writing.picture_room(58.0 + LINE, 2)
        for picture, box in zip(both, boxes, strict=False):
            place = Box(box.left, box.bottom + LINE, box.right, box.top)
            writing.photo(place, picture.jpeg, picture.width, picture.height)
            words = lettering.shortened(picture.words, TEXT, box.width)
            writing.pen.text(Point(box.left, box.bottom + 0.8), words, TEXT)
