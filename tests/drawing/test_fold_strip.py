"""The fold order as a strip, the closed seam's layers, relief cuts, marks."""

from dataclasses import replace

import pytest
from shapely import STRtree
from shapely.geometry import LineString, Polygon

from layout import run
from layout.drawing.brake_view import LEAF_TONE, TOOLS_TONE
from layout.drawing.cut_sheet import cut_sheets, cut_sheets_pdf
from layout.drawing.details import details
from layout.drawing.fold_strip import cells_of, lines_of
from layout.drawing.in_brake import Chain, lain, places
from layout.drawing.paper import PAPERS, Box
from layout.drawing.pen import NARROW, WIDE, CircleStroke, RecordingPen
from layout.drawing.seam_view import ClosedSeam, layers_of, seams_of
from layout.drawing.section import section
from layout.drawing.swept import sweep_words
from layout.folding.seam import Seam
from layout.geometry.point import Point
from layout.rules.seams import layer_count
from tests import elsewhere, sites

PROFILE = {
    "format": "seambook.site/1",
    "units": "mm",
    "profile": {
        "length": "2000",
        "section": [
            {"hem": "13", "kind": "closed", "direction": "down"},
            {"leg": "28"},
            {"fold": "55", "direction": "down"},
            {"leg": "66"},
            {"fold": "90", "direction": "up"},
            {"leg": "140"},
        ],
        "far_end": None,
        "radius": "1.75",
        "faces": "outside",
    },
    "metal": "zinc 0.7 mm",
}


def record(name):
    if name == "profile":
        return PROFILE
    known = elsewhere.names()
    return elsewhere.record(name) if name in known else sites.sample(name)


NAMES = ["profile", *sites.samples(), *elsewhere.names()]
EVERY = [
    (name, piece.mark) for name in NAMES for piece in sites.laid(record(name)).pieces
]
# Tight enough that copper would tear: less than w / e + w (sweep.smallest_radius).
TIGHT = {"build.sweep_radius": "1 1/4"}


def piece_of(name, mark):
    return sites.piece(sites.laid(record(name)), mark)


def strip_pages(name, paper="letter"):
    pages = cut_sheets(sites.laid(record(name)), paper=paper)
    return [p for p in pages if any("fold order" in t.words for t in p.texts())]


def drawn(laid, piece):
    """Every cell on a page of its own."""
    pen = RecordingPen()
    for cell in cells_of(laid, piece):
        pen.page(62, 60)
        cell(pen, Box(0, 0, 62, 60))
    return pen.pages


# --- the steps -----------------------------------------------------------------


@pytest.mark.parametrize(("name", "mark"), EVERY)
def test_there_is_a_step_for_every_fold_of_the_brake(name, mark):
    piece = piece_of(name, mark)
    made = [fold for fold in piece.folds if fold.where == "brake"]
    assert [step.fold for step in lain(piece)] == made


@pytest.mark.parametrize(("name", "mark"), EVERY)
def test_a_step_lies_as_the_planner_left_it(name, mark):
    for step in lain(piece_of(name, mark)):
        kept = step.fold.step
        back = [Point(-p.x, p.y) for p in places(step.back.stretches())]
        front = places(step.front.stretches())
        after = places(step.front.stretches(step.fold.angle))
        assert step.edge
        for mine, true in (
            (back, kept.back),
            (front, kept.before),
            (after, kept.after),
        ):
            shape = [p for i, p in enumerate(true) if not i or p != true[i - 1]]
            assert len(mine) == len(shape)
            gaps = [a.minus(b).length() for a, b in zip(mine, shape, strict=True)]
            assert max(gaps) < 0.01


def whole(step):
    """The step's section when its fold is done: lengths, and bends weather up."""
    sign = -1 if step.fold.over else 1
    lengths = [*reversed(step.back.lengths), *step.front.lengths]
    bends = [*reversed(step.back.turns[:-1]), step.fold.angle, *step.front.turns[:-1]]
    return lengths, [sign * bend for bend in bends]


