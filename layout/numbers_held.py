"""Which test holds which number: the one table, read by the page that lists them.

A number is named by its group and itself, such as "standard hem"; a figure of the
code by its dotted name. tests/house/test_numbers.py fails where a test named here is
not there, where a number with a published source has none, and where a figure of the
code is missing.
"""

from __future__ import annotations

from fnmatch import fnmatchcase
from typing import NamedTuple

PUBLISHED = "tests/shop/test_published.py::test_"
CODE_PUBLISHED = "tests/rules/test_published.py::test_a_figure_is_as_printed"
TABLES, MOVEMENT = "tests/shop/test_tables.py::test_", "tests/folding/test_movement.py"
METALS, SEAM = "tests/rules/test_metals.py::test_", "tests/folding/test_seam.py::test_"

PRINTED_STANDARDS = (
    "slope_lap", "hem", "cleat_spacing", "cleat_width", "cleat_length",
    "saddle_margin", "counterflashing_lap", "step_lap", "reglet_depth", "reglet_turn",
    "clear_of_roof", "trough_fall", "temperature_swing", "step_flashing_lap", "lock",
)  # fmt: skip
"""Standards with a published figure; the others are common practice."""

BY_NAME: tuple[tuple[str, tuple[str, ...]], ...] = (
    *(
        (f"standard {key}", (f"{PUBLISHED}a_standard_is_as_printed[{key}]",))
        for key in PRINTED_STANDARDS
    ),
    ("standard saddle_rule", (
        "tests/rules/test_upslope.py::test_the_shops_rule_binds_where_the_shop_chose_it",
        "tests/rules/test_upslope.py"
        "::test_the_handbooks_stricter_rule_is_always_said",
    )),
    ("standard upstand_rule", (
        "tests/rules/test_cover.py::test_the_chosen_source_binds_at_its_edge",
        "tests/rules/test_cover.py"
        "::test_every_source_of_upstand_heights_is_in_the_table",
    )),
    ("standard saddle_shop_width", (
        "tests/rules/test_upslope.py::test_the_shops_rule_binds_where_the_shop_chose_it",
    )),
    ("standard allowance", (f"{PUBLISHED}the_allowances_are_the_rules_known",)),
    ("metal copper *", (
        f"{TABLES}copper_has_its_nominal_thickness",
        f"{TABLES}sixteen_ounces_is_a_pound_a_square_foot",
    )),
    ("metal copper 20 oz", (f"{TABLES}a_ten_foot_piece_of_twenty_ounce_copper",)),
    ("metal zinc 0.7 mm", (f"{TABLES}zinc_weighs_what_producers_print",)),
    ("metal galvanized steel 24 ga", (
        f"{TABLES}twenty_four_gauge_galvanized_offset_fitting",
    )),
    ("metal *", (f"{PUBLISHED}a_metals_radius_stretch_and_density_are_as_printed",)),
    ("warmth *", (f"{PUBLISHED}the_warmth_of_a_metal_is_as_printed",)),
    ("warmth copper", (f"{MOVEMENT}::test_a_ten_foot_copper_pan_by_the_handbook",)),
    ("warmth zinc", (
        f"{MOVEMENT}::test_a_ten_metre_zinc_bay",
        f"{MOVEMENT}::test_zinc_across_rolling",
        f"{METALS}zinc_is_folded_at_ten_degrees_or_warmer",
    )),
    ("warmth steel", (
        f"{MOVEMENT}::test_swing_implied_by_the_fastener_allowance",
    )),
    ("warmth lead", (f"{MOVEMENT}::test_a_lead_piece",)),
    ("pair contact *", (
        f"{METALS}contact_has_no_direction_and_run_off_has_one",
        f"{METALS}touching_metals",
    )),
    ("pair run-off *", (
        f"{METALS}contact_has_no_direction_and_run_off_has_one",
        f"{METALS}run_off_is_judged_both_from_above_and_on_to_below",
    )),
    ("seam copper hand *", (f"{SEAM}the_printed_loss_leaves_the_printed_pan",)),
    ("seam zinc *", (f"{SEAM}zinc_bays_differ_by_how_they_are_made",)),
    ("seam zinc hand *", (f"{SEAM}both_folds_follow_from_the_legs",)),
    ("seam *", (f"{PUBLISHED}a_seam_is_as_printed",)),
    ("stock copper", (f"{PUBLISHED}copper_comes_as_it_was_printed",)),
    ("stock zinc", (f"{PUBLISHED}zinc_comes_as_the_standard_prefers",)),
    ("section usual", (
        "tests/folding/test_order.py"
        "::test_a_planned_order_can_be_made_and_none_is_missed",
        "tests/shop/test_brake_section.py"
        "::test_the_usual_section_passes_its_own_checks",
    )),
)  # fmt: skip


