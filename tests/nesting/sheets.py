"""Small shops' worth of blanks and stock for the tests of the cut plan."""

from __future__ import annotations

from hypothesis import strategies as st

from layout.geometry.point import Point
from layout.nesting.blank import ANY_WAY, AS_DRAWN, HEAD_TO_TAIL, Blank
from layout.nesting.check import faults
from layout.nesting.place import place
from layout.nesting.plan import Plan
from layout.nesting.stock import Keep, Stock

INCH = 25.4
KEEP = Keep()


def some(mark: str, count: int, width: float, length: float, **more: object) -> list:
    return [Blank(mark, n, width, length, **more) for n in range(1, count + 1)]


def sheet(width: float = 900.0, length: float = 2000.0, **more: object) -> Stock:
    return Stock("sheet", "sheet", width, length, **more)


def coil(width: float = 600.0, length: float = 0.0, **more: object) -> Stock:
    return Stock("coil", "coil", width, length, **more)


def taper(width: float, length: float, narrow: float) -> tuple[Point, ...]:
    """A right trapezoid: straight on the left, its head narrower than its foot."""
    return (Point(0, 0), Point(width, 0), Point(narrow, length), Point(0, length))


def planned(blanks: list, stocks: list, keep: Keep = KEEP, **more: object) -> Plan:
    """A plan that has passed the independent check."""
    plan = place(blanks, stocks, keep, **more)
    assert faults(plan, blanks, stocks, keep) == []
    return plan


@st.composite
def tasks(draw: st.DrawFn) -> tuple[list[Blank], list[Stock], Keep]:
    """Any blanks that the first stock holds, and more stock beside it."""
    inches = draw(st.booleans())
    unit, finest = (INCH, 8) if inches else (1.0, 1)
    wide, long = (36, 96) if inches else (900, 2000)
    trim = draw(st.sampled_from([0.0, 3.0, 6.35]))

    def size(most: float) -> st.SearchStrategy[float]:
        whole = int((most - 1 if inches else most - 20) * finest)
        return st.integers(finest * (1 if inches else 20), whole).map(
            lambda n: n * unit / finest
        )

    blanks = []
    for number in range(draw(st.integers(1, 8))):
        width, length = draw(size(wide)), draw(size(long))
        outline: tuple[Point, ...] = ()
        if draw(st.booleans()):
            narrow = width * draw(st.sampled_from([0.3, 0.6, 0.9]))
            outline = taper(width, length, narrow)
        turns = draw(st.sampled_from([ANY_WAY, HEAD_TO_TAIL, AS_DRAWN]))
        for copy in range(1, draw(st.integers(1, 4)) + 1):
            blanks.append(Blank(f"P{number}", copy, width, length, outline, turns))
    stocks = [Stock("S1", "sheet", wide * unit, long * unit, trim=trim)]
    others = [
        Stock("S2", "sheet", 1.3 * wide * unit, 1.2 * long * unit, 1.1, 2, trim),
        Stock("C1", "coil", 0.6 * wide * unit, 0.0, 1.0, None, trim, long * unit),
        Stock("C2", "coil", wide * unit, 3 * long * unit, 0.9, None, trim),
        Stock("O1", "offcut", 0.5 * wide * unit, 0.4 * long * unit, 0.5, 1),
        Stock("O2", "offcut", 0.9 * wide * unit, 0.3 * long * unit, 0.5, 1, trim),
    ]
    stocks += draw(st.lists(st.sampled_from(others), unique=True))
    keep = Keep(150.0, 300.0, draw(st.sampled_from([0.0, 0.0, 0.5, 1.0])))
    return blanks, stocks, keep