def is_one_section(piece):
    along = [fold.line[1].minus(fold.line[0]).unit() for fold in piece.folds]
    level = all(abs(along[0].cross(way)) < 1e-6 for way in along)
    return level and all(fold.where == "brake" for fold in piece.folds)


ONE = [
    (name, mark)
    for name, mark in EVERY
    if piece_of(name, mark).folds and is_one_section(piece_of(name, mark))
]


def test_several_kinds_of_piece_are_folded_in_one_section():
    assert len({name for name, _ in ONE}) >= 3
    assert ("profile", "P") in ONE


@pytest.mark.parametrize(("name", "mark"), ONE)
def test_the_last_step_is_the_folded_section(name, mark):
    piece = piece_of(name, mark)
    lengths, bends = whole(lain(piece)[-1])
    made = section(piece)
    legs = [leg.length for leg in made.legs]
    angles = [angle for angle, _ in made.bends]
    ways = ((lengths, bends), (lengths[::-1], bends[::-1]))
    assert any(
        ran == pytest.approx(legs, abs=0.01) and bent == pytest.approx(angles, abs=1e-6)
        for ran, bent in ways
    )


def test_turning_the_sheet_is_said():
    steps = lain(piece_of("profile", "P"))
    turned = [step.says() for step in steps]
    overs = [step.fold.over for step in steps]
    assert turned[0] == "TURN OVER" and overs[0]
    for before, step in zip(steps, steps[1:], strict=False):
        assert ("OVER" in step.says()) == (step.fold.over != before.fold.over)
        assert ("ROUND" in step.says()) == (step.edge != before.edge)


def test_a_square_u_is_turned_round_between_its_two_corners():
    steps = lain(piece_of("saddle-copper-in", "PL"))
    edges = [step.edge for step in steps]
    assert len(set(edges)) > 1
    for before, step in zip(steps, steps[1:], strict=False):
        if step.edge != before.edge:
            assert "ROUND" in step.says()


def test_an_older_layout_without_sections_is_listed_in_words():
    laid = sites.laid(PROFILE)
    piece = laid.pieces[0]
    old = replace(piece, folds=tuple(replace(f, step=None) for f in piece.folds))
    assert cells_of(laid, old) == []
    said = " ".join(lines_of(laid, old))
    for fold in old.folds:
        assert f"{fold.order} " in said


def test_layers_are_drawn_apart_and_long_runs_shortened():
    chain = Chain((30.0, 20.0), (180.0, 0.0))
    first, second = chain.stretches(0.0, 2.0, 25.0)
    assert first == (Point(0, 0), Point(25, 0), True)
    assert second.start == Point(25, 2) and not second.cut
    assert (second.end.x, second.end.y) == pytest.approx((5, 2))


# --- on paper --------------------------------------------------------------------


@pytest.mark.parametrize(("name", "mark"), EVERY)
def test_a_steps_picture_has_its_number_direction_angle_and_tools(name, mark):
    laid, piece = sites.laid(record(name)), piece_of(name, mark)
    pages = drawn(laid, piece)
    for step, page in zip(lain(piece), pages, strict=False):
        words = [text.words for text in page.texts()]
        assert str(step.fold.order) in words
        assert step.says() in words
        head = next(w for w in words if step.fold.direction.upper() in w)
        assert f"{round(step.fold.angle, 1):g}°" in head
        assert any(isinstance(s, CircleStroke) for s in page.strokes)
        tones = {path.fill for path in page.paths() if path.fill}
        assert {TOOLS_TONE, LEAF_TONE} <= tones


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", NAMES)
def test_no_words_of_a_strip_meet_or_leave_the_sheet(name, paper):
    inside = PAPERS[paper].inside.shrunk(-0.6)
    for page in strip_pages(name, paper):
        texts = page.texts()
        boxes = [Polygon(text.box()) for text in texts]
        tree = STRtree(boxes)
        for i, box in enumerate(boxes):
            assert texts[i].height >= 3.0
            x0, y0, x1, y1 = box.bounds
            assert inside.left <= x0 and x1 <= inside.right, texts[i].words
            assert inside.bottom <= y0 and y1 <= inside.top, texts[i].words
            for j in tree.query(box):
                if j > i:
                    shared = box.intersection(boxes[j]).area
                    assert shared < 0.05, (texts[i].words, texts[j].words)


