"""What a shop starts with: metals, standards, brakes and stock, as plain rows.

Pure data without a database or Django: the rows are loaded once into a new shop, where
the owner changes them, and `lay_out` reads them as they stand. Sources are printed
beside findings. "(trade value 1.18)" is the row of the project's table of sources;
"from memory" and "common practice, no source" mean what they say.
"""

from __future__ import annotations

from typing import NamedTuple

from shop.warmth_table import WARMTH

INCH = 25.4  # mm, exact


class MetalRow(NamedTuple):
    """thickness, smallest_radius: mm; density: kg/m3; stretch: share before it tears.

    sides: what the two sides are called, the weather side first.
    From expansion on: as in shop/warmth_table.py.
    """

    slug: str
    name: str
    kind: str
    thickness_mm: float
    density_kg_m3: float
    smallest_radius_mm: float
    sides: str
    source: str
    stretch: float
    expansion_along_mm_m: float
    expansion_across_mm_m: float
    expansion_source: str
    fold_from_c: float | None
    fold_source: str


class StandardRow(NamedTuple):
    """One figure or choice the shop holds to. unit: mm, deg, count or word."""

    key: str
    value: float | str
    unit: str
    words: str
    source: str
    choices: tuple[str, ...] = ()


class BrakeRow(NamedTuple):
    """Lengths in mm; largest_angle in degrees from flat."""

    name: str
    length_mm: float
    throat_mm: float
    smallest_flange_mm: float
    largest_angle_deg: float
    radius_mm: float


class StockRow(NamedTuple):
    """metal: the metal's name; form: sheet or coil; length_mm: None for coil."""

    metal: str
    form: str
    width_mm: float
    length_mm: float | None


# Copper is sold by weight: 16 oz/ft2 is 1 lb/ft2. 0.322 lb/in3: Copper Development
# Association, Copper in Architecture Design Handbook, Table 1.1A (trade value 1.01).
_COPPER_DENSITY = 8912.9  # kg/m3 = 0.322 lb/in3
_COPPER = (
    "Thickness from the weight by definition and 0.322 lb/in3 (Copper in Architecture"
    " Design Handbook, Table 1.1A); agrees with ASTM B370 nominal (from memory) to"
    " 0.0001 in. Inside radius 2 t: brake radius of the roof tested as UL 580 class 90,"
    " construction 496. Stretch 0.30: ASTM B370 temper H00, from memory"
)
_ZINC = (
    "EN 988 preferred thickness. Density 7.2 g/cm3 (zinc producers' manuals; one"
    " prints 7.14). Inside radius 1.75 mm: zinc producers' manuals, from memory."
    " Stretch 0.35: EN 988 elongation"
)
_GALVANIZED = (
    "Galvanized sheet gauge: thickness and weight of the table, from memory, but the"
    " weight of 24 ga, 1.156 lb/ft2, read in Sheet Metal Drafting p.102; the density is"
    " that weight over that thickness. Inside radius 1 t: lock-forming quality,"
    " from memory. Stretch 0.20: from memory"
)
_PAINTED = (
    "Galvanized sheet gauge, from memory, under its coats. Density of steel 7850 kg/m3"
    " (mechanics textbook, Table 3). Inside radius 2 t: coil coaters' guidance, from"
    " memory; more below 10 °C. Stretch 0.20: from memory"
)
_STAINLESS = (
    "Decimal thickness as ordered (gauge tables differ). Type 304 density"
    " 7,900-8,000 kg/m3, inside radius 1 t, stretch 0.40: handbooks, from memory"
)
_ALUMINIUM = (
    "Density 0.098 lb/in3 (trade values 5.22-5.27, from memory). Inside radius 1/2 t:"
    " alloy 3105-H25, Aluminum Design Manual 2005, Part VII, Table 3-1. Stretch 0.06:"
    " from memory"
)


def _copper(ounces: int) -> MetalRow:
    thickness = ounces / 16 / (144 * 0.322) * INCH
    return MetalRow(
        slug=f"copper-{ounces}-oz",
        name=f"copper {ounces} oz",
        kind="copper",
        thickness_mm=round(thickness, 4),
        density_kg_m3=_COPPER_DENSITY,
        smallest_radius_mm=round(2 * thickness, 2),
        sides="mill finish, mill finish",
        source=_COPPER,
        stretch=0.30,
        **WARMTH["copper"]._asdict(),
    )


def _zinc(thickness: float) -> MetalRow:
    return MetalRow(
        slug=f"zinc-{thickness}-mm".replace(".", "-"),
        name=f"zinc {thickness} mm",
        kind="zinc",
        thickness_mm=thickness,
        density_kg_m3=7200.0,
        smallest_radius_mm=1.75,
        sides="marked side, plain side",
        source=_ZINC,
        stretch=0.35,
        **WARMTH["zinc"]._asdict(),
    )


