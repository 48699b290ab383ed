"""Hours as people write them: 1:30, 1.5, 1 h 30 min, 90 min."""

from __future__ import annotations

import re
from decimal import Decimal

_CLOCK = re.compile(r"(\d{1,3}):([0-5]\d)")
_WORDS = re.compile(
    r"(?:(\d+(?:\.\d+)?)\s*h(?:ours?)?)?\s*(?:(\d+(?:\.\d+)?)\s*m(?:in(?:utes?)?)?)?"
)
_PLAIN = re.compile(r"\d+(?:\.\d+)?")


def read_hours(text: str) -> Decimal:
    """Minutes, to a hundredth. A plain number is hours.

    Raises ValueError with what to write instead.
    """
    words = text.strip().lower().replace(",", ".")
    if clock := _CLOCK.fullmatch(words):
        minutes = Decimal(clock[1]) * 60 + Decimal(clock[2])
    elif _PLAIN.fullmatch(words):
        minutes = Decimal(words) * 60
    elif words and (told := _WORDS.fullmatch(words)):
        minutes = Decimal(told[1] or 0) * 60 + Decimal(told[2] or 0)
    else:
        raise ValueError(f"“{text}” is not hours. Write 1:30, 1.5 or 90 min.")
    if minutes <= 0:
        raise ValueError(f"“{text}” is nothing. Give more.")
    if minutes > 100_000:
        raise ValueError(f"“{text}” is too much.")
    return minutes.quantize(Decimal("0.01"))
