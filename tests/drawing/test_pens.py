from io import BytesIO
from xml.etree import ElementTree as ET

import pdfplumber
import pypdfium2
import pytest

from layout.drawing.label import draw_label
from layout.drawing.paper import A4, LETTER, paper_named
from layout.drawing.pdf import PdfPen
from layout.drawing.pen import FOLD, NARROW, WIDE, RecordingPen, replay
from layout.drawing.svg import SvgPen
from layout.geometry.point import Point

MM = 72 / 25.4
ADDRESS = "http://shop.example:8000/pieces/1234/"


def scene(pen, paper=LETTER):
    pen.page(paper.width, paper.height)
    pen.path([Point(20, 40), Point(274 - 20, 40)], WIDE)
    pen.path([Point(20, 50), Point(60, 90), Point(20, 90)], FOLD, closed=True, fill=0.5)
    pen.circle(Point(100, 100), 12.5)
    pen.arc(Point(150, 100), 20, 30, 120)
    pen.text(Point(20, 120), "Blank 36 11/16 in", 5.0)
    pen.text(Point(120, 120), "UP 56.3° <&>", 3.5, "middle", 90)
    draw_label(pen, Point(200, 100), 26, ADDRESS)


def pdf():
    pen = PdfPen("Scene")
    scene(pen)
    scene(pen, A4)
    return pen.ink()


def svg():
    pen = SvgPen("Scene <1>", "A few strokes")
    scene(pen)
    return pen.ink()


def test_same_strokes_give_the_same_bytes():
    assert pdf() == pdf()
    assert svg() == svg()


def test_pdf_pages_have_the_size_of_their_paper():
    with pdfplumber.open(BytesIO(pdf())) as opened:
        sizes = [(page.width / MM, page.height / MM) for page in opened.pages]
    # US Letter 8.5 x 11 in (ASME Y14.1 size A), A4 210 x 297 mm (ISO 216).
    assert sizes == [pytest.approx((279.4, 215.9)), pytest.approx((297.0, 210.0))]


def test_a_line_is_as_long_in_the_pdf_as_it_was_drawn():
    with pdfplumber.open(BytesIO(pdf())) as opened:
        line = max(opened.pages[0].lines, key=lambda line: line["width"])
    assert line["width"] / MM == pytest.approx(234.0, abs=1e-3)
    assert line["linewidth"] / MM == pytest.approx(0.5, abs=1e-3)


def test_pdf_words_can_be_found_with_their_fraction():
    with pdfplumber.open(BytesIO(pdf())) as opened:
        assert "36 ¹¹⁄₁₆ in" in opened.pages[0].extract_text()


def test_pdf_fonts_are_embedded():
    with pdfplumber.open(BytesIO(pdf())) as opened:
        fonts = {char["fontname"] for page in opened.pages for char in page.chars}
    assert len(fonts) == 1
    assert fonts.pop().endswith("+IBMPlexSans-Regular")


def test_pdf_asks_the_printer_not_to_scale():
    assert b"/PrintScaling /None" in pdf()


def test_the_label_on_the_page_opens_the_address():
    import zxingcpp

    page = pypdfium2.PdfDocument(pdf())[0]
    found = zxingcpp.read_barcodes(page.render(scale=3).to_pil())
    assert [code.text for code in found] == [ADDRESS]


def test_svg_has_its_size_in_millimetres():
    root = ET.fromstring(svg())
    assert (root.get("width"), root.get("height")) == ("279.4mm", "215.9mm")
    assert root.get("viewBox") == "0 0 279.4 215.9"


def test_svg_has_no_style_for_a_content_policy_to_refuse():
    for element in ET.fromstring(svg()).iter():
        assert "style" not in element.attrib
        assert not element.tag.endswith(("style", "script"))


def test_svg_keeps_words_and_title_whole():
    root = ET.fromstring(svg())
    texts = [text.text for text in root.iter("{http://www.w3.org/2000/svg}text")]
    assert "UP 56.3° <&>" in texts
    assert root.findtext("{http://www.w3.org/2000/svg}title") == "Scene <1>"


def test_a_second_page_is_too_much_for_svg():
    pen = SvgPen("x")
    pen.page(10, 10)
    with pytest.raises(ValueError, match="one page"):
        pen.page(10, 10)


def test_replayed_strokes_are_the_same_strokes():
    first, second = RecordingPen(), RecordingPen()
    scene(first)
    replay(first.pages, second)
    assert second.pages == first.pages


def test_svg_arc_ends_where_it_should():
    pen = SvgPen("arc")
    pen.page(100, 100)
    pen.arc(Point(50, 50), 10, 0, 90, NARROW)
    path = ET.fromstring(pen.ink()).find("{http://www.w3.org/2000/svg}path")
    assert path.get("d") == "M60 50A10 10 0 0 0 50 40"


@pytest.mark.parametrize("name", ["Letter", "A4", " a4 "])
def test_papers_are_known_by_name(name):
    assert paper_named(name).width > paper_named(name).height


def test_an_unknown_paper_is_refused_in_words():
    with pytest.raises(ValueError, match="legal is not a paper here"):
        paper_named("legal")
