"""A small picture of the chimney on its roof for each measure, with that one lit.

One made-up chimney, 160 by 120 units, seen from above (square to the roof), from its
left side, from the eave, and its seam.
"""

from __future__ import annotations

from collections.abc import Callable
from math import cos, radians, sin

from layout.picture_marks import Place, line, shape, span, word

# Seen from above: the chimney's sides, the roof's seams, the metal's ends.
L, R, FRONT, BACK = 48.0, 102.0, 86.0, 46.0
SEAM_L, SEAM_R, LOWER, UPPER = 20.0, 128.0, 110.0, 18.0

# Seen from the left: the roof rises to the right.
PITCH = 28.0
FOOT: Place = (58.0, 86.0)
REACH = 52.0


# ---- from above ----------------------------------------------------------------


def _above(*lit: str) -> str:
    seams = [
        line("seam", (x + gap, 4), (x + gap, 116))
        for x in (SEAM_L, SEAM_R)
        for gap in (-1.2, 1.2)
    ]
    chimney = shape("brick", (L, FRONT), (R, FRONT), (R, BACK), (L, BACK))
    inner = shape(
        "flue", (L + 16, FRONT - 12), (R - 16, FRONT - 12), (R - 16, BACK + 12),
        (L + 16, BACK + 12),
    )  # fmt: skip
    water = line("water", (146, 96), (146, 112)) + shape(
        "water-head", (146, 117), (142.5, 110), (149.5, 110)
    )
    return "".join((*seams, chimney, inner, water, word("eave", (146, 90)), *lit))


def _edge(a: Place, b: Place) -> str:
    return line("lit-edge", a, b)


def _side_above(a: Place, b: Place, off: Place) -> Callable[[], str]:
    """One side of the chimney, its edge lit and the measure beside it."""

    def draw() -> str:
        moved = [(x + off[0], y + off[1]) for x, y in (a, b)]
        return _above(_edge(a, b), span(moved[0], moved[1]))

    return draw


def _across(a: Place, b: Place, *more: str) -> Callable[[], str]:
    return lambda: _above(*more, span(a, b))


def _ends(y: float) -> str:
    return line("metal-end", (SEAM_L + 4, y), (SEAM_R - 4, y))


# ---- from the left side ----------------------------------------------------------


def _up(way: float, square: float = 0.0) -> Place:
    """A place from the front foot: up the slope, and square off the roof."""
    c, s = cos(radians(PITCH)), sin(radians(PITCH))
    return (FOOT[0] + way * c - square * s, FOOT[1] - way * s - square * c)


def _side(*lit: str, courses: bool = True) -> str:
    roof = line("roof", _up(-62), _up(REACH + 60))
    front, back = _up(0), _up(REACH)
    walls = shape("brick", front, (front[0], 8), (back[0], 8), back)
    bricks = "".join(
        line("joint", (front[0], y), (back[0], y))
        for y in range(18, 86, 11)
        if courses and y < _roof_y(back[0]) - 3
    )
    return "".join((walls, bricks, roof, *lit))


def _roof_y(x: float) -> float:
    return FOOT[1] - (x - FOOT[0]) * sin(radians(PITCH)) / cos(radians(PITCH))


def _upstand_front() -> str:
    band = shape("metal", _up(0), (FOOT[0], FOOT[1] - 26), (FOOT[0] - 4, FOOT[1] - 26),
                  (FOOT[0] - 4, _roof_y(FOOT[0] - 4)))  # fmt: skip
    x = FOOT[0] - 14
    return _side(band, span((x, FOOT[1] - 26), (x, FOOT[1])))


def _upstand_back() -> str:
    x, y = _up(REACH)
    band = shape("metal", (x, y), (x, y - 30), (x + 4, y - 30), (x + 4, _roof_y(x + 4)))
    return _side(band, span((x + 14, y - 30), (x + 14, y)))


def _band(high: float) -> tuple[Place, Place, Place, Place]:
    """A strip on the left wall along the roof, `high` square to it."""
    slant = high / cos(radians(PITCH))
    front, back = _up(0), _up(REACH)
    return front, back, (back[0], back[1] - slant), (front[0], front[1] - slant)


