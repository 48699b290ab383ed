from math import hypot

import pytest

from layout.drawing.section import _places, section
from layout.folding import proof
from layout.geometry.outline import triangles
from tests import sites

EVERY = [
    (name, piece.mark)
    for name in sites.samples()
    for piece in sites.laid(sites.sample(name)).pieces
]


def face_at(pattern, place):
    """The face of the flat that holds a place, by its triangles."""
    for i, face in enumerate(pattern.faces):
        for a, b, c in triangles(pattern.polygon(face)):
            turns = [
                q.minus(p).cross(place.minus(p)) for p, q in ((a, b), (b, c), (c, a))
            ]
            if min(turns) > -1e-6:
                return i
    raise AssertionError(f"no face at {place}")


@pytest.mark.parametrize(("name", "mark"), EVERY)
def test_a_section_is_as_wide_as_the_folded_piece(name, mark):
    piece = sites.piece(sites.laid(sites.sample(name)), mark)
    made = section(piece)
    end = made.start.plus(made.along, made.length())
    inside = made.start.plus(made.along, 0.01), end.plus(made.along, -0.01)
    patches = proof.refold(piece.pattern)
    a, b = (proof.land(patches, face_at(piece.pattern, p), p) for p in inside)
    points, _ = _places(made, 0.0)
    drawn = hypot(points[-1].x - points[0].x, points[-1].y - points[0].y)
    assert drawn == pytest.approx(a.minus(b).length(), abs=0.03)


@pytest.mark.parametrize(("name", "mark"), EVERY)
def test_a_section_has_a_bend_between_any_two_legs(name, mark):
    made = section(sites.piece(sites.laid(sites.sample(name)), mark))
    assert len(made.legs) == len(made.bends) + 1
    assert all(leg.length > 0 for leg in made.legs)


def test_the_aprons_section_is_cut_across_hem_and_upstand():
    laid = sites.laid_with()
    made = section(sites.piece(laid, "A"))
    assert [leg.role for leg in made.legs] == ["hem", "roof", "wall"]
    # 90 - pitch at the front of a chimney (geometry of roof and walls): 7:12.
    assert [round(angle, 3) for angle, _ in made.bends] == [-180.0, 59.744]
