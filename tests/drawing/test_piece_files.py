"""SVG and DXF of a piece at true scale."""

import io
from xml.etree import ElementTree as ET

import ezdxf
import pytest

from layout.drawing import tape
from layout.drawing.piece_files import flat_svg, piece_dxf, piece_svg
from layout.drawing.running import Dimension, length_of, room_of, thinned
from tests import sites

SVG = "{http://www.w3.org/2000/svg}"
EVERY = [
    (name, piece.mark)
    for name in sites.samples()
    for piece in sites.laid(sites.sample(name)).pieces
]


def piece_of(name, mark):
    return sites.piece(sites.laid(sites.sample(name)), mark)


def dxf(piece):
    return ezdxf.read(io.StringIO(piece_dxf(piece).decode()))


@pytest.mark.parametrize(("name", "mark"), EVERY)
def test_the_svg_is_as_large_as_the_metal(name, mark):
    piece = piece_of(name, mark)
    root = ET.fromstring(piece_svg(piece))
    width, length = piece.pattern.size()
    box = [float(value) for value in root.get("viewBox").split()]
    assert root.get("width") == f"{box[2]:g}mm" or root.get("width").endswith("mm")
    assert float(root.get("width")[:-2]) == box[2]
    outline = max(
        (
            [tuple(map(float, p.split(","))) for p in polygon.get("points").split()]
            for polygon in root.iter(f"{SVG}polygon")
            if polygon.get("stroke-width") == "0.5"
        ),
        key=len,
    )
    xs, ys = zip(*outline, strict=True)
    assert max(xs) - min(xs) == pytest.approx(width, abs=1e-3)
    assert max(ys) - min(ys) == pytest.approx(length, abs=1e-3)


@pytest.mark.parametrize(("name", "mark"), EVERY)
def test_the_dxf_is_sound_with_units_and_layers(name, mark):
    document = dxf(piece_of(name, mark))
    assert document.dxfversion == "AC1024"  # R2010
    assert document.header["$INSUNITS"] == 4  # millimetres
    layers = {layer.dxf.name for layer in document.layers}
    assert {"CUT", "FOLD_UP", "FOLD_DOWN", "MARK", "TEXT"} <= layers
    assert not document.audit().errors


@pytest.mark.parametrize(("name", "mark"), EVERY)
def test_the_dxf_holds_the_outline_and_every_fold(name, mark):
    piece = piece_of(name, mark)
    space = dxf(piece).modelspace()
    (outline,) = space.query('LWPOLYLINE[layer=="CUT"]')
    assert outline.closed
    places = [(p.x, p.y) for p in piece.pattern.outline]
    drawn = [(x, y) for x, y, *_ in outline.get_points()]
    assert len(drawn) == len(places)
    for one, two in zip(drawn, places, strict=True):
        assert one == pytest.approx(two, abs=1e-6)
    for layer, direction in (("FOLD_UP", "up"), ("FOLD_DOWN", "down")):
        lines = space.query(f'LINE[layer=="{layer}"]')
        assert len(lines) == sum(f.direction == direction for f in piece.folds)


def test_relief_cuts_are_cut_lines_of_both_drawings():
    laid = sites.laid_with({"build.sweep_radius": "1 1/4"})
    piece = sites.piece(laid, "PL")
    cuts = piece.pattern.reliefs
    assert cuts
    drawn = [
        [(x, y) for x, y, *_ in line.get_points()]
        for line in dxf(piece).modelspace().query("LWPOLYLINE[layer=='CUT']")
        if not line.closed
    ]
    assert len(drawn) == len(cuts)
    for line, cut in zip(drawn, cuts, strict=True):
        for place, true in zip(line, cut, strict=True):
            assert place == pytest.approx(tuple(true))
    lines = {
        element.get("points")
        for element in ET.fromstring(piece_svg(piece)).iter(SVG + "polyline")
        if element.get("stroke-width") == "0.5"
    }
    assert len(lines) == len(cuts)


def test_same_piece_same_bytes():
    piece = sites.piece(sites.laid_with(), "BL")
    assert piece_svg(piece) == piece_svg(piece)
    assert piece_dxf(piece) == piece_dxf(piece)
    assert flat_svg(piece, "in") == flat_svg(piece, "in")


def test_the_drawing_for_the_screen_has_direction_and_angle_of_each_fold():
    piece = sites.piece(sites.laid_with({"back": "flat"}), "A")
    texts = [t.text for t in ET.fromstring(flat_svg(piece, "in")).iter(f"{SVG}text")]
    for fold in piece.folds:
        arrow = "↑" if fold.direction == "up" else "↓"
        assert any(
            (t or "").startswith(f"{arrow} {fold.direction.upper()}") for t in texts
        )


@pytest.mark.parametrize("name", sites.samples())
@pytest.mark.parametrize(("width", "height"), [(180, 130), (110, 110), (90, 60)])
def test_a_flat_with_more_figures_than_room_tells_the_folds(name, width, height):
    laid = sites.laid(sites.sample(name))
    for piece in laid.pieces:
        root = ET.fromstring(flat_svg(piece, laid.units, width, height))
        said = "".join(root.itertext())
        for size in piece.pattern.size():
            assert tape.figure(size, laid.units).split()[0] in said


def test_figures_are_thinned_from_those_without_folds():
    row = [Dimension(float(i), str(i), (i,) if i in (3, 6) else ()) for i in range(9)]
    whole = length_of(row, 3.0)
    assert thinned(row, 3.0, whole) == row
    less = whole - 3 * room_of(row[1], 3.0)
    assert [it.distance for it in thinned(row, 3.0, less)] == [0, 1, 2, 3, 6, 8]
    few = [it.distance for it in thinned(row, 3.0, length_of([row[0], row[3]], 3.0))]
    assert few == [0, 8]
