"""Pictures of a pipe, a wall and its steps, and a roof pan, one measure lit in each."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import cos, radians, sin

from layout.picture_marks import Place, line, shape, span, word
from layout.pictures_chimney import seam_first_turn, seam_fold, seam_height, seam_turn

Draw = Callable[[], str]


def on(base: Callable[..., str], *lit: str) -> Draw:
    """The base drawing with what is lit over it."""
    return lambda: base(*lit)


def arc(centre: Place, radius: float, first: float, last: float) -> str:
    """A lit arc, degrees counted against the clock from the right."""
    steps = [first + (last - first) * i / 12 for i in range(13)]
    x, y = centre
    return line(
        "lit",
        *((x + radius * cos(radians(a)), y - radius * sin(radians(a))) for a in steps),
    )


# ---- a slope seen from the side, rising to the right -------------------------------

RISE = 0.39
TILT = 21.3


def roof_y(x: float, over: float = 0.0) -> float:
    return 108 - (x - 6) * RISE - over


def slope(*lit: str) -> str:
    return line("roof", (6, roof_y(6)), (154, roof_y(154))) + "".join(lit)


def pitch_of(base: Callable[..., str]) -> Draw:
    return on(base, line("level", (6, 108), (120, 108)), arc((6, 108), 74, 0, TILT))


# ---- pipe --------------------------------------------------------------------------


def _pipe(*lit: str) -> str:
    return slope(
        shape("metal", (63, roof_y(63)), (63, 45), (93, 45), (93, roof_y(93))),
        shape("brick", (67, 45), (67, 6), (89, 6), (89, 45)),
        line("sheet-line", (36, roof_y(36, 3)), (124, roof_y(124, 3))),
        *lit,
    )


def _pipe_above(*lit: str) -> str:
    ring = [(80 + 20 * cos(radians(a)), 60 + 20 * sin(radians(a)))
            for a in range(0, 360, 15)]  # fmt: skip
    return "".join((
        shape("slope", (40, 16), (120, 16), (120, 104), (40, 104)),
        shape("brick", *ring),
        line("level", (80, 60), (80, 6)),
        word("eave", (80, 117)),
        *lit,
    ))  # fmt: skip


PIPE: Mapping[str, Draw] = {
    "pipe.diameter": on(_pipe, span((67, 16), (89, 16))),
    "pipe.upstand": on(_pipe, span((101, 45), (101, 71), False)),
    "pipe.flange": on(
        _pipe,
        line("lit-edge", (36, roof_y(36, 3)), (63, roof_y(63, 3))),
        span((36, roof_y(36, 14)), (63, roof_y(63, 14))),
    ),
    "pipe.flange_up": on(
        _pipe,
        line("lit-edge", (93, roof_y(93, 3)), (124, roof_y(124, 3))),
        span((95, roof_y(95, 14)), (126, roof_y(126, 14))),
    ),
    "pipe.lap": on(_pipe, shape("lit-area", (72, 45), (82, 45), (82, 78), (72, 82))),
    "pipe.foot_diameter": on(
        _pipe,
        line("lit-edge", (63, 45), (50, roof_y(50))),
        line("lit-edge", (93, 45), (106, roof_y(106))),
        span((54, 76), (104, 76), False),
    ),
    "pipe.lean": on(
        _pipe,
        line("level", (78, 84), (78, 4)),
        line("lit", (78, 80), (106, 6)),
        arc((78, 80), 60, 69, 90),
    ),
    "pipe.lean_towards": on(
        _pipe_above, arc((80, 60), 34, 90, 0), span((80, 60), (132, 60), False)
    ),
    "roof.pitch": pitch_of(_pipe),
    "metal": on(
        _pipe,
        shape("lit-area", (63, roof_y(63)), (63, 45), (93, 45), (93, roof_y(93))),
        line("lit-edge", (36, roof_y(36, 3)), (124, roof_y(124, 3))),
    ),
}


# ---- a wall: from the eave, from the side, from above --------------------------------


def _wall_eave(*lit: str) -> str:
    return "".join((
        shape("brick", (102, 112), (102, 6), (126, 6), (126, 112)),
        line("roof", (6, 104), (102, 104)),
        line("sheet-line", (40, 100), (98, 100), (98, 44)),
        *lit,
    ))  # fmt: skip


def _wall_side(*lit: str) -> str:
    return slope(
        shape("brick", (24, roof_y(24)), (24, 10), (140, 10), (140, roof_y(140))),
        shape("metal", *_run(24, 140)),
        *lit,
    )


def _run(a: float, b: float, high: float = 22) -> tuple[Place, ...]:
    return ((a, roof_y(a)), (a, roof_y(a, high)), (b, roof_y(b, high)), (b, roof_y(b)))


def _wall_above(*lit: str) -> str:
    return "".join((
        shape("slope", (16, 22), (130, 22), (130, 104), (16, 104)),
        word("eave", (73, 117)),
        *lit,
    ))  # fmt: skip


_FOOT = line("lit-edge", (24, roof_y(24)), (140, roof_y(140)))
_ALONG = span((24, roof_y(24, -10)), (140, roof_y(140, -10)))

WALL: Mapping[str, Draw] = {
    "wall.kind": on(
        _wall_above,
        shape("lit-area", (130, 22), (144, 22), (144, 104), (130, 104)),
        word("side wall", (100, 66)),
        shape("lit-area", (16, 8), (130, 8), (130, 22), (16, 22)),
        word("head wall", (60, 36)),
    ),
    "wall.roof_side": on(
        _wall_eave, line("lit-edge", (6, 104), (102, 104)), span((20, 88), (96, 88))
    ),
    "wall.length": on(_wall_side, _FOOT, _ALONG),
    "wall.upstand": on(_wall_eave, span((88, 44), (88, 100))),
    "wall.onto_roof": on(_wall_eave, span((40, 90), (98, 90))),
    "wall.near_end": on(_wall_side, shape("lit-area", *_run(20, 34))),
    "wall.far_end": on(_wall_side, shape("lit-area", *_run(130, 144))),
    "roof.pitch": pitch_of(_wall_side),
    "metal": on(_wall_side, shape("lit-area", *_run(24, 140))),
}


def _steps_side(*lit: str) -> str:
    pieces = (shape("metal", *_run(x, x + 34, 26)) for x in range(106, 15, -22))
    return slope(
        shape("brick", (18, roof_y(18)), (18, 8), (146, 8), (146, roof_y(146))),
        *pieces,
        *lit,
    )


STEPS: Mapping[str, Draw] = {
    "steps.roof_side": WALL["wall.roof_side"],
    "steps.slope_length": on(
        _steps_side, line("lit-edge", (18, roof_y(18)), (140, roof_y(140))), _ALONG
    ),
    "steps.exposure": on(_steps_side, span((40, roof_y(40, 34)), (62, roof_y(62, 34)))),
    "steps.up_wall": WALL["wall.upstand"],
    "steps.onto_roof": WALL["wall.onto_roof"],
    "steps.lap": on(_steps_side, shape("lit-area", *_run(62, 74, 26))),
    "roof.pitch": pitch_of(_steps_side),
    "metal": on(_steps_side, shape("lit-area", *_run(62, 96, 26))),
}


# ---- a roof pan: from above, and from the side ---------------------------------------


def _pan(*lit: str) -> str:
    seams = [line("seam", (x + gap, 8), (x + gap, 112))
             for x in (44, 116) for gap in (-1.2, 1.2)]  # fmt: skip
    pan = shape("metal", (46, 14), (114, 14), (114, 104), (46, 104))
    return "".join((pan, *seams, word("eave", (80, 117)), *lit))


def _pan_side(*lit: str) -> str:
    return slope(
        line(
            "sheet-line",
            (34, roof_y(34, 1)),
            (24, roof_y(24, 2)),
            (24, roof_y(24, 7)),
            (130, roof_y(130, 7)),
            (122, roof_y(130, 40)),
        ),
        *lit,
    )


PAN: Mapping[str, Draw] = {
    "pan.sheet_width": on(
        _pan,
        line("metal-end", (30, 14), (30, 104)),
        line("metal-end", (130, 14), (130, 104)),
        span((30, 60), (130, 60), False),
    ),
    "pan.pan_width": on(_pan, span((44, 60), (116, 60), False)),
    "pan.length": on(_pan, span((80, 14), (80, 104))),
    "pan.head": on(
        _pan_side,
        line("lit-edge", (112, roof_y(112, 7)), (130, roof_y(130, 7)),
             (122, roof_y(130, 40))),
    ),
    "pan.head_height": on(
        _pan_side, span((140, roof_y(130, 7)), (132, roof_y(130, 40)))
    ),
    "pan.foot": on(
        _pan_side,
        line("lit-edge", (34, roof_y(34, 1)), (24, roof_y(24, 2)),
             (24, roof_y(24, 7)), (44, roof_y(44, 7))),
    ),
    "roof.pitch": pitch_of(_pan_side),
    "roof.seam.fold": seam_fold,
    "roof.seam.height": seam_height,
    "roof.seam.turn": seam_turn,
    "roof.seam.first_turn": seam_first_turn,
    "metal": on(
        _pan, shape("lit-area", (46, 14), (114, 14), (114, 104), (46, 104))
    ),
}  # fmt: skip

PICTURES: Mapping[str, Mapping[str, Draw]] = {
    "pipe": PIPE,
    "wall": WALL,
    "steps": STEPS,
    "pan": PAN,
}
