"""Paper: sizes, margins and the frame every sheet has. Sheets lie lengthwise."""

from __future__ import annotations

from typing import NamedTuple

MARGIN = 10.0
"""Kept free on all sides, mm: more than common printers leave unprinted."""


class Paper(NamedTuple):
    """A paper lying lengthwise: width > height, mm."""

    name: str
    width: float
    height: float

    @property
    def inside(self) -> Box:
        """What may be printed on."""
        return Box(MARGIN, MARGIN, self.width - MARGIN, self.height - MARGIN)


class Box(NamedTuple):
    """An upright rectangle on paper, mm: left, bottom, right, top."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def height(self) -> float:
        return self.top - self.bottom

    def shrunk(self, by: float) -> Box:
        return Box(self.left + by, self.bottom + by, self.right - by, self.top - by)

    def meets(self, other: Box) -> bool:
        """True where the two share more than an edge."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.bottom < other.top
            and other.bottom < self.top
        )


# ISO 216 and ASME Y14.1 size A (8.5 x 11 in); from memory, trade values 9.12, 9.13.
LETTER = Paper("letter", 279.4, 215.9)
A4 = Paper("a4", 297.0, 210.0)
PAPERS = {paper.name: paper for paper in (LETTER, A4)}


def paper_named(name: str) -> Paper:
    """The paper of that name, large or small letters. Raises ValueError."""
    found = PAPERS.get(name.strip().lower())
    if found is None:
        raise ValueError(f"{name} is not a paper here. Give one of: letter, a4.")
    return found
