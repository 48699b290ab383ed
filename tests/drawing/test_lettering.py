import re

import pytest
from fontTools.ttLib import TTFont

from layout.drawing import lettering, tape


@pytest.fixture(scope="module")
def font():
    with TTFont(lettering.FONT_FILE) as opened:
        yield opened


def test_shares_of_the_em_are_the_fonts_own(font):
    em = font["head"].unitsPerEm
    raised = font["glyf"][font.getBestCmap()[ord("⁰")]]
    assert font["OS/2"].sCapHeight / em == pytest.approx(lettering.CAPITAL)
    assert (raised.yMax - raised.yMin) / em == pytest.approx(lettering.SMALL_FIGURE)


def test_the_font_has_every_sign_that_sheets_use(font):
    known = font.getBestCmap()
    signs = "⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉⁄°×↑↓·%…½¼¾éñüß"
    assert [sign for sign in signs if ord(sign) not in known] == []


def test_figures_set_fractions_raised_and_lowered():
    assert lettering.set_fractions("12 3/8 in") == "12 ³⁄₈ in"
    assert lettering.set_fractions("7/16") == "⁷⁄₁₆"


@pytest.mark.parametrize("words", ["1/2/2026", "and/or", "12.5/8"])
def test_what_is_no_fraction_is_left_alone(words):
    assert lettering.set_fractions(words) == words


@pytest.mark.parametrize("height", [lettering.SMALLEST, lettering.FIGURE])
@pytest.mark.parametrize("sixteenths", range(1, 16))
def test_no_part_of_a_figure_is_lower_than_three_millimetres(sixteenths, height):
    words = tape.figure((12 + sixteenths / 16) * 25.4, "in")
    for run in lettering.runs(words, height):
        raised = "⁄" in run.words
        share = lettering.SMALL_FIGURE if raised else lettering.CAPITAL
        assert run.size * share >= lettering.SMALLEST - 1e-9


def test_width_adds_up_over_runs(font):
    em = font["head"].unitsPerEm
    advances = font["hmtx"].metrics
    known = font.getBestCmap()
    words = "36 11/16"
    size, large = 5 / lettering.CAPITAL, 3 / lettering.SMALL_FIGURE
    expected = sum(advances[known[ord(c)]][0] for c in "36 ") / em * size
    expected += sum(advances[known[ord(c)]][0] for c in "¹¹⁄₁₆") / em * large
    assert lettering.width(words, 5.0) == pytest.approx(expected)


def test_wrapped_lines_fit_and_lose_nothing():
    words = "One wrong measure costs a sheet of copper and a trip to the roof."
    lines = lettering.wrapped(words, 3.0, 40.0)
    assert " ".join(lines) == words
    assert all(lettering.width(line, 3.0) <= 40.0 for line in lines)


def test_a_word_longer_than_the_line_is_broken():
    lines = lettering.wrapped("x" * 200, 3.0, 40.0)
    assert "".join(lines) == "x" * 200
    assert all(lettering.width(line, 3.0) <= 40.0 for line in lines)


def test_what_the_font_lacks_is_shown_as_a_question_mark():
    assert lettering.printable("屋根 A\nB\0") == "?? A B?"


def test_shortened_words_fit():
    assert lettering.width(lettering.shortened("word " * 90, 3.0, 50), 3.0) <= 50
    assert lettering.shortened("short", 3.0, 50) == "short"


def test_a_line_never_ends_inside_a_figure():
    words = "sheet 39 3/8 in x 78 3/4 in, coil 330 11/16 in of galvanized steel 24 ga"
    for room in range(30, 120, 3):
        lines = lettering.wrapped(words, 3.5, float(room))
        assert " ".join(lines) == words
        for line in lines:
            assert not re.match(r"\d+/\d+|in\b|ga\b", line), lines
