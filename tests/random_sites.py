"""Random square chimneys for property tests: records within the trade's bounds."""

from __future__ import annotations

import os
from collections.abc import Callable
from typing import Any

from hypothesis import HealthCheck, given, seed, settings
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


EXAMPLES = int(os.environ.get("SEAMBOOK_EXAMPLES", "40"))
"""More of them when asked: SEAMBOOK_EXAMPLES=1000 pytest tests/families"""


def on_random_sites(test: Callable[..., None]) -> Callable[..., None]:
    """Runs a test on the same random sites as every other test so marked, so
    that each site is laid out once."""
    found: Callable[..., None] = seed(20)(
        settings(
            max_examples=EXAMPLES,
            deadline=None,
            database=None,
            suppress_health_check=[HealthCheck.too_slow],
        )(given(site=square_sites())(test))
    )
    return found
