from __future__ import annotations

from fractions import Fraction
from math import atan, degrees

import pytest
from hypothesis import given
from hypothesis import strategies as some

from shop.units import (
    read_angle,
    read_length,
    read_pitch,
    show_angle,
    show_length,
    show_pitch,
)

INCHES = {
    "12 3/8": Fraction(99, 8),
    '12-3/8"': Fraction(99, 8),
    "12 - 3/8": Fraction(99, 8),
    "12⅜": Fraction(99, 8),
    "12 ⅜ in": Fraction(99, 8),
    "12 3⁄8″": Fraction(99, 8),
    "1' 2 1/2\"": Fraction(29, 2),
    "1'-2 1/2\"": Fraction(29, 2),
    "1′ 2½″": Fraction(29, 2),
    "1 ft 2.5 in": Fraction(29, 2),
    "2' 1 1/2\"": Fraction(51, 2),
    "3'": Fraction(36),
    "1.5 ft": Fraction(18),
    "½": Fraction(1, 2),
    "2 2/3": Fraction(8, 3),
    "2 13/16 in": Fraction(45, 16),
    "0.375": Fraction(3, 8),
    ".375": Fraction(3, 8),
    "0,375": Fraction(3, 8),
    "33/16": Fraction(33, 16),
    " 36 ": Fraction(36),
    "12 in.": Fraction(12),
    "12 INCHES": Fraction(12),
    "6''": Fraction(6),
}


@pytest.mark.parametrize("text", INCHES)
def test_a_tape_is_read_exactly(text: str) -> None:
    assert read_length(text, "in") == INCHES[text] * Fraction("25.4")


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("315", Fraction(315)),
        ("315 mm", Fraction(315)),
        ("12,5", Fraction(25, 2)),
        ("31.5 cm", Fraction(315)),
        ("1.2 m", Fraction(1200)),
        ("1/2 in", Fraction("12.7")),
        (620, Fraction(620)),
        (0.1, Fraction(1, 10)),
        (1e-7, Fraction(1, 10_000_000)),
    ],
)
def test_millimetres_are_read_exactly(text: str | float, mm: Fraction) -> None:
    assert read_length(text, "mm") == mm


def test_the_unit_written_wins_over_the_unit_of_the_sheet() -> None:
    assert read_length("315 mm", "in") == 315


def test_one_sixty_fourth_is_exact() -> None:
    # 1/64 in = 0.396875 mm: from the definition of the inch, 25.4 mm exactly.
    assert read_length("1/64", "in") == Fraction("0.396875")


REFUSED = [
    "", "  ", "abc", "NaN", "inf", "1e5", "3/0", "1 2 3", "1 9/8", "12/", "/8", "-3",
    "−3", "1.2.3", "12 3", "1' 14\"", "1' 2 mm", "12 3/8 mm in", "1_000", "0x10",
    "１２", "٣", "1,250", "--1", "1' 2' 3", "4 yards", "9" * 30, "999999999", '"', "'",
]  # fmt: skip


@pytest.mark.parametrize("text", REFUSED)
@pytest.mark.parametrize("unit", ["in", "mm"])
def test_what_a_tape_cannot_say_is_refused(text: str, unit: str) -> None:
    with pytest.raises(ValueError, match=r"\.$"):
        read_length(text, unit)  # type: ignore[arg-type]


@pytest.mark.parametrize("number", [float("nan"), float("inf"), -1, -0.5, True, None])
def test_numbers_that_measure_nothing_are_refused(number: float) -> None:
    with pytest.raises(ValueError, match=r"\.$"):
        read_length(number, "mm")


def test_a_comma_that_can_be_read_two_ways_shows_both() -> None:
    with pytest.raises(ValueError, match=r"1250 or 1\.250"):
        read_length("1,250", "mm")


@given(some.text(max_size=60))
def test_no_text_does_worse_than_a_refusal(text: str) -> None:
    for read in (lambda it: read_length(it, "in"), read_pitch, read_angle):
        try:
            assert read(text) >= 0
        except ValueError as refusal:
            assert str(refusal)


@given(some.integers(0, 64 * 1200))
def test_what_is_shown_is_read_back(sixty_fourths: int) -> None:
    mm = Fraction(sixty_fourths, 64) * Fraction("25.4")
    assert read_length(show_length(mm, "in", Fraction(1, 64)), "mm") == mm


@pytest.mark.parametrize(
    ("mm", "unit", "words"),
    [
        (Fraction("314.325"), "in", "12 3/8 in"),
        (Fraction("9.525"), "in", "3/8 in"),
        (Fraction("304.8"), "in", "12 in"),
        (304.7, "in", "12 in"),
        (0, "in", "0 in"),
        (-9.525, "in", "-3/8 in"),
        (Fraction("314.325"), "mm", "314.5 mm"),
        (315.24, "mm", "315 mm"),
        (315.25, "mm", "315.5 mm"),
        (12345.5, "mm", "12345.5 mm"),
        (0.1, "mm", "0 mm"),
    ],
)
def test_lengths_are_shown_with_their_unit(mm: float, unit: str, words: str) -> None:
    assert show_length(mm, unit) == words  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("text", "angle"),
    [
        ("8:12", degrees(atan(8 / 12))),
        ("8 in 12", degrees(atan(8 / 12))),
        ("4 1/2:12", degrees(atan(4.5 / 12))),
        ("33.7°", 33.7),
        ("33,7 deg", 33.7),
        ("38 degrees", 38.0),
        ("66.7%", degrees(atan(0.667))),
        ("50 %", degrees(atan(0.5))),
    ],
)
def test_a_pitch_is_read(text: str, angle: float) -> None:
    assert read_pitch(text) == pytest.approx(angle, abs=1e-12)


# Slope factor table: 6:12 is 26.57 deg and 50 % (trade-values 8.03, read in print).
def test_six_in_twelve_is_half() -> None:
    assert read_pitch("6:12") == pytest.approx(26.57, abs=0.005)
    assert read_pitch("6:12") == pytest.approx(read_pitch("50%"), abs=1e-12)


@pytest.mark.parametrize(
    "text", ["8", "33.7", 8, 33.7, "8:0", "-8:12", "90°", "120°", ":", "%", "°", "a:b"]
)
def test_what_is_no_pitch_is_refused(text: str | float) -> None:
    with pytest.raises(ValueError, match=r"\.$"):
        read_pitch(text)


def test_a_pitch_is_shown_both_ways() -> None:
    assert show_pitch(degrees(atan(8 / 12))) == "8:12 (33.7°)"
    assert show_pitch(degrees(atan(4.5 / 12))) == "4.5:12 (20.6°)"
    assert show_pitch(38.1) == "38.1°"


def test_angles_are_read_and_shown() -> None:
    assert read_angle("90") == read_angle("90°") == read_angle(90) == 90
    assert show_angle(56.3099) == "56.3°"
    assert show_angle(90.0) == "90°"
    with pytest.raises(ValueError, match="below zero"):
        read_angle(-5)


def test_c_12_a_pitch_of_one_on_four_is_not_quite_15_degrees() -> None:
    # Copper Flashings, 2nd ed. 1925, p.55 calls 15° and 1 on 4 equal; computed.
    assert read_pitch("3.215:12") == pytest.approx(15, abs=0.005)
    assert read_pitch("3:12") == pytest.approx(14.04, abs=0.005)
    assert show_pitch(read_pitch("15°")) == "15.0°"
