import pytest
from hypothesis import given
from hypothesis import strategies as st

from layout.drawing import tape
from shop.units import show_length

lengths = st.floats(0, 5000, allow_nan=False)


@pytest.mark.parametrize(
    ("size", "unit", "words"),
    [
        (314.325, "in", "12 3/8"),
        (314.325, "mm", "314.5"),
        (0.0, "in", "0"),
        (9.525, "in", "3/8"),
        (25.4, "in", "1"),
        (3000.0, "mm", "3000"),
    ],
)
def test_figures_are_what_a_tape_shows(size, unit, words):
    assert tape.figure(size, unit) == words


@given(lengths, st.sampled_from(["in", "mm"]))
def test_sheets_and_screens_say_the_same_length(size, unit):
    assert tape.length(size, unit) == show_length(size, unit)


@given(lengths)
def test_a_figure_is_off_by_half_a_step_at_most(size):
    assert abs(tape.steps(size, "in") * 25.4 / 16 - size) <= 25.4 / 32 + 1e-9


def test_weights_are_said_in_the_sites_own_system():
    # 1 lb is 0.45359237 kg by definition (international yard and pound, 1959).
    assert tape.weight(0.45359237 * 6.5, "in") == "6.5 lb"
    assert tape.weight(3.94, "mm") == "3.9 kg"
    assert tape.weight(0.042, "mm") == "0.04 kg"
