"""What a tape shows: a length in mm as the figures a tinner scribes from.

Rounded once, from the datum, so that errors don't add up (ISO 129-1 running
dimensions). The words' own conversions stay at the doors; this is the drawing's.
"""

from __future__ import annotations

from fractions import Fraction
from math import floor

Unit = str
"""What lengths are shown in: "in" or "mm"."""

INCH = Fraction(254, 10)
STEPS = {"in": Fraction(1, 16), "mm": Fraction(1, 2)}
UNIT_WORDS = {"in": "inches", "mm": "millimetres"}


def steps(length: float, unit: Unit) -> int:
    """The length in whole steps of the tape: 1/16 in or 0.5 mm, halves up."""
    exact = Fraction(length) / (INCH if unit == "in" else 1) / STEPS[unit]
    return floor(exact + Fraction(1, 2))


def figure(length: float, unit: Unit) -> str:
    """Without its unit, for a running dimension.

    Example: 314.325 in inches -> "12 3/8", in mm -> "314.5"
    """
    value = steps(length, unit) * STEPS[unit]
    sign = "-" if value < 0 else ""
    whole, part = divmod(abs(value), 1)
    if unit == "mm":
        return f"{sign}{float(abs(value)):g}"
    if not part:
        return f"{sign}{whole}"
    return f"{sign}{f'{whole} ' if whole else ''}{part.numerator}/{part.denominator}"


def length(size: float, unit: Unit) -> str:
    """With its unit: "12 3/8 in"."""
    return f"{figure(size, unit)} {unit}"


def weight(kilograms: float, unit: Unit) -> str:
    """A weight in the site's own system, two figures behind the point at most."""
    if unit == "in":
        return f"{kilograms / 0.45359237:.1f} lb"  # exact: the international pound
    return f"{kilograms:.2f} kg" if kilograms < 1 else f"{kilograms:.1f} kg"


def angle(turn: float) -> str:
    """Degrees to a tenth: "90°", "56.3°"."""
    return f"{round(turn, 1) + 0.0:g}°"
