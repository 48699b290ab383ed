"""Cleats: small hidden strips that hold a seam down, counted by spacing."""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil

from layout.families.draft import Draft, Label, drafted
from layout.families.site import Site
from layout.folding.facts import ShopFacts
from layout.folding.sheet import ROOF, Sheet
from layout.geometry.space import Vec
from layout.geometry.tolerance import EPS


def count(length: float, spacing: float) -> int:
    """Cleats on a seam of that length: one at each end, none further apart
    than the spacing. Example: 1000 mm at 305 -> 5."""
    return ceil(length / spacing - EPS) + 1


def seam_cleat(site: Site, shop: ShopFacts, seams: Iterable[float]) -> Draft:
    """The cleat of the roof's seams, drawn where the first one stands.

    seams: lengths of the seams that cleats hold, mm
    """
    sheet = Sheet()
    width, length = shop.number("cleat_width"), shop.number("cleat_length")
    foot = Vec(-site.left_pan, -shop.number("slope_lap"), 0)
    base = sheet.add_folded(
        "base",
        "roof",
        ROOF,
        [
            foot,
            foot.plus(Vec(0, width, 0)),
            foot.plus(Vec(-length, width, 0)),
            foot.plus(Vec(-length, 0, 0)),
        ],
    )
    up = Vec(0, 0, site.seam.leg("receiving"))
    sheet.strip("leg", "leg", base, foot, foot.plus(Vec(0, width, 0)), up, "leg")
    spacing = shop.number("cleat_spacing")
    total = sum(count(seam, spacing) for seam in seams)
    return drafted(Label("K", "cleat", "Seam cleat"), sheet, total)