@pytest.mark.parametrize("name", NAMES)
def test_every_piece_has_all_its_steps_on_paper(name):
    laid = sites.laid(record(name))
    said = [(page, text.words) for page in strip_pages(name) for text in page.texts()]
    for piece in laid.pieces:
        if lain(piece) or lines_of(laid, piece):
            assert f"{piece.mark} fold order" in [words for _, words in said]
    ends = ("edge on the leaf",)
    steps = sum(len(lain(piece)) for piece in laid.pieces)
    assert sum(words.endswith(ends) for _, words in said) == steps


def test_what_is_left_to_hand_tools_is_listed_with_why():
    laid = sites.laid(sites.sample("saddle-copper-in"))
    for piece in laid.pieces:
        said = " ".join(lines_of(laid, piece))
        for fold in piece.folds:
            if fold.where == "hand":
                assert f"{fold.order} " in said and fold.why in said
                assert fold.frees in said
        if piece.pattern.roof_lines:
            assert "On the roof" in said


def test_a_strip_that_fits_stands_under_its_marks():
    pages = strip_pages("profile")
    assert len(pages) == 1
    assert any(text.words == "P marks" for text in pages[0].texts())


def test_the_same_set_gives_the_same_bytes():
    laid = sites.laid(PROFILE)
    assert cut_sheets_pdf(laid) == cut_sheets_pdf(laid)


# --- the closed seam -----------------------------------------------------------


@pytest.mark.parametrize("fold", ["single", "double"])
@pytest.mark.parametrize("receiving", [False, True])
@pytest.mark.parametrize("covering", [False, True])
def test_as_many_layers_are_drawn_as_the_rule_counts(fold, receiving, covering):
    seam = Seam(fold, 25.0, 10.0)
    closed = ClosedSeam(seam, 0.7, receiving, covering)
    lines = [LineString(line) for line in layers_of(closed, 1.2, 1.0)]
    across = LineString([(-50, 20.0), (50, 20.0)])  # half way up the turn
    met = sum(len(getattr(line.intersection(across), "geoms", [0]))
              for line in lines if line.intersects(across))  # fmt: skip
    count = layer_count(seam.turns("receiving"), receiving)
    count += layer_count(seam.turns("covering"), covering)
    assert met == closed.layers() == count


@pytest.mark.parametrize("fold", ["single", "double"])
@pytest.mark.parametrize("tucked", [False, True])
def test_no_layer_of_a_closed_seam_crosses_another(fold, tucked):
    closed = ClosedSeam(Seam(fold, 25.0, 10.0), 0.7, tucked, tucked)
    lines = [LineString(line) for line in layers_of(closed, 1.2, 1.0)]
    for i, one in enumerate(lines):
        assert one.is_simple
        for two in lines[i + 1 :]:
            assert one.distance(two) > 1.2 - 1e-9


def test_a_double_fold_has_five_layers_and_a_single_one_three():
    # Two legs, one and two turns (zinc producers' standing seam guide, legs of
    # 35 and 45 for 25 mm: trade value 2.22).
    assert ClosedSeam(Seam("double", 25, 10), 0.7).layers() == 5
    assert ClosedSeam(Seam("single", 25, 10), 0.7).layers() == 3


@pytest.mark.parametrize("name", sites.samples())
def test_the_seam_drawn_is_the_roofs_own(name):
    laid = sites.laid(sites.sample(name))
    own = laid.site["roof"]["seam"]
    drawn = [closed for piece in laid.pieces for closed in seams_of(laid, piece)]
    assert drawn
    for closed in drawn:
        assert closed.seam.fold == own["fold"]
        assert (closed.seam.height, closed.seam.turn) == (own["height"], own["turn"])


