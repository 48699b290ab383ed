"""Full-size templates: true scale, tiled, and placed by a tape."""

from io import BytesIO

import pdfplumber
import pytest

from layout.drawing.cut_sheet import cut_sheets, cut_sheets_pdf
from layout.drawing.details import details
from layout.drawing.paper import Box
from layout.drawing.pen import WIDE
from layout.drawing.template import OVERLAP, REGISTER, registers, tiles
from tests import sites

MM = 72 / 25.4


def templates(laid, paper="letter"):
    return [
        page
        for page in cut_sheets(laid, paper=paper)
        if any("1:1, print at 100 %" in text.words for text in page.texts())
    ]


@pytest.mark.parametrize("name", sites.samples())
def test_every_sweep_has_its_template(name):
    laid = sites.laid(sites.sample(name))
    asked = sum(len(piece.pattern.sweeps) for piece in laid.pieces)
    names = {
        text.words.split(",")[0].split(" ")[0]
        for page in templates(laid)
        for text in page.texts()
        if text.height == 7.0
    }
    assert len(names) == asked


def test_a_template_has_bars_of_100_mm_and_4_in():
    ink = cut_sheets_pdf(sites.laid_with())
    with pdfplumber.open(BytesIO(ink)) as opened:
        pages = [p for p in opened.pages if "measure: 100 mm" in p.extract_text()]
        assert pages
        for page in pages:
            lengths = [round(line["width"] / MM, 3) for line in page.lines]
            assert 100.0 in lengths
            assert 101.6 in lengths  # 4 in of 25.4 mm exactly


def test_a_fold_is_as_long_on_its_template_as_in_the_metal():
    laid = sites.laid_with()
    piece = sites.piece(laid, "PL")
    pocket = next(fold for fold in piece.folds if fold.what == "pocket")
    a, b = pocket.line
    ink = cut_sheets_pdf(laid)
    with pdfplumber.open(BytesIO(ink)) as opened:
        page = next(p for p in opened.pages if p.extract_text().startswith("PL-T1"))
        lengths = [
            (line["width"] ** 2 + line["height"] ** 2) ** 0.5 / MM
            for line in page.lines
        ]
    true = b.minus(a).length()
    assert min(abs(length - true) for length in lengths) < 0.01


def test_the_outline_in_a_template_is_the_pieces_outline():
    laid = sites.laid_with()
    piece = sites.piece(laid, "PL")
    page = next(
        p
        for p in templates(laid)
        if any(t.words.startswith("PL-T1") for t in p.texts())
    )
    drawn = [
        b.minus(a).length()
        for path in page.paths(WIDE)
        for a, b in zip(path.points, path.points[1:], strict=False)
    ]
    ring = piece.pattern.outline
    true = [
        b.minus(a).length() for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)
    ]
    whole = [size for size in drawn if any(abs(size - t) < 1e-6 for t in true)]
    assert len(whole) >= len(drawn) - 2  # all but where the sheet's edge cuts it


@pytest.mark.parametrize("size", [(100, 80), (400, 90), (700, 500)])
def test_tiles_cover_the_detail_and_share_their_edges(size):
    box = Box(10, 20, 10 + size[0], 20 + size[1])
    made = list(tiles(box, 250, 140))
    assert all(t.box.width <= 250 + 1e-9 and t.box.height <= 140 + 1e-9 for t in made)
    assert min(t.box.left for t in made) == box.left
    assert max(t.box.right for t in made) == pytest.approx(box.right)
    assert max(t.box.top for t in made) == pytest.approx(box.top)
    for one in made:
        for two in made:
            if two.row == one.row and two.column == one.column + 1:
                assert one.box.right - two.box.left == pytest.approx(OVERLAP)


def test_joined_sheets_have_their_crosses_on_the_same_places():
    laid = sites.laid_with({"build.sweep_radius": "7", "walls.upstand_side": "16",
                            "walls.upstand_back": "16", "walls.reglet": "18",
                            "roof.above": "40"})  # fmt: skip
    tiled = [
        page
        for page in templates(laid)
        if any(t.height == 7.0 and " A1" in t.words for t in page.texts())
    ]
    assert tiled
    for page in tiled:
        crosses = [path for path in page.paths(REGISTER) if len(path.points) == 2]
        short = [p for p in crosses if p.points[0].minus(p.points[1]).length() < 9]
        assert len(short) >= 4


@pytest.mark.parametrize("name", sites.samples())
def test_each_template_is_laid_on_by_two_places_of_the_blank(name):
    for piece in sites.laid(sites.sample(name)).pieces:
        for detail in details(piece):
            places = registers(piece, detail)
            assert len(places) == 2
            assert places[0].minus(places[1]).length() > 25
            assert all(detail.box.shrunk(-1e-3).left <= p.x for p in places)