class Held(NamedTuple):
    """unit: of the figure, "" for a share or a count; printed: a published figure
    holds it; tests: others that do."""

    unit: str
    printed: bool = True
    tests: tuple[str, ...] = ()


_COVER, _SEAMS = "tests/rules/test_cover.py::test_", "tests/rules/test_seams.py::test_"
_LEG, _BENCH = "tests/folding/test_leg.py::test_", "tests/rules/test_bench.py::test_"

_COVERED = "tests/rules/test_thickness.py::test_a_coverings_least_thickness"

CODE: dict[str, Held] = {
    "layout.rules.cover.UPSTANDS *": Held(
        "mm", tests=(f"{_COVER}every_source_of_upstand_heights_is_in_the_table",)
    ),
    "layout.rules.cover.ONTO_ROOF": Held(
        "mm", tests=(f"{_COVER}four_inches_of_metal_lie_on_the_roof",)
    ),
    "layout.rules.cover.LAP": Held(
        "mm", tests=(f"{_COVER}counterflashing_covers_by_four_inches",)
    ),
    "layout.rules.looks.MATCH": Held(
        "mm",
        False,
        ("tests/rules/test_looks.py::test_seams_are_matched_to_a_sixteenth",),
    ),
    "layout.rules.pans.BY_METAL *": Held(
        "mm", tests=("tests/families/test_pan.py::test_rules_of_pans",)
    ),
    "layout.rules.pipes.*": Held(
        "mm",
        tests=("tests/families/test_pipe.py::test_a_collars_flange_by_the_handbook",),
    ),
    "layout.rules.seams.CODE_SLOPE": Held(
        "°", tests=(f"{_SEAMS}the_codes_least_slope_of_a_standing_seam",)
    ),
    "layout.rules.seams.COPPER_SLOPE": Held(
        "°", tests=(f"{_SEAMS}the_copper_handbooks_details_want_4_in_12",)
    ),
    "layout.rules.seams.ZINC_*": Held(
        "°", tests=(f"{_SEAMS}zinc_wants_3_degrees_and_better_7",)
    ),
    "layout.rules.seams.SINGLE_SLOPE": Held(
        "°", tests=(f"{_SEAMS}a_single_fold_only_from_25_degrees",)
    ),
    "layout.rules.seams.LEAST_HEIGHT": Held(
        "mm", tests=(f"{_SEAMS}a_seam_is_an_inch_high",)
    ),
    "layout.rules.seams.TAPE": Held(
        "mm",
        False,
        (
            "tests/rules/test_printed_seams.py"
            "::test_legs_are_told_apart_by_what_a_tape_shows",
        ),
    ),
    "layout.rules.steps.SIZE": Held(
        "mm", tests=("tests/families/test_steps.py::test_a_small_step_breaks_the_code",)
    ),
    "layout.rules.steps.L*": Held(
        "mm",
        tests=("tests/families/test_steps.py::test_the_sources_differ_about_the_lap",),
    ),
    "layout.rules.thickness.OUNCE": Held("kg/m2"),
    "layout.rules.thickness.COVERING *": Held("mm", tests=(_COVERED,)),
    "layout.rules.thickness.FLASHING": Held(
        "mm",
        tests=("tests/rules/test_thickness.py::test_flashing_is_no_26_or_thicker",),
    ),
    "layout.rules.thickness.SLACK": Held("mm", False, (_COVERED,)),
    "layout.rules.upslope.CODE_WIDTH": Held(
        "mm",
        tests=(
            "tests/rules/test_upslope.py"
            "::test_the_code_wants_a_saddle_over_30_inches_strictly",
        ),
    ),
    "layout.rules.upslope.NZ_WIDTH": Held(
        "mm",
        tests=(
            "tests/rules/test_upslope.py::test_the_nz_rule_600_mm_or_a_pitch_under_10",
        ),
    ),
    "layout.folding.allowance.FLAT_ENOUGH": Held("°"),
    "layout.folding.allowance.CRUSHED": Held("of the thickness"),
    "layout.folding.allowance.HANDBOOK": Held("of the thickness"),
    "layout.folding.brake.CRUSH_FROM": Held(
        "°", False, (f"{_BENCH}closed_hems_are_crushed_not_swung",)
    ),
    "layout.folding.brake.STEP": Held("°", False),
    "layout.folding.brake.TOUCH": Held(
        "mm",
        False,
        (f"{_BENCH}the_brakes_smallest_flange_is_folded_and_less_is_not",),
    ),
    "layout.folding.fold_file.PLACES": Held(
        "decimals",
        False,
        (
            "tests/oracles/test_fold_readers.py"
            "::test_an_independent_reader_folds_every_file_to_our_folded_form",
        ),
    ),
    "layout.folding.leg.LEAST_STRIP": Held(
        "°", False, (f"{_LEG}a_pocket_that_leaves_a_needle_of_leg_is_refused",)
    ),
    "layout.folding.movement.INTERVAL *": Held(
        "mm", tests=("tests/folding/test_divide.py::test_expansion_joints",)
    ),
    "layout.folding.order.MOST_TURNINGS": Held("turnings", False),
    "layout.folding.proof.LIMIT": Held(
        "mm",
        False,
        (
            "tests/folding/test_proof.py"
            "::test_a_sound_pattern_closes_far_within_the_limit",
            "tests/folding/test_proof.py"
            "::test_any_crease_off_by_a_tenth_of_a_degree_opens_the_piece",
        ),
    ),
    "layout.folding.section.PARALLEL": Held("rad", False),
    "layout.folding.sweep.STRAY": Held(
        "mm", False, (f"{_LEG}a_sweep_is_an_arc_of_the_asked_radius",)
    ),
    "layout.folding.sweep.RELIEF_STOPS": Held(
        "of the turn",
        False,
        (f"{_SEAMS}a_sweep_too_tight_for_the_metal_asks_for_relief_cuts",),
    ),
    "layout.folding.tuck.WIDEST": Held(
        "°", tests=(f"{_LEG}the_second_leg_takes_what_a_wide_pocket_needs",)
    ),
    "layout.families.apron.SEAM_CLEARANCE": Held(
        "mm", False, (f"{_COVER}four_inches_of_metal_lie_on_the_roof",)
    ),
    "layout.families.chimney.REACH": Held("of the radius", False),
    "layout.families.counterflashing.MOST_COURSES": Held("courses"),
    "layout.families.pipe.STRAY": Held(
        "mm",
        False,
        ("tests/folding/test_rolled.py::test_no_chord_strays_from_the_curve",),
    ),
    "layout.kinds.chimney.SHARPEST": Held("°", False),
    "layout.kinds.pipe.STEEPEST": Held("°", False),
    "layout.kinds.pitch_change.LEAST": Held(
        "°",
        False,
        ("tests/families/test_pitch_change.py::test_two_like_pitches_are_a_fault",),
    ),
    "layout.kinds.steps.MOST": Held(
        "courses",
        False,
        (
            "tests/families/test_steps.py"
            "::test_thousands_of_courses_are_a_slip_of_the_unit",
        ),
    ),
}
"""Figure of the code, or several by a star -> its unit and its tests."""


def tests_of(name: str) -> tuple[str, ...]:
    """Every test that holds a number; () where none does."""
    if (held := of_code(name)) is not None:
        printed = (f"{CODE_PUBLISHED}[{name}]",) if held.printed else ()
        return (*printed, *held.tests)
    found = [
        test for wanted, tests in BY_NAME if fnmatchcase(name, wanted) for test in tests
    ]
    return tuple(dict.fromkeys(found))


def of_code(name: str) -> Held | None:
    """The row of a figure of the code, by its whole name or the first star."""
    if name in CODE:
        return CODE[name]
    return next((CODE[star] for star in CODE if fnmatchcase(name, star)), None)
