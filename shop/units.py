"""Lengths and angles as people write them: what is read, what is shown.

Reading is exact: a length becomes a Fraction of a millimetre, never a float, so that
12 3/8 in is 314.325 mm and stays so. What a tape can't say is refused in words.
"""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction
from math import atan, degrees, isfinite, radians, tan
from typing import TypeAlias

Unit: TypeAlias = str  # "in" or "mm"; rows hold it as plain text

INCH = Fraction("25.4")  # exact: the international inch
LONGEST = Fraction(1_000_000)  # mm: one kilometre; beyond it, a slip of the finger
MOST_SIGNS = 60  # no measure is longer; longer text is refused unread
STEPS: dict[str, Fraction] = {"in": Fraction(1, 16), "mm": Fraction(1, 2)}

_IN_MM = {
    **dict.fromkeys(("in", "inch", "inches", '"'), INCH),
    **dict.fromkeys(("ft", "foot", "feet", "'"), 12 * INCH),
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
}
_SIGNS: dict[str, str | int | None] = {
    **dict.fromkeys("′’‘ʹ", "'"),
    **dict.fromkeys("″”“ʺ", '"'),
    **dict.fromkeys("⁄∕", "/"),
    **dict.fromkeys("‐‑‒–", "-"),
    **dict.fromkeys("\u00a0\u2009\u202f", " "),
}
_VULGAR = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅕": "1/5",
    "⅖": "2/5", "⅗": "3/5", "⅘": "4/5", "⅙": "1/6", "⅚": "5/6", "⅛": "1/8",
    "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
_DECIMAL = re.compile(r"[0-9]{1,9}(?:[.,][0-9]{1,9})?|[.,][0-9]{1,9}")
_MIXED = re.compile(r"(?:([0-9]{1,9})(?: ?- ?| ))?([0-9]{1,6}) ?/ ?([0-9]{1,6})")
_FEET = re.compile(r"([^'a-z]+?) ?(?:'|ft\.?|feet|foot)(?: ?- ?| |$)?(.*)")
_ENDING = re.compile(r"(.*?) ?(mm|cm|m|inches|inch|in\.?|\")")


def as_decimal(exact: Fraction) -> Decimal:
    """An exact length as a decimal, to 28 digits."""
    return Decimal(exact.numerator) / exact.denominator


def read_length(text: str | int | float, unit: Unit) -> Fraction:
    """A length as a person or a program gave it, in mm, exact, never below zero.

    text: 12 3/8, 12-3/8", 1' 2 1/2", 0.375, ½, 315 mm, 12,5 or a plain number
    unit: what a number without a unit is in
    Raises ValueError with one sentence that says what is wrong and what to write.
    Example: "12 3/8" in inches -> 12573/40, that is 314.325 mm
    """
    if isinstance(text, str):
        length = _read_words(text, unit)
    else:
        length = _plain(text) * _IN_MM[unit]
    if length < 0:
        raise ValueError(f"{text} is below zero. Give a length of zero or more.")
    if length > LONGEST:
        raise ValueError(f"{text} is longer than 1 km. Check the unit and the digits.")
    return length


def show_length(
    length: Fraction | Decimal | float, unit: Unit, step: Fraction | None = None
) -> str:
    """A length in mm as words with its unit, rounded once, halves away from zero.

    step: what is rounded to, in the shown unit; 1/16 in or 0.5 mm if not given
    Example: 314.325 in inches -> "12 3/8 in"; in mm -> "314.5 mm"
    """
    rounded = _rounded(Fraction(length) / _IN_MM[unit], step or STEPS[unit])
    sign = "-" if rounded < 0 else ""
    whole, part = divmod(abs(rounded), 1)
    if not part:
        return f"{sign}{whole} {unit}"
    if unit == "mm":
        return f"{sign}{float(abs(rounded)):g} mm"
    return f"{sign}{f'{whole} ' if whole else ''}{part} in"


POUND = Decimal("0.45359237")  # kg, exact: the international pound


def show_area(square_mm: Decimal | float, unit: Unit) -> str:
    """Square mm as words: "31.5 sq ft", or "2.93 m²" where the unit is mm."""
    if unit == "in":
        return f"{float(square_mm) / float(INCH) ** 2 / 144:,.1f} sq ft"
    return f"{float(square_mm) / 1e6:,.2f} m²"


def show_weight(kilograms: Decimal | float, unit: Unit) -> str:
    """Kilograms as words: "12.5 lb", or "5.7 kg" where the unit is mm."""
    if unit == "in":
        return f"{float(kilograms) / float(POUND):,.1f} lb"
    return f"{float(kilograms):,.1f} kg"


