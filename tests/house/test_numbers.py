"""Every built-in number has a source, and the test named beside it is there."""

from __future__ import annotations

import subprocess
import sys
from functools import cache

import pytest

from layout import numbers_held as held
from layout.figures import figures
from layout.numbers import Number, groups
from tests.house.tree import CHECKOUT

pytestmark = pytest.mark.django_db
UNPUBLISHED = ("no source", "own bound", "the shop's own")


def every() -> list[Number]:
    return [number for group in groups("in") for number in group.numbers]


@cache
def collected(files: tuple[str, ...]) -> frozenset[str]:
    """Names of all tests in the files, with and without their parameters."""
    listed = subprocess.run(
        [
            sys.executable,
            "-m",
            "pytest",
            "--collect-only",
            "-q",
            "-p",
            "no:cacheprovider",
            *files,
        ],
        cwd=CHECKOUT,
        capture_output=True,
        text=True,
    ).stdout.splitlines()
    names = {line.strip() for line in listed if "::" in line}
    return frozenset(names | {name.partition("[")[0] for name in names})


def test_each_test_named_beside_a_number_is_there() -> None:
    named = {test for number in every() for test in number.tests}
    assert len(named) > 60
    files = sorted({test.partition("::")[0] for test in named})
    for file in files:
        assert (CHECKOUT / file).is_file(), file
    assert named - collected(tuple(files)) == set()


def test_every_row_of_the_table_of_tests_names_a_number() -> None:
    names = [number.name for number in every()]
    stars = [star for star, _ in held.BY_NAME] + list(held.CODE)
    idle = [s for s in stars if not any(held.fnmatchcase(name, s) for name in names)]
    assert idle == []


def test_a_number_without_a_test_has_no_published_source() -> None:
    bare = [number for number in every() if not number.tests]
    assert [n.name for n in bare if not any(w in n.source for w in UNPUBLISHED)] == []


def test_every_number_has_a_source_and_a_value_in_words() -> None:
    numbers = every()
    assert len({number.name for number in numbers}) == len(numbers) > 150
    for number in numbers:
        assert number.what and number.value and len(number.source) > 10, number.name


def test_every_figure_of_the_code_says_what_it_is_and_has_a_unit() -> None:
    assert len(figures()) > 40
    for figure in figures():
        assert figure.words, f"{figure.name} has no words under it"
        assert held.of_code(figure.name), f"{figure.name} is not in numbers_held.CODE"
