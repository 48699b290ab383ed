"""Behind the chimney: is a saddle needed, does the trough fall enough."""

from __future__ import annotations

from collections.abc import Iterator
from math import atan, degrees, radians, sqrt, tan

from layout.folding.result import Finding
from layout.geometry.tolerance import EPS
from layout.rules.case import Case

CODE_WIDTH = 762.0
"""30 in. A cricket or saddle on the ridge side of any chimney or penetration
more than 30 in wide, measured square to the slope: IRC R903.2.2; 2003 IRC
R905.2.8.3. Strictly more."""

NZ_WIDTH = 600.0
"""Wider than 600 mm, or a pitch under 10 degrees: NZ Metal Roof and Wall
Cladding Code of Practice v3.0, penetration design."""

CODE = "IRC R903.2.2 (30 in rule); local codes come first"
HANDBOOK = "Copper in Architecture Design Handbook, section 9.8"
NZ = "NZ Metal Roof and Wall Cladding Code of Practice v3.0, penetration design"
NZ_FALL = "NZ Metal Roof and Wall Cladding Code of Practice v3.0, cricket designs"


def needs_saddle_by_code(width: float) -> bool:
    """True when a penetration of that width (mm) needs a cricket or saddle."""
    return width > CODE_WIDTH + 1e-9


def code_height(width: float, rise_per_12: float) -> float:
    """Least height of a cricket at the wall, mm: (W / 2) x (slope / 12).

    The building code's table (IRC R1003.20, IBC 2113.20) is this rule: 1/2 W
    at 12:12, 1/3 at 8:12, 1/4 at 6:12, 1/6 at 4:12, 1/8 at 3:12.
    """
    return width / 2 * rise_per_12 / 12


def saddle_needed(case: Case) -> Iterator[Finding]:
    """A flat back where one of the rules wants the water parted."""
    site, shop = case.site, case.shop
    if site.back != "flat":
        return
    chosen = shop.word("saddle_rule")
    wide = case.show(site.width)
    remedy = "Build a saddle or a falling back behind it."
    if needs_saddle_by_code(site.width):
        yield Finding(
            "warning",
            "code",
            "saddle by code",
            f"{wide} wide, more than {case.show(CODE_WIDTH)}: the code wants a "
            "cricket or saddle on the ridge side",
            remedy,
            "B",
            CODE,
        )
    if chosen == "shop" and site.width > shop.number("saddle_shop_width"):
        yield Finding(
            "warning",
            "shop",
            "saddle by the shop's rule",
            f"{wide} wide; the shop builds a saddle from "
            f"{case.show(shop.number('saddle_shop_width'))}",
            remedy,
            "B",
            shop.sources["saddle_rule"],
        )
    yield Finding(
        "warning" if chosen == "handbook" else "note",
        "practice",
        "saddle by the handbook",
        "the copper handbook wants a cricket behind any chimney that stands wholly "
        "on one side of the ridge",
        remedy,
        "B",
        HANDBOOK,
    )
    if site.width > NZ_WIDTH or site.pitch < 10:
        yield Finding(
            "note",
            "practice",
            "saddle by the NZ code of practice",
            f"{wide} wide on {site.pitch:.1f}°: wider than {case.show(NZ_WIDTH)} or "
            "flatter than 10°, a cricket or diverter is wanted",
            remedy,
            "B",
            NZ,
        )


def least_pitch_for(fall: float) -> float:
    """Roof pitch, degrees, at which a 45-degree valley falls by `fall` degrees.

    tan(valley) = tan(roof) / sqrt 2. Example: 1.5 -> 2.12.
    """
    return degrees(atan(tan(radians(fall)) * sqrt(2)))


def trough_falls(case: Case) -> Iterator[Finding]:
    """The valley behind the chimney must fall by the shop's least fall."""
    fall, least = case.assembly.fall, case.shop.number("trough_fall")
    if not fall:
        return
    marks = [p.mark for p in case.pieces if p.family in ("back_pan", "saddle_half")]
    where = ", ".join(marks)
    if fall < least - EPS:
        yield Finding(
            "blocking",
            "practice",
            "trough fall",
            f"the trough falls {fall:.2f}° to level; at least {least:.2f}° is wanted, "
            "or water and dirt stand in it",
            "Give more metal above or a higher side upstand, so that it can rise.",
            where,
            case.shop.sources["trough_fall"],
        )
    else:
        yield Finding(
            "note",
            "practice",
            "trough fall",
            f"the valley falls {fall:.1f}° to level; at least {least:.1f}° is wanted",
            "Nothing to do.",
            where,
            case.shop.sources["trough_fall"],
        )
    if case.around.smaller_sweep is not None:
        size = case.around.smaller_sweep
        how = f"is swept on {case.show(size)}" if size else "is a mitred corner"
        yield Finding(
            "note",
            "shop",
            "smaller sweep",
            f"the seam at the trough's high end {how}; the asked "
            f"{case.show(case.site.sweep_radius)} has no room there",
            "Raise the side upstand, or accept it.",
            where,
            "fold geometry",
        )


def metal_above(case: Case) -> Iterator[Finding]:
    """Metal carried further up the slope than was measured."""
    asked = case.around.asked_above
    built = case.site.above
    if built <= asked + 1e-6:
        return
    yield Finding(
        "warning",
        "practice",
        "metal above",
        f"{case.show(asked)} above the chimney ends short of the saddle's ridge end; "
        f"the pieces reach {case.show(built)}",
        "Open the roof that far, or ask for a falling back.",
        ", ".join(p.mark for p in case.pieces if p.family == "saddle_half"),
        case.shop.sources["saddle_margin"],
    )