def _galvanized(gauge: int, inches: float, density: float) -> MetalRow:
    thickness = round(inches * INCH, 4)
    return MetalRow(
        slug=f"galvanized-steel-{gauge}-ga",
        name=f"galvanized steel {gauge} ga",
        kind="steel",
        thickness_mm=thickness,
        density_kg_m3=density,
        smallest_radius_mm=round(thickness, 2),
        sides="zinc coat, zinc coat",
        source=_GALVANIZED,
        stretch=0.20,
        **WARMTH["steel"]._asdict(),
    )


def _stainless(name: str, slug: str, thickness: float) -> MetalRow:
    return MetalRow(
        slug=f"stainless-{slug}",
        name=f"stainless {name}",
        kind="stainless",
        thickness_mm=thickness,
        density_kg_m3=7900.0,
        smallest_radius_mm=round(thickness, 2),
        sides="finish side, plain side",
        source=_STAINLESS,
        stretch=0.40,
        **WARMTH["stainless"]._asdict(),
    )


def _aluminium(inches: float) -> MetalRow:
    thickness = round(inches * INCH, 4)
    return MetalRow(
        slug=f"aluminium-{inches:.3f}-in".replace(".", "-"),
        name=f"aluminium {inches:.3f} in",
        kind="aluminium",
        thickness_mm=thickness,
        density_kg_m3=2712.6,
        smallest_radius_mm=round(thickness / 2, 2),
        sides="painted side, wash coat",
        source=_ALUMINIUM,
        stretch=0.06,
        **WARMTH["aluminium"]._asdict(),
    )


METALS: tuple[MetalRow, ...] = (
    *(_copper(ounces) for ounces in (12, 16, 20, 24, 32, 48)),
    *(_zinc(thickness) for thickness in (0.65, 0.7, 0.8, 1.0)),
    _galvanized(22, 0.0336, 8043.0),
    _galvanized(24, 0.0276, 8051.0),
    _galvanized(26, 0.0217, 8025.0),
    _galvanized(28, 0.0187, 8028.0),
    MetalRow(
        slug="painted-steel-24-ga",
        name="painted steel 24 ga",
        kind="steel",
        thickness_mm=0.701,
        density_kg_m3=7850.0,
        smallest_radius_mm=1.4,
        sides="painted side, wash coat",
        source=_PAINTED,
        stretch=0.20,
        **WARMTH["painted steel"]._asdict(),
    ),
    _stainless("0.4 mm", "0-4-mm", 0.4),
    _stainless("0.5 mm", "0-5-mm", 0.5),
    # 0.0187 and 0.0156 in: US standard gauge, from memory (trade value 5.16).
    _stainless("26 ga", "26-ga", round(0.0187 * INCH, 4)),
    _stainless("28 ga", "28-ga", round(0.0156 * INCH, 4)),
    _aluminium(0.032),
    _aluminium(0.040),
)

_PRACTICE = "common practice, no source"
_FEDERAL = "Unified Facilities Guide Specification 07600, Flashing and Sheet Metal"
_COPPER_1925 = "Copper Flashings, Copper and Brass Research Association, 2nd ed. 1925"
_HANDBOOK = "Copper in Architecture Design Handbook, Copper Development Association"
_SHEET_METAL_MANUAL = "SMACNA Architectural Sheet Metal Manual, 5th ed., as quoted"

