"""The folded view: nearer faces are inked after those they cover."""

import pytest

from layout.drawing.folded_view import draw_folded, eye_for
from layout.drawing.key_plan import draw_key_plan
from layout.drawing.paper import Box
from layout.drawing.pen import RecordingPen
from layout.geometry.space import Vec
from tests import sites

ROOM = Box(10, 10, 90, 70)
EVERY = [
    (name, piece.mark)
    for name in sites.samples()
    for piece in sites.laid(sites.sample(name)).pieces
]


@pytest.mark.parametrize(("name", "mark"), EVERY)
def test_the_folded_piece_lies_inside_its_room(name, mark):
    laid = sites.laid(sites.sample(name))
    pen = RecordingPen()
    pen.page(100, 80)
    draw_folded(pen, sites.piece(laid, mark), laid, ROOM)
    draw_key_plan(pen, laid, ROOM, mark)
    for path in pen.pages[0].paths():
        for p in path.points:
            assert ROOM.left - 1e-6 <= p.x <= ROOM.right + 1e-6
            assert ROOM.bottom - 1e-6 <= p.y <= ROOM.top + 1e-6


def test_front_pieces_are_seen_from_the_eave_and_back_pieces_from_the_ridge():
    laid = sites.laid_with({"back": "flat"})
    assert eye_for(sites.piece(laid, "A"), laid).towards.y < 0
    assert eye_for(sites.piece(laid, "B"), laid).towards.y > 0
    assert eye_for(sites.piece(laid, "PL"), laid).towards.x < 0
    assert eye_for(sites.piece(laid, "PR"), laid).towards.x > 0


@pytest.mark.parametrize("pitch", ["2:12", "8:12", "18:12"])
def test_the_eye_is_over_the_roof_from_every_side(pitch):
    laid = sites.laid_with({"back": "flat", "pitch": pitch})
    for piece in laid.pieces:
        # The weather side of metal on the roof faces the eye.
        assert eye_for(piece, laid).towards.z > 0.05, piece.mark


def test_the_eye_is_upright_over_the_roof():
    laid = sites.laid_with()
    eye = eye_for(sites.piece(laid, "A"), laid)
    plumb = sites.plumb(laid.pitch)
    assert eye.up.dot(plumb) > 0.8
    assert abs(eye.right.dot(plumb)) < 1e-9
    assert abs(eye.right.dot(eye.towards)) < 1e-9


def test_the_apron_upstand_is_inked_over_the_front_wall():
    laid = sites.laid_with()
    pen = RecordingPen()
    pen.page(100, 80)
    draw_folded(pen, sites.piece(laid, "A"), laid, ROOM)
    fills = [path.fill for path in pen.pages[0].paths()]
    assert fills.index(1.0) > fills.index(0.93)
    assert Vec(0, 0, 1).dot(eye_for(sites.piece(laid, "A"), laid).towards) > 0