def test_two_unlike_turns_are_drawn_as_wide_as_they_are():
    # Legs 1 1/2 and 1 3/4 in on a seam of 1 in: turns 1/2 and 1/4 (trade value 2.21).
    laid = sites.laid_with({"roof.seam.turn": "1/2", "roof.seam.first_turn": "1/4"})
    piece = sites.piece(laid, "PL")
    (closed, *_) = seams_of(laid, piece)
    _, covering = layers_of(closed, 1.2, 1.0)
    assert covering[-1].y - covering[-2].y == pytest.approx(0.25 * 25.4)
    receiving = next(layers_of(closed, 1.2, 1.0))
    assert receiving[-2].y - receiving[-1].y == pytest.approx(0.5 * 25.4 - 1.2)
    said = [t.words for page in drawn(laid, piece) for t in page.texts()]
    assert any("turn 1/2 in, first 1/4 in" in words for words in said)


def test_a_pocket_is_shown_where_a_piece_has_one():
    laid = sites.laid(sites.sample("saddle-copper-in"))
    plain, thick = seams_of(laid, sites.piece(laid, "PL"))
    assert (plain.is_at_pocket(), thick.is_at_pocket()) == (False, True)
    said = [t.words for page in drawn(laid, sites.piece(laid, "PL"))
            for t in page.texts()]  # fmt: skip
    assert any(f"{plain.layers()} layers" in words for words in said)
    assert any(f"{thick.layers()} layers" in words for words in said)
    assert any("x true" in words for words in said)


def test_a_lap_is_no_seam():
    laid = sites.laid(sites.sample("saddle-copper-in"))
    assert seams_of(laid, sites.piece(laid, "A")) == []


# --- sweeps ----------------------------------------------------------------------


def test_relief_cuts_are_drawn_full_size_with_a_word():
    laid = sites.laid_with(TIGHT)
    piece = sites.piece(laid, "PL")
    cuts = [cut for sweep in piece.pattern.sweeps for cut in sweep.reliefs]
    assert cuts and details(piece)
    pages = [
        p
        for p in cut_sheets(laid)
        if any(t.words.startswith("PL-T") and t.height == 7.0 for t in p.texts())
    ]
    lengths = [
        path.points[0].minus(path.points[-1]).length()
        for page in pages
        for path in page.paths(WIDE)
        if len(path.points) == 2
    ]
    for cut in cuts:
        true = cut[0].minus(cut[-1]).length()
        assert min(abs(length - true) for length in lengths) < 1e-6
    said = [text.words for page in pages for text in page.texts()]
    assert any(words in ("relief cut", "relief cuts") for words in said)


def test_the_strain_stands_on_template_and_sheet():
    laid = sites.laid_with()
    piece = sites.piece(laid, "PL")
    # e = w / (r - w), r = w / e + w: fold geometry, worked by hand for a turn of
    # 3/8 on 2 3/4 in: 0.375 / 2.375 = 15.8 %.
    assert "strains 16 %" in sweep_words(piece.pattern.sweeps[0], "in")
    said = {
        page_words[:40]
        for page in cut_sheets(laid)
        for page_words in [" ".join(t.words for t in page.texts())]
        if "strains 16 %" in page_words and "allows radius" in page_words
    }
    assert len(said) >= 3  # piece, fold order, template


# --- marks -----------------------------------------------------------------------


@pytest.mark.parametrize("name", NAMES)
def test_large_figures_stay_clear_of_the_line_under_their_head(name):
    for page in cut_sheets(sites.laid(record(name))):
        texts = page.texts()
        if not any(t.words.endswith(" marks") for t in texts):
            continue
        rules = [
            LineString(path.points)
            for path in page.paths(NARROW)
            if len(path.points) == 2 and path.points[0].y == path.points[1].y
        ]
        for text in texts:
            if text.height == 5.0 and "fold order" not in text.words:
                box = Polygon(text.box())
                gaps = [line.distance(box) for line in rules]
                assert min(gaps) > 0.7, text.words


def test_the_marks_say_which_face_is_scribed_and_how_flats_are_made():
    plain = sites.laid(PROFILE)
    allowed = run.lay_out(PROFILE, allowance="din6935")
    for laid, said in ((plain, False), (allowed, True)):
        words = " ".join(t.words for page in cut_sheets(laid) for t in page.texts())
        assert "Scribe on the weather side" in words
        assert ("DIN 6935" in words) == said
        assert ("inside radius 1.75 mm" in words) == said