STANDARDS: tuple[StandardRow, ...] = (
    StandardRow(
        "apron_ear", 152.4, "mm",
        "How far the apron runs out beyond each side wall.",
        _PRACTICE,
    ),
    StandardRow(
        "apron_return", 101.6, "mm",
        "How far the apron's upstand returns along each side wall.",
        _PRACTICE,
    ),
    StandardRow(
        "slope_lap", 101.6, "mm",
        "Lap of a piece over the one below it, along the slope.",
        f"{_SHEET_METAL_MANUAL}: flashing joint lap 4 in",
    ),
    StandardRow(
        "hem", 12.7, "mm",
        "Width of a hem on a free edge.",
        f"{_COPPER_1925}, p.8: about 1/2 in",
    ),
    StandardRow(
        "cleat_spacing", 304.8, "mm",
        "Largest distance from cleat to cleat.",
        f"{_HANDBOOK}, section 8.2: 12 in o.c.",
    ),
    StandardRow(
        "cleat_width", 50.8, "mm",
        "Width of a cleat.",
        f"{_HANDBOOK}, section 7.1A: 2 in or more",
    ),
    StandardRow(
        "cleat_length", 76.2, "mm",
        "Length of a cleat's blank.",
        f"{_FEDERAL}, p.15: 2 x 3 in",
    ),
    StandardRow(
        "saddle_margin", 101.6, "mm",
        "How far a saddle or back pan runs up the slope beyond its crease.",
        f"{_FEDERAL}, p.17: base flashing 4 in or more under the roofing",
    ),
    StandardRow(
        "counterflashing_lap", 101.6, "mm",
        "How far counterflashing covers the upstand below it.",
        f"{_HANDBOOK}, section 9.8; {_SHEET_METAL_MANUAL}: 4 in or more",
    ),
    StandardRow(
        "step_lap", 76.2, "mm",
        "Lap of a step over the one below it.",
        f"{_FEDERAL}, p.17: 3 in or more",
    ),
    StandardRow(
        "reglet_depth", 31.75, "mm",
        "Depth of the groove the counterflashing is let into.",
        f"{_FEDERAL}, p.18: 1 1/4 in",
    ),
    StandardRow(
        "reglet_turn", 6.35, "mm",
        "Edge turned up inside the groove.",
        f"{_FEDERAL}, p.18: 1/4 in or more",
    ),
    StandardRow(
        "drip", 12.7, "mm",
        "Width of the drip edge at the foot of counterflashing.",
        f"{_PRACTICE}; the same as a hem",
    ),
    StandardRow(
        "drip_angle", 30.0, "deg",
        "How far the drip edge stands off the wall.",
        _PRACTICE,
    ),
    StandardRow(
        "corner_tab", 50.8, "mm",
        "Counterflashing turned round a corner, under or over the side piece.",
        _PRACTICE,
    ),
    StandardRow(
        "clear_of_roof", 25.4, "mm",
        "Counterflashing stays this far clear of the roof.",
        f"{_SHEET_METAL_MANUAL}: lower edge 1 in or more above the cant",
    ),
    StandardRow(
        "sweep_run", 25.4, "mm",
        "Straight run kept at the top of a sweep.",
        _PRACTICE,
    ),
    StandardRow(
        "seam_play", 0.0, "mm",
        "Added to the covering leg's turn, for the layers it closes over.",
        f"{_PRACTICE}: printed legs are without it",
    ),
    StandardRow(
        "trough_fall", 1.5, "deg",
        "Least fall of a trough to level.",
        "NZ Metal Roof and Wall Cladding Code of Practice v3.0, diverter or cricket"
        " designs: 1.5°",
    ),
    StandardRow(
        "saddle_rule", "code", "word",
        "Which rule says that a saddle is needed: code (wider than 30 in), handbook"
        " (any chimney wholly on one side of the ridge) or the shop's own width.",
        "IRC R903.2.2; Copper in Architecture Design Handbook, section 9.8",
        ("code", "handbook", "shop"),
    ),
    StandardRow(
        "saddle_shop_width", 609.6, "mm",
        "The shop's own rule: a saddle behind anything wider than this.",
        "Steep-slope residential roof details: a saddle from 24 in is advised",
    ),
    StandardRow(
        "upstand_rule", "copper handbook stepped", "word",
        "Which source says how high an upstand must stand at least.",
        "The sources differ from 75 mm to 10 in; each is printed with its figure",
        (
            "copper handbook stepped",
            "copper handbook runner",
            "federal guide",
            "sheet metal manual",
            "NZ code of practice",
            "UK practice",
        ),
    ),
    StandardRow(
        "square_tolerance", 3.175, "mm",
        "Sides may differ by this much and still be taken as square.",
        f"{_PRACTICE}: 1/8 in, twice what a tape shows",
    ),
    StandardRow(
        "measured_deduction", 0.0, "mm",
        "What the shop measured its own brake to take from the outside legs at a fold"
        " of 90°; it wins over the allowance's theory. 0 where it was not measured.",
        "the shop's own trial pieces",
    ),
    StandardRow(
        "most_layers", 9.0, "count",
        "How many layers of metal the shop's tools close in one seam.",
        f"{_PRACTICE}; a double fold has five",
    ),
    StandardRow(
        "shortest_length", 304.8, "mm",
        "No length of a divided run is shorter than this.",
        _PRACTICE,
    ),
    StandardRow(
        "temperature_swing", 100.0, "count",
        "Degrees Celsius between the coldest and the warmest metal on a roof.",
        "Copper Development Association UK, publication 156: movement per 100 °C",
    ),
    StandardRow(
        "step_flashing_lap", 50.8, "mm",
        "How much longer a step flashing is than the exposure of its course.",
        "NRCA practice, from memory: exposure + 2 in; the federal guide wants a lap of"
        " 3 in",
    ),
    StandardRow(
        "lock", 19.05, "mm",
        "Width of a hook or lock folded across the slope.",
        f"{_HANDBOOK}, section 8.5; {_FEDERAL}: 3/4 in",
    ),
    StandardRow(
        "cap_flange", 19.05, "mm",
        "Width of the edges of an end cap, folded along the run's legs.",
        f"{_PRACTICE}: 3/4 in",
    ),
    StandardRow(
        "offcut_width", 152.4, "mm",
        "The narrower side of the smallest offcut worth keeping.",
        f"{_PRACTICE}: 6 in, half of what a step or a cleat strip takes",
    ),
    StandardRow(
        "offcut_length", 304.8, "mm",
        "The longer side of the smallest offcut worth keeping.",
        f"{_PRACTICE}: 12 in",
    ),
    StandardRow(
        "offcut_worth", 50.0, "count",
        "What a kept offcut is worth, in per cent of new metal of its area.",
        f"{_PRACTICE}: it saves metal only if a blank comes that fits it",
    ),
    StandardRow(
        "trim_edge", 0.0, "mm",
        "Strip taken off every edge of a bought sheet before it is used. 0 where"
        " edges come straight and clean.",
        _PRACTICE,
    ),
    StandardRow(
        "plan_seconds", 10.0, "count",
        "Seconds the search for a cut plan takes if nobody says otherwise.",
        f"{_PRACTICE}; our own trials found little more after 10 s",
    ),
    StandardRow(
        "allowance", "none", "word",
        "How the metal's thickness is allowed for at a fold.",
        "none: lengths at the fold line. din6935: DIN 6935 correction value. handbook:"
        " Machinery's Handbook 90° lengths scaled by angle",
        ("none", "din6935", "handbook"),
    ),
)  # fmt: skip