def _upstand_side() -> str:
    return _side(
        shape("metal", *_band(24)), span(_up(REACH / 2), _up(REACH / 2, 24), False)
    )


def _reglet() -> str:
    foot, back, top_back, top = _band(36)
    return _side(
        shape("metal", *_band(22)),
        line("lit-edge", top, top_back),
        span(_up(REACH / 2), _up(REACH / 2, 36), False),
    )


def _course() -> str:
    x = FOOT[0] + 12
    return _side(
        line("lit-edge", (FOOT[0], 29), (_up(REACH)[0], 29)),
        line("lit-edge", (FOOT[0], 40), (_up(REACH)[0], 40)),
        span((FOOT[0] - 10, 29), (FOOT[0] - 10, 40)),
        line("lit-tick", (x, 29), (x, 40)),
    )


def _pitch() -> str:
    start = _up(-62)
    level = (start[0] + 66, start[1])
    arc = " ".join(
        f"{start[0] + 46 * cos(radians(a)):.1f},{start[1] - 46 * sin(radians(a)):.1f}"
        for a in range(0, int(PITCH) + 1, 2)
    )
    return _side(
        line("level", start, level),
        line("lit-edge", start, _up(-6)),
        f'<polyline class="lit" points="{arc}"/>',
    )


def _lean_side(front: bool) -> Callable[[], str]:
    def draw() -> str:
        x, y = _up(0) if front else _up(REACH)
        out = -11.0 if front else 11.0
        return _side(
            line("level", (x, y), (x, 6)),
            line("lit-edge", (x, y), (x + out, 10)),
            span((x, 12), (x + out, 12), False),
            courses=False,
        )

    return draw


def _stand() -> str:
    """Plumb beside square to the roof, at the front and the back."""
    lines = []
    for way in (0.0, REACH):
        x, y = _up(way)
        lines.append(line("level", (x, y), (x, y - 40)))
        lines.append(line("lit-edge", (x, y), _up(way, 40)))
    return _side(*lines, courses=False)


# ---- from the eave ---------------------------------------------------------------


def _eave(*lit: str) -> str:
    roof = shape("slope", (6, 116), (154, 116), (130, 74), (30, 74))
    walls = shape("brick", (L, 96), (R, 96), (R, 10), (L, 10))
    return "".join((roof, walls, *lit))


def _lean_eave(left: bool) -> Callable[[], str]:
    def draw() -> str:
        x, out = (L, -12.0) if left else (R, 12.0)
        return _eave(
            line("level", (x, 96), (x, 6)),
            line("lit-edge", (x, 96), (x + out, 12)),
            span((x, 14), (x + out, 14), False),
        )

    return draw


def _material() -> str:
    joints = [line("lit-tick", (L, y), (R, y)) for y in range(20, 96, 11)]
    uprights = [
        line("lit-tick", (x, y), (x, y + 11))
        for row, y in enumerate(range(20, 84, 11))
        for x in range(int(L) + (8 if row % 2 else 17), int(R), 18)
    ]
    return _eave(shape("lit-area", (L, 96), (R, 96), (R, 10), (L, 10)), *joints,
                 *uprights)  # fmt: skip


# ---- the seam ----------------------------------------------------------------------


def _seam(*lit: str) -> str:
    """A double fold standing on two pans, much enlarged."""
    left = line("sheet-line", (8, 108), (76, 108), (76, 22), (106, 22), (106, 52),
                 (92, 52), (92, 34))  # fmt: skip
    right = line("sheet-line", (152, 108), (84, 108), (84, 30), (99, 30), (99, 44))
    return "".join((left, right, *lit))


def seam_height() -> str:
    return _seam(span((58, 22), (58, 108)))


def seam_turn() -> str:
    return _seam(span((76, 12), (106, 12)))


def seam_first_turn() -> str:
    return _seam(
        span((120, 44), (120, 30)),
        line("lit-edge", (99, 30), (99, 44)),
    )


def seam_fold() -> str:
    return _seam(
        line("lit-edge", (76, 22), (106, 22), (106, 52), (92, 52), (92, 34)),
        line("lit-edge", (84, 30), (99, 30), (99, 44)),
    )


# ---- the sweep up the wall -----------------------------------------------------------


