"""What a place is usually built like, for who has not chosen yet.

Common practice, no source; the rules judge what is laid out.
"""

from __future__ import annotations

from collections.abc import Mapping

from jobs.models import Measurement, Site
from layout.measures import SHEETS
from layout.reading import roof_kind
from shop.models import Metal

WIDE = 762.0
"""A saddle is needed behind anything wider, mm: IRC R903.2.2, 30 in."""

ROUND = {
    "in": {"build.sweep_radius": "3", "build.leg_at_wall_top": "1/2"},
    "mm": {"build.sweep_radius": "75", "build.leg_at_wall_top": "12"},
}


def suggested(
    site: Site, counted: Mapping[str, Measurement], metal: str
) -> dict[str, str]:
    """Name -> what is usually chosen, for the choices not made yet.

    metal: the one of the job's roof, as `metal_like` gives it
    """
    back = counted.get("penetration.back")
    wide = back is not None and back.value_mm is not None and back.value_mm > WIDE
    course = counted.get("walls.course")
    stepped = course is not None and course.value_mm is not None
    usual = {
        "metal": metal,
        "build.back": "saddle" if wide else "flat",
        "build.counterflashing": "stepped" if stepped else "level and raked",
        **ROUND[site.units],
    }
    asked = SHEETS[site.kind].by_name
    return {
        name: typed
        for name, typed in usual.items()
        if typed and name in asked and name not in counted
    }


def metal_like(words: str) -> str:
    """The metal of the shop nearest to the roof that is there."""
    kind = roof_kind(words)
    offered = Metal.objects.active().filter(kind=kind) if kind else Metal.objects.none()
    named = [metal for metal in offered if metal.name.casefold() in words.casefold()]
    middle = list(offered)
    if named:
        return str(named[0].name)
    return str(middle[len(middle) // 2].name) if middle else ""