PLAN_STANDARDS = frozenset(
    ("offcut_width", "offcut_length", "offcut_worth", "trim_edge", "plan_seconds")
)
"""What only cut plans go by: no piece is laid out otherwise where they change."""

LAYOUT_STANDARDS = tuple(row for row in STANDARDS if row.key not in PLAN_STANDARDS)

BRAKES_SOURCE = (
    "A hand brake and a bar folder of common make; every shop enters its own. Common"
    " practice, no source"
)
BRAKES: tuple[BrakeRow, ...] = (
    BrakeRow("long brake, 10 ft", 3048.0, 1016.0, 9.525, 145.0, 0.8),
    BrakeRow("bar folder, 36 in", 914.4, 38.1, 3.175, 150.0, 0.8),
)

# Sheet and coil as the trade sells them.
STOCK_SOURCES: dict[str, str] = {
    "copper": "Widths that are multiples of 2 in: Copper Roofings, 1920s, p.6; lengths"
    f" of 8 or 10 ft: {_HANDBOOK}, section 9.3",
    "zinc": "EN 988: widths to 1000 mm, lengths of 2000 and 3000 mm; coil of 600 mm:"
    " zinc producers' bays of 530 mm, from memory",
    "steel": _PRACTICE,
    "stainless": _PRACTICE,
    "aluminium": _PRACTICE,
}
_COPPER_STOCK = (
    ("sheet", 24 * INCH, 96 * INCH),
    ("sheet", 36 * INCH, 96 * INCH),
    ("sheet", 36 * INCH, 120 * INCH),
)
_ZINC_STOCK = (
    ("sheet", 1000.0, 2000.0),
    ("sheet", 1000.0, 3000.0),
    ("coil", 600.0, None),
)
_STEEL_STOCK = (
    ("sheet", 36 * INCH, 120 * INCH),
    ("sheet", 48 * INCH, 120 * INCH),
)
_STAINLESS_STOCK = (("sheet", 1000.0, 2000.0), ("sheet", 36 * INCH, 120 * INCH))
_ALUMINIUM_STOCK = (("coil", 24 * INCH, None), ("sheet", 48 * INCH, 120 * INCH))
STOCK_OF_KIND: dict[str, tuple[tuple[str, float, float | None], ...]] = {
    "copper": _COPPER_STOCK,
    "zinc": _ZINC_STOCK,
    "steel": _STEEL_STOCK,
    "stainless": _STAINLESS_STOCK,
    "aluminium": _ALUMINIUM_STOCK,
}

STOCKS: tuple[StockRow, ...] = tuple(
    StockRow(metal.name, form, round(width, 2), length and round(length, 2))
    for metal in METALS
    for form, width, length in STOCK_OF_KIND[metal.kind]
)
