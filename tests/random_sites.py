"""Random square chimneys for property tests: records within the trade's bounds."""

from __future__ import annotations

import os
from collections.abc import Callable
from math import dist, hypot
from typing import Any

from hypothesis import HealthCheck, assume, given, seed, settings
from hypothesis import strategies as st

from tests import sites

BACKS = ("flat", "falling left", "falling right", "saddle")
COVERS = ("none", "level and raked", "stepped")


def _mm(least: int, most: int) -> st.SearchStrategy[float]:
    """Lengths to a tenth of a millimetre."""
    return st.integers(least * 10, most * 10).map(lambda tenths: tenths / 10)


@st.composite
def square_sites(draw: st.DrawFn) -> dict[str, Any]:
    """A record of a square chimney in mm, any back, any counterflashing."""
    upstands = [draw(_mm(120, 320)) for _ in range(3)]
    height = draw(_mm(19, 40))
    return sites.record(
        {
            "units": "mm",
            "width": draw(_mm(300, 1300)),
            "depth": draw(_mm(250, 1200)),
            "roof.pitch": f"{draw(st.integers(50, 600)) / 10}°",
            "roof.left_pan": draw(_mm(140, 600)),
            "roof.right_pan": draw(_mm(140, 600)),
            "roof.below": draw(_mm(100, 400)),
            "roof.above": draw(_mm(150, 900)),
            "roof.seam.fold": draw(st.sampled_from(("single", "double"))),
            "roof.seam.height": height,
            "roof.seam.turn": draw(_mm(6, 12)),
            "walls.upstand_front": upstands[0],
            "walls.upstand_side": upstands[1],
            "walls.upstand_back": upstands[2],
            "walls.course": draw(_mm(50, 110)),
            "walls.reglet": max(upstands) + draw(_mm(10, 80)),
            "build.back": draw(st.sampled_from(BACKS)),
            "build.counterflashing": draw(st.sampled_from(COVERS)),
            "build.sweep_radius": draw(st.one_of(st.just(0.0), _mm(26, 70))),
            "build.leg_at_wall_top": min(height, draw(_mm(8, 20))),
        }
    )


Corners = list[tuple[float, float]]


@st.composite
def crooked_sites(draw: st.DrawFn) -> tuple[dict[str, Any], Corners]:
    """A record out of square, and the corners its sides were taken from: front
    left, front right, back right, back left."""
    site = draw(square_sites())
    hole = site["penetration"]
    width, depth = hole["front"], hole["left"]

    def off() -> float:
        """Up to 3 % of the smaller side either way, and 4 mm at least."""
        way = draw(st.sampled_from((-1, 1)))
        return way * (4 + draw(st.integers(0, 30)) / 1000 * min(width, depth))

    corners = [
        (0.0, 0.0),
        (width, 0.0),
        (width + off(), depth + off()),
        (off(), depth + off()),
    ]

    def side(one: int, other: int) -> float:
        return dist(corners[one], corners[other])

    right, back, left, diagonal = side(1, 2), side(2, 3), side(3, 0), side(0, 2)
    # The shop takes what is off by less than an eighth of an inch as square.
    square = hypot((width + back) / 2, (left + right) / 2)
    assume(max(abs(width - back), abs(left - right), abs(diagonal - square)) > 3.2)
    hole |= {"right": right, "back": back, "left": left, "diagonal": diagonal}
    return site, corners


EXAMPLES = int(os.environ.get("SEAMBOOK_EXAMPLES", "40"))
"""More of them when asked: SEAMBOOK_EXAMPLES=1000 pytest tests/families"""


def _on(**strategies: st.SearchStrategy[Any]) -> Callable[..., Any]:
    """The same examples for every test, so that each site is laid out once."""

    def marked(test: Callable[..., None]) -> Callable[..., None]:
        found: Callable[..., None] = seed(20)(
            settings(
                max_examples=EXAMPLES,
                deadline=None,
                database=None,
                suppress_health_check=[HealthCheck.too_slow],
            )(given(**strategies)(test))
        )
        return found

    return marked


on_random_sites = _on(site=square_sites())
on_crooked_sites = _on(crooked=crooked_sites())
