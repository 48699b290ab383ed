"""Pipe collars: plumb or leaning, round or conical."""

from __future__ import annotations

from math import cos, pi, radians, sin

import pytest

from layout.families.pipe import Pipe, flange, sleeve
from layout.faults import BadRecord, CannotBuild
from layout.geometry import outline
from layout.geometry.point import Point
from layout.geometry.space import Vec
from tests import elsewhere, sites

Changes = dict[str, object]


def plumb_axis(pitch: float, lean: float, towards: float) -> Vec:
    """Up the pipe in the roof's frame, by turning plumb about level lines."""
    a = radians(pitch)
    plumb, level = Vec(0, sin(a), cos(a)), Vec(0, cos(a), -sin(a))
    heading = level.turned(plumb, -towards)
    return plumb.turned(plumb.cross(heading), lean)


@pytest.mark.parametrize(
    ("lean", "towards"), [(0, 0), (10, 0), (10, 180), (15, 90), (15, 270), (25, 215)]
)
def test_every_place_of_the_hole_lies_on_the_pipe(lean: float, towards: float) -> None:
    pipe = Pipe(100, 150, 80, 0, 30, lean=lean, lean_towards=towards)
    axis = plumb_axis(30, lean, towards)
    hole = flange(pipe).pattern.outlines[1]
    x0, y0, x1, y1 = outline.bounds(hole)
    # The hole is an ellipse about the place where the axis meets the roof.
    middle = Point((x0 + x1) / 2, (y0 + y1) / 2)
    for p in hole:
        arm = Vec(p.x - middle.x, p.y - middle.y, 0)
        off = arm.plus(axis, -arm.dot(axis)).length()
        assert off == pytest.approx(50, abs=0.03)


def test_a_pipe_square_to_the_roof_has_a_straight_foot() -> None:
    # Leaning down the slope by the pitch, it stands square to the roof.
    pipe = Pipe(100, 150, 80, 0, 30, lean=30, lean_towards=180)
    assert pipe.tilt == pytest.approx(0, abs=1e-6)
    blank = sleeve(pipe).pattern
    assert blank.size() == pytest.approx((100 * pi, 150))
    assert blank.area() == pytest.approx(100 * pi * 150)


def test_a_lean_up_or_down_the_slope_adds_to_the_pitch() -> None:
    assert Pipe(100, 150, 80, 0, 30, lean=10).tilt == pytest.approx(40)
    down = Pipe(100, 150, 80, 0, 30, lean=10, lean_towards=180)
    assert down.tilt == pytest.approx(20)
    assert down.bearing == pytest.approx(0)
    # Past square to the roof the short side changes over.
    over = Pipe(100, 150, 80, 0, 30, lean=40, lean_towards=180)
    assert over.tilt == pytest.approx(10)
    assert abs(over.bearing) == pytest.approx(180)


def test_left_and_right_leans_are_mirror_images() -> None:
    right, left = (
        Pipe(100, 150, 80, 0, 30, lean=15, lean_towards=to) for to in (90, 270)
    )
    assert right.bearing == pytest.approx(-left.bearing) and right.bearing > 0
    assert right.tilt == pytest.approx(left.tilt)
    one, two = (
        sorted((round(p.x, 6), round(p.y, 6)) for p in flange(pipe).pattern.outline)
        for pipe in (right, left)
    )
    assert one == two


def test_the_note_says_where_the_seam_lies() -> None:
    made = elsewhere.laid("pipe-leaning-copper-in")
    assert "to the right of straight up the slope" in made.pieces[0].notes[0]
    plumb = elsewhere.laid("pipe-conical-zinc-mm")
    assert plumb.pieces[0].notes[0].endswith("upslope.")


def test_a_cones_lap_runs_along_its_seam() -> None:
    # The lap's edge is a straight line, 20 mm from the seam at both its ends.
    pipe = Pipe(110, 150, 100, 20, 35, foot_diameter=180)
    with_lap, without = sleeve(pipe).pattern, sleeve(Pipe(110, 150, 100, 0, 35, 180))
    slant = pipe.sleeve.flat_foot(0).x - pipe.sleeve.flat_top(0).x
    added = with_lap.area() - without.pattern.area()
    assert added == pytest.approx(20 * slant, rel=0.02)


def test_a_round_sleeve_is_a_cone_that_does_not_narrow() -> None:
    near = sleeve(Pipe(100, 150, 80, 0, 30, foot_diameter=100.0001)).pattern
    plain = sleeve(Pipe(100, 150, 80, 0, 30)).pattern
    assert near.area() == pytest.approx(plain.area(), rel=1e-5)


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"pipe.foot_diameter": "90"}, "pipe.foot_diameter"),
        ({"pipe.lean": "5"}, "pipe.lean_towards"),
        ({"pipe.lean": "50", "pipe.lean_towards": "0"}, "pipe.lean"),
        ({"pipe.lap": "120"}, "pipe.lap"),
    ],
)
def test_faults_name_their_field(changes: Changes, field: str) -> None:
    with pytest.raises(BadRecord) as bad:
        elsewhere.laid("pipe-conical-zinc-mm", changes)
    assert [fault.field for fault in bad.value.faults] == [field]


def test_a_cone_flatter_than_the_roof_is_refused() -> None:
    changes: Changes = {"pipe.foot_diameter": "700", "pipe.upstand": "150"}
    with pytest.raises(CannotBuild, match="flatter than the roof"):
        elsewhere.laid("pipe-conical-zinc-mm", changes)


def test_a_lap_that_would_lie_on_the_blank_itself_is_refused() -> None:
    changes: Changes = {
        "pipe.foot_diameter": "900",
        "pipe.upstand": "40",
        "roof.pitch": "3°",
        "pipe.lap": "60",
    }
    with pytest.raises(CannotBuild, match="lap"):
        elsewhere.laid("pipe-conical-zinc-mm", changes)


@pytest.mark.parametrize(
    ("up", "round_it", "said"),
    [("6", "3", 0), ("5 15/16", "3", 1), ("6", "2 15/16", 1), (None, "3", 1)],
)
def test_a_collars_flange_by_the_handbook(
    up: str | None, round_it: str, said: int
) -> None:
    # E.17: Sheet Metal Drafting, p.93 (printed, seen): 6 in up the roof, 3 elsewhere.
    record = elsewhere.record("pipe-leaning-copper-in")
    record["pipe"] |= {"flange": round_it, "flange_up": up}
    found = [it for it in sites.laid(record).findings if it.rule == "collar's flange"]
    assert [it.level for it in found] == ["warning"] * said


def test_the_flange_is_wider_above_the_pipe_where_asked() -> None:
    plain = flange(Pipe(100, 150, 80, 0, 30)).pattern
    wide = flange(Pipe(100, 150, 80, 0, 30, flange_up=150)).pattern
    assert wide.size()[0] == pytest.approx(plain.size()[0])
    assert wide.size()[1] == pytest.approx(plain.size()[1] + 70)
    # The hole stays where it is from the lower edge; the slope runs up the blank.
    assert wide.outlines[1] == plain.outlines[1]