def read_pitch(text: str | int | float) -> float:
    """The angle of a roof to level in degrees, 0 <= angle < 90.

    text: 8:12, 8 in 12, 33.7°, 33.7 deg or 66.7%
    Raises ValueError; a plain number is refused, for it could be any of the three.
    Example: 8:12 -> 33.690
    """
    words = _tidy(text) if isinstance(text, str) else str(text)
    if ratio := re.fullmatch(r"(.+?) ?(?::| in ) ?(.+)", words):
        run = _number(ratio[2], words)
        if run == 0:
            raise ValueError(f"{text} has a run of nothing. Write 8:12.")
        return degrees(atan(_number(ratio[1], words) / run))
    if share := re.fullmatch(r"(.+?) ?(?:%|per ?cent)", words):
        return degrees(atan(_number(share[1], words) / 100))
    if angle := re.fullmatch(r"(.+?) ?(?:°|deg|degrees?)", words):
        pitch = float(_number(angle[1], words))
        if pitch < 90:
            return pitch
        raise ValueError(f"{text} is upright or more. A roof is less than 90°.")
    raise ValueError(f"{text} is not a pitch. Write it as 8:12, 33.7° or 66.7%.")


def show_pitch(pitch: float) -> str:
    """A pitch in degrees as words: "8:12 (33.7°)", or "38.0°" between the quarters."""
    rise = 12 * tan(radians(pitch))
    quarter = Fraction(round(rise * 4), 4)
    if abs(rise - quarter) > 0.02:
        return f"{pitch:.1f}°"
    return f"{float(quarter):g}:12 ({pitch:.1f}°)"


def read_angle(text: str | int | float) -> float:
    """An angle in degrees, 0 or more: 90, "90", "90°", "56.3 deg"; or ValueError."""
    if not isinstance(text, str):
        angle = float(_plain(text))
    else:
        words = re.sub(r" ?(°|deg|degrees?)$", "", _tidy(text))
        angle = float(_number(words, text))
    if angle < 0:
        raise ValueError(f"{text} is below zero. Give an angle of zero or more.")
    return angle


def show_angle(angle: float) -> str:
    """An angle as words, to a tenth of a degree: "56.3°", "90°"."""
    return f"{round(angle, 1) + 0.0:g}°"


def _read_words(text: str, unit: Unit) -> Fraction:
    words = _tidy(text)
    if not words:
        raise ValueError('Nothing was given. Write a length such as 12 3/8" or 315 mm.')
    if words.startswith("-"):
        raise ValueError(f"{text} is below zero. Give a length of zero or more.")
    if feet := _FEET.fullmatch(words):
        rest = feet[2].strip()
        inches = _ended(rest, "in", text, only_inches=True) if rest else Fraction(0)
        if inches >= 12 * INCH:
            raise ValueError(f"{text} has 12 inches or more beside its feet.")
        return _number(feet[1], text) * 12 * INCH + inches
    return _ended(words, unit, text)


def _ended(words: str, unit: Unit, text: str, *, only_inches: bool = False) -> Fraction:
    ending = _ENDING.fullmatch(words)
    number, name = (ending[1], ending[2].rstrip(".")) if ending else (words, unit)
    if only_inches and _IN_MM[name] != INCH:
        raise ValueError(f"{text} mixes feet with {name}. Use one or the other.")
    return _number(number, text) * _IN_MM[name]


def _number(words: str, text: str) -> Fraction:
    """A decimal or a mixed fraction; text is the whole entry, for the message."""
    if _DECIMAL.fullmatch(words):
        if re.fullmatch(r"[1-9][0-9]{0,2},[0-9]{3}", words):
            raise ValueError(
                f"{text} can be read two ways. Write {words.replace(',', '')}"
                f" or {words.replace(',', '.')}."
            )
        return Fraction(words.replace(",", "."))
    if not (mixed := _MIXED.fullmatch(words)):
        raise ValueError(
            f"{text[:40]} is not a number a tape shows. Write 12 3/8, 1' 2 1/2\""
            " or 315 mm."
        )
    whole, over, under = (int(part or 0) for part in mixed.groups())
    if under == 0:
        raise ValueError(f"{text} has a zero under the bar. Write 3/8.")
    if mixed[1] and over >= under:
        raise ValueError(f"{text} has a fraction of one or more beside a whole number.")
    return whole + Fraction(over, under)


def _plain(number: int | float) -> Fraction:
    if isinstance(number, bool) or not isinstance(number, int | float):
        raise ValueError(f"{number!r} is not a number.")
    if not isfinite(number):
        raise ValueError(f"{number} is not a number. Give one that can be measured.")
    return Fraction(repr(number))


def _tidy(text: str) -> str:
    """One way of writing each sign, small letters, single blanks."""
    if len(text) > MOST_SIGNS:
        raise ValueError(f"{text[:20]}... is too long to be a measure.")
    words = text.translate(str.maketrans(_SIGNS)).replace("''", '"')
    for sign, fraction in _VULGAR.items():
        words = re.sub(rf"(?<=[0-9])[ -]?{sign}", f" {fraction}", words)
        words = words.replace(sign, fraction)
    return re.sub(r"\s+", " ", words).strip().lower()


def _rounded(number: Fraction, step: Fraction) -> Fraction:
    steps = abs(number) / step
    whole = (2 * steps.numerator + steps.denominator) // (2 * steps.denominator)
    return (whole if number >= 0 else -whole) * step
