"""Whole sets of cut sheets: what a tinner must be able to read, on every page."""

from functools import cache
from io import BytesIO

import pdfplumber
import pypdfium2
import pytest
from hypothesis import given, seed, settings
from hypothesis import strategies as st
from shapely import STRtree
from shapely.geometry import Polygon

from layout.drawing import cautions, lettering
from layout.drawing.about import About
from layout.drawing.cut_sheet import cut_sheets, cut_sheets_pdf
from layout.drawing.details import details, in_detail
from layout.drawing.paper import PAPERS
from layout.drawing.pen import CircleStroke
from tests import sites
from tests.random_sites import square_sites

NAMES = sites.samples()
SETS = [(name, paper) for name in NAMES for paper in PAPERS]
MM = 72 / 25.4

ABOUT = About(
    shop="Our own invented shop",
    job="Job 12, chimney over the kitchen",
    client="Marigold Quill",
    place="4 Invented Lane",
    paper_number="Paper 7",
    day="Wed 25 Nov 2026",
    looks=("Seam height to match: 1 in. Asked by Marigold Quill.",),
    sides="mill finish, mill finish",
)


@cache
def pages(name, paper):
    return cut_sheets(sites.laid(sites.sample(name)), ABOUT, paper)


@cache
def pdf(name, paper):
    return cut_sheets_pdf(sites.laid(sites.sample(name)), ABOUT, paper)


def page_of(name, mark, paper="letter"):
    """The sheet of one piece: the first page that shows its mark large."""
    for page in pages(name, paper):
        if any(t.words == mark and t.height > 7 for t in page.texts()):
            return page
    raise AssertionError(f"no sheet for {mark}")


def words_on(page):
    return " ".join(text.words for text in page.texts())


@pytest.mark.parametrize(("name", "paper"), SETS)
def test_no_words_meet_other_words(name, paper):
    check_no_words_meet(pages(name, paper))


def check_no_words_meet(sheets):
    for number, page in enumerate(sheets, start=1):
        texts = page.texts()
        boxes = [Polygon(text.box()) for text in texts]
        tree = STRtree(boxes)
        for i, box in enumerate(boxes):
            for j in tree.query(box):
                if j > i:
                    shared = box.intersection(boxes[j]).area
                    assert shared < 0.05, (number, texts[i].words, texts[j].words)


@pytest.mark.parametrize(("name", "paper"), SETS)
def test_no_stroke_leaves_the_printed_area(name, paper):
    check_inside(pages(name, paper), paper)


def check_inside(sheets, paper):
    inside = PAPERS[paper].inside.shrunk(-0.6)
    for number, page in enumerate(sheets, start=1):
        for text in page.texts():
            for p in text.box():
                assert inside.left <= p.x <= inside.right, (number, text.words)
                assert inside.bottom <= p.y <= inside.top, (number, text.words)
        for path in page.paths():
            for p in path.points:
                assert inside.left <= p.x <= inside.right, (number, path.line)
                assert inside.bottom <= p.y <= inside.top, (number, path.line)


@seed(20)
@settings(max_examples=12, deadline=None, database=None)
@given(site=square_sites(), paper=st.sampled_from(sorted(PAPERS)))
def test_the_sheets_of_any_site_can_be_read(site, paper):
    sheets = cut_sheets(sites.laid(site), ABOUT, paper)
    check_no_words_meet(sheets)
    check_inside(sheets, paper)


@pytest.mark.parametrize(("name", "paper"), SETS)
def test_no_lettering_is_under_three_millimetres(name, paper):
    for page in pages(name, paper):
        for text in page.texts():
            assert text.height >= lettering.SMALLEST, text.words


@pytest.mark.parametrize(("name", "paper"), SETS)
def test_every_sheet_carries_every_caution(name, paper):
    for page in pages(name, paper):
        words = words_on(page)
        for line in lettering.wrapped(cautions.EVERY, 3.0, PAPERS[paper].inside.width):
            assert line in words


def test_the_cautions_name_every_danger_of_the_trade():
    said = cautions.EVERY.lower()
    for danger in ("height", "cut edges", "coil", "lead", "silica", "hot work",
                   "heat", "wind", "local codes", "licensed practice", "fire",
                   "snow", "structure"):  # fmt: skip
        assert danger in said


@pytest.mark.parametrize(("name", "paper"), SETS)
def test_same_layout_gives_the_same_bytes(name, paper):
    laid = sites.laid(sites.sample(name))
    assert cut_sheets_pdf(laid, ABOUT, paper) == pdf(name, paper)


@pytest.mark.parametrize(("name", "paper"), SETS)
def test_the_pdf_opens_with_every_page_at_its_size(name, paper):
    with pdfplumber.open(BytesIO(pdf(name, paper))) as opened:
        assert len(opened.pages) == len(pages(name, paper))
        for page in opened.pages:
            size = (page.width / MM, page.height / MM)
            assert size == pytest.approx(PAPERS[paper][1:], abs=0.01)


