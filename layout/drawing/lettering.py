"""Lettering: what words measure on paper, and fractions set as fractions.

Takes words and a height of capitals in mm, gives runs of text with their size
and place along the line. Widths come from the font that is embedded in the PDF.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator
from functools import cache, lru_cache
from pathlib import Path
from typing import NamedTuple

import fontpkg_ibm_plex_sans
from fontTools.ttLib import TTFont

FONT_FILE = Path(fontpkg_ibm_plex_sans.ROOT) / "files" / "IBMPlexSans[wdth,wght].ttf"
FAMILY = "IBM Plex Sans"

# Shares of the em, read from the font's own tables (tests/drawing compares them).
CAPITAL = 0.698
SMALL_FIGURE = 0.381  # height of a raised figure
DESCENT = 0.22
ASCENT = 0.72

SMALLEST = 3.0
"""No letter or figure is lower than this on paper, mm. Our own rule: what can
be read at arm's length (ISO 3098 begins lettering heights at 1.8 mm)."""

FIGURE = 5.0
"""Height of the figures a tinner scribes from, mm."""

_RAISED = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")
_LOWERED = str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")
_FRACTION = re.compile(r"(?<![\d/.])(\d{1,4})/(\d{1,4})(?![\d/])")
_SET = re.compile(r"([⁰¹²³⁴⁵⁶⁷⁸⁹]+⁄[₀₁₂₃₄₅₆₇₈₉]+)")


class Run(NamedTuple):
    """Words set in one size. size: em; start: along the baseline; width. mm"""

    words: str
    size: float
    start: float
    width: float


def set_fractions(words: str) -> str:
    """Every n/m as raised numerator, fraction slash, lowered denominator.

    Example: "12 3/8 in" -> "12 ³⁄₈ in"
    """
    return _FRACTION.sub(
        lambda found: f"{found[1].translate(_RAISED)}⁄{found[2].translate(_LOWERED)}",
        words,
    )


@lru_cache(maxsize=8192)
def runs(words: str, height: float) -> tuple[Run, ...]:
    """Words as they are set, fractions never lower than the smallest lettering.

    height: of capitals, mm
    """
    size = height / CAPITAL
    large = max(size, SMALLEST / SMALL_FIGURE)
    found: list[Run] = []
    start = 0.0
    for part in _SET.split(set_fractions(printable(words))):
        if part:
            em = large if _SET.fullmatch(part) else size
            room = _ems(part) * em
            found.append(Run(part, em, start, room))
            start += room
    return tuple(found)


def width(words: str, height: float) -> float:
    """Length of words along the baseline, mm."""
    set_words = runs(words, height)
    return set_words[-1].start + set_words[-1].width if set_words else 0.0


HANGING = frozenset("gjpqy,;()[]|Qçµ")
"""Letters that reach under the baseline."""


@lru_cache(maxsize=8192)
def extent(words: str, height: float) -> tuple[float, float]:
    """How far words reach under and over the baseline, mm (both positive)."""
    plain = height / CAPITAL
    parts = [(run.words, run.size) for run in runs(words, height)] or [("", plain)]
    below = max(
        size * (0.02 if HANGING.isdisjoint(part) else DESCENT) for part, size in parts
    )
    return below, max(size for _, size in parts) * ASCENT


def sink(words: str, height: float) -> float:
    """From the middle of words down to their baseline, mm."""
    below, above = extent(words, height)
    return (above - below) / 2


def tallness(words: str, height: float) -> float:
    """Height of the rectangle that words fill, mm."""
    return sum(extent(words, height))


def step(words: str, height: float) -> float:
    """From the line above down to this one, mm: more where a fraction stands."""
    below, above = extent(words, height)
    return max(1.5 * height, above + 0.6 * height)


TOGETHER = re.compile(r"(?<=\d) (?=\d+/\d|(?:in|mm|lb|kg|oz|ga)\b)")
"""Blanks within a figure: a line that ends in 78 says something else than 78 3/4 in."""


def _figures_whole(paragraph: str, height: float, room: float) -> Iterator[str]:
    """Its words, each figure with its fraction and unit as one where it has room."""
    for kept in filter(None, TOGETHER.sub("\u00a0", paragraph).split(" ")):
        word = kept.replace("\u00a0", " ")
        yield from [word] if width(word, height) <= room else word.split()


def wrapped(words: str, height: float, room: float) -> list[str]:
    """Words in lines no longer than `room` mm; a word too long is broken, a figure
    with its fraction and unit is not."""
    lines: list[str] = []
    blank = width(" ", height) or height / CAPITAL * 0.236
    for paragraph in words.splitlines() or [""]:
        line: list[str] = []
        used = 0.0
        for word in _breakable(_figures_whole(paragraph, height, room), height, room):
            size = width(word, height)
            if line and used + blank + size > room:
                lines.append(" ".join(line))
                line, used = [], 0.0
            used += size + (blank if line else 0.0)
            line.append(word)
        lines.append(" ".join(line))
    return lines


def shortened(words: str, height: float, room: float) -> str:
    """Words on one line no longer than `room` mm, the rest as an ellipsis."""
    words = " ".join(words.split())
    if width(words, height) <= room:
        return words
    words = words[: int(room / height * 4) + 2]
    while words and width(words + "…", height) > room:
        words = words[:-1]
    return words.rstrip() + "…"


@lru_cache(maxsize=1024)
def printable(words: str) -> str:
    """One line of what the font can show; what it can't show becomes "?"."""
    known = _advances()
    plain = unicodedata.normalize("NFC", " ".join(words.split()))
    return "".join(c if ord(c) in known else "?" for c in plain)


def _breakable(words: Iterable[str], height: float, room: float) -> Iterator[str]:
    for word in words:
        while len(word) > 1 and width(word, height) > room:
            cut = len(word) - 1
            while cut > 1 and width(word[:cut], height) > room:
                cut -= 1
            yield word[:cut]
            word = word[cut:]
        yield word


def _ems(words: str) -> float:
    known = _advances()
    return sum(known[ord(c)] for c in words)


@cache
def _advances() -> dict[int, float]:
    """Code point -> advance in ems."""
    with TTFont(FONT_FILE, lazy=True) as font:
        em = font["head"].unitsPerEm
        metrics = font["hmtx"].metrics
        return {
            code: metrics[name][0] / em for code, name in font.getBestCmap().items()
        }