def _swept(*lit: str) -> str:
    """A seam's leg on the roof, led round and up a wall on the right."""
    wall = shape("brick", (116, 112), (152, 112), (152, 6), (116, 6))
    roof = line("roof", (6, 112), (116, 112))
    leg = _arc((58, 60), 42, 90, 0, inner=True)
    return "".join((wall, roof, leg, *lit))


def _arc(
    centre: Place, radius: float, first: int, last: int, inner: bool = False
) -> str:
    x, y = centre
    step = -6 if last < first else 6
    curve = [
        (x + radius * cos(radians(a)), y + radius * sin(radians(a)))
        for a in range(first, last + step, step)
    ]
    if not inner:
        return line("lit-edge", *curve)
    return shape("metal", (6, y + radius), *curve, (x + radius, 14), (116, 14),
                  (116, 112), (6, 112))  # fmt: skip


def _sweep_radius() -> str:
    return _swept(_arc((58, 60), 42, 90, 0), span((58, 60), (88, 90), False))


def _leg_at_top() -> str:
    return _swept(line("lit-edge", (100, 14), (116, 14)), span((100, 24), (116, 24)))


# ---- what is built ------------------------------------------------------------


def _back() -> str:
    """A saddle from above: its ridge and its two valleys."""
    peak = ((L + R) / 2, 8.0)
    left, right = (L - 3, BACK), (R + 3, BACK)
    return _above(
        shape("lit-area", left, peak, right),
        line("lit-edge", ((L + R) / 2, BACK), peak),
    )


def _counterflashing() -> str:
    steps: list[Place] = [_up(0)]
    for step in range(4):
        x = FOOT[0] + step * 11.5
        top = _roof_y(x + 11.5) - 20
        steps += [(x, top), (x + 11.5, top)]
    steps.append(_up(REACH))
    return _side(shape("lit-area", *steps), line("lit-edge", *steps[1:-1]))


def _metal() -> str:
    left, right = SEAM_L + 3, SEAM_R - 3
    return _above(
        shape("lit-area", (left, LOWER), (right, LOWER), (right, UPPER), (left, UPPER)),
        shape("brick", (L, FRONT), (R, FRONT), (R, BACK), (L, BACK)),
    )


def plain() -> str:
    return _above()


_FL, _FR, _BR, _BL = (L, FRONT), (R, FRONT), (R, BACK), (L, BACK)
_MIDDLE = (FRONT + BACK) / 2

PICTURES: dict[str, Callable[[], str]] = {
    "penetration.front": _side_above(_FL, _FR, (0, 10)),
    "penetration.back": _side_above(_BL, _BR, (0, -10)),
    "penetration.left": _side_above(_FL, _BL, (-10, 0)),
    "penetration.right": _side_above(_FR, _BR, (10, 0)),
    "penetration.diagonal": _across(_FL, _BR),
    "penetration.other_diagonal": _across(_FR, _BL),
    "roof.pitch": _pitch,
    "roof.left_pan": _across((SEAM_L, _MIDDLE), (L, _MIDDLE)),
    "roof.right_pan": _across((R, _MIDDLE), (SEAM_R, _MIDDLE)),
    "roof.below": _across((75, FRONT), (75, LOWER), _ends(LOWER)),
    "roof.above": _across((75, BACK), (75, UPPER), _ends(UPPER)),
    "roof.seam.fold": seam_fold,
    "roof.seam.height": seam_height,
    "roof.seam.turn": seam_turn,
    "roof.seam.first_turn": seam_first_turn,
    "walls.upstand_front": _upstand_front,
    "walls.upstand_side": _upstand_side,
    "walls.upstand_back": _upstand_back,
    "walls.material": _material,
    "walls.stand": _stand,
    "walls.course": _course,
    "walls.reglet": _reglet,
    "walls.lean_front": _lean_side(True),
    "walls.lean_back": _lean_side(False),
    "walls.lean_left": _lean_eave(True),
    "walls.lean_right": _lean_eave(False),
    "metal": _metal,
    "build.back": _back,
    "build.counterflashing": _counterflashing,
    "build.sweep_radius": _sweep_radius,
    "build.leg_at_wall_top": _leg_at_top,
}