@pytest.mark.parametrize("name", NAMES)
def test_every_piece_has_a_sheet_with_what_the_bench_must_know(name):
    laid = sites.laid(sites.sample(name))
    for piece in laid.pieces:
        said = words_on(page_of(name, piece.mark))
        assert f"MAKE {piece.quantity}" in said
        assert "Weather side up: mill finish" in said
        assert piece.metal in said
        assert "Blank" in said
        assert "Refolded by its own folds" in said
        if piece.hand != "none":
            assert piece.hand.upper() in said


@pytest.mark.parametrize("name", NAMES)
def test_hands_are_written_large(name):
    laid = sites.laid(sites.sample(name))
    for piece in laid.pieces:
        page = page_of(name, piece.mark)
        large = [text.words for text in page.texts() if text.height >= 9]
        assert (piece.hand.upper() in large) == (piece.hand != "none")


@pytest.mark.parametrize("name", NAMES)
def test_every_fold_has_its_number_in_a_circle_with_direction_and_angle(name):
    laid = sites.laid(sites.sample(name))
    for piece in laid.pieces:
        page = page_of(name, piece.mark)
        circles = [s for s in page.strokes if isinstance(s, CircleStroke)]
        found = details(piece)
        for fold in piece.folds:
            if in_detail(found, fold):
                continue
            ringed = [
                text
                for text in page.texts()
                if text.words == str(fold.order)
                and any(c.centre.minus(text.at).length() < 3 for c in circles)
            ]
            assert ringed, f"{piece.mark} fold {fold.order}"
        said = words_on(page)
        for fold in piece.folds:
            if fold.where == "brake":
                assert f"{fold.direction.upper()} " in said


@pytest.mark.parametrize("name", NAMES)
def test_every_mark_is_in_the_marks_table(name):
    from layout.drawing import tape

    laid = sites.laid(sites.sample(name))
    every = pages(name, "letter")
    for piece in laid.pieces:
        tables = [
            p
            for p in every
            if f"{piece.mark} marks" in words_on(p).split(" · ")
            or any(t.words == f"{piece.mark} marks" for t in p.texts())
        ]
        said = [text.words for page in tables for text in page.texts()]
        for mark in piece.marks:
            figure = tape.figure(mark.distance, laid.units)
            if mark.of.startswith("fold "):
                assert f"{mark.edge} {figure}" in said, (piece.mark, mark)
            else:
                assert figure in said, (piece.mark, mark)


@pytest.mark.parametrize("name", NAMES)
def test_figures_to_scribe_from_are_five_millimetres_high(name):
    from layout.drawing import tape

    laid = sites.laid(sites.sample(name))
    for piece in laid.pieces:
        texts = page_of(name, piece.mark).texts()
        width = tape.figure(piece.pattern.size()[0], laid.units)
        assert any(t.words == width and t.height >= 5 for t in texts), piece.mark


def test_the_cover_names_job_client_looks_pieces_and_findings():
    name = "saddle-copper-in"
    laid = sites.laid(sites.sample(name))
    first = pages(name, "letter")
    said = " ".join(words_on(page) for page in first[:4])
    for words in (ABOUT.job, ABOUT.client, ABOUT.place, "Paper 7", "Looks to keep"):
        assert words in said
    for piece in laid.pieces:
        assert any(t.words == piece.mark for t in first[0].texts())
    assert len(laid.findings) <= said.count("Source:")


def test_each_label_opens_its_own_piece():
    import zxingcpp

    name = "flat-back-zinc-mm"
    laid = sites.laid(sites.sample(name))
    addresses = {
        piece.mark: f"http://shop.example:8000/pieces/{100 + i}/"
        for i, piece in enumerate(laid.pieces)
    }
    ink = cut_sheets_pdf(laid, About(labels=addresses), "a4")
    found = set()
    document = pypdfium2.PdfDocument(ink)
    for page in document:
        codes = zxingcpp.read_barcodes(page.render(scale=2.5).to_pil())
        found |= {code.text for code in codes}
    assert found == set(addresses.values())


def test_words_from_outside_cannot_break_a_sheet():
    laid = sites.laid_with({"back": "flat"})
    wild = About(
        job="x" * 400,
        client="漢字 \0 <b>&amp;</b>\n" * 9,
        place="y " * 300,
        looks=("z" * 900, "words " * 400),
        sides="s" * 200,
        shop="w" * 300,
    )
    for page in cut_sheets(laid, wild, "a4"):
        for text in page.texts():
            for p in text.box():
                assert 9 <= p.x <= 288 and 9 <= p.y <= 201, text.words
