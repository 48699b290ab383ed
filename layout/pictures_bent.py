"""Pictures of valley, ridge, pitch change, end cap and profile, one measure lit."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from layout.picture_marks import Place, line, shape, span, word
from layout.pictures_walls import arc, on

Draw = Callable[[], str]


# ---- valley ------------------------------------------------------------


def _valley(*lit: str) -> str:
    """Its section."""
    return "".join((
        line("roof", (10, 38), (80, 96), (150, 38)),
        line("sheet-line", (30, 48), (80, 89), (80, 66), (80, 89), (130, 48)),
        *lit,
    ))  # fmt: skip


def _valley_above(*lit: str) -> str:
    return "".join((
        shape("metal", (50, 100), (124, 14), (140, 28), (64, 112)),
        line("roof", (6, 100), (58, 100)),
        line("roof", (58, 116), (58, 100)),
        line("seam", (58, 100), (132, 20)),
        *lit,
    ))  # fmt: skip


VALLEY: Mapping[str, Draw] = {
    "valley.length": on(
        _valley_above,
        line("lit-edge", (58, 100), (132, 20)),
        span((74, 110), (148, 30)),
    ),
    "valley.wing": on(
        _valley, line("lit-edge", (30, 48), (80, 89)), span((36, 36), (86, 77))
    ),
    "valley.upstand": on(
        _valley, line("lit-edge", (80, 89), (80, 66)), span((92, 66), (92, 88))
    ),
    "roof.pitch": on(
        _valley, line("level", (80, 96), (8, 96)), arc((80, 96), 56, 180, 140.4)
    ),
    "roof.other_pitch": on(
        _valley, line("level", (80, 96), (152, 96)), arc((80, 96), 56, 0, 39.6)
    ),
    "roof.plan_angle": on(_valley_above, arc((58, 100), 16, 180, 270)),
    "metal": on(_valley, line("lit-edge", (30, 48), (80, 89), (130, 48))),
}


# ---- ridge and hip cap ------------------------------------------------------------


def _cap(*lit: str) -> str:
    """Its section."""
    return "".join((
        line("roof", (10, 110), (80, 52), (150, 110)),
        line("sheet-line", (36, 84), (30, 82), (80, 42), (130, 82), (124, 84)),
        *lit,
    ))  # fmt: skip


def _cap_above(*lit: str) -> str:
    corners = (14.0, 16.0), (146.0, 16.0), (146.0, 104.0), (14.0, 104.0)
    hips = [line("seam", a, b) for a, b in zip(
        corners, ((56, 60), (104, 60), (104, 60), (56, 60)), strict=True)]  # fmt: skip
    roof = shape("slope", *corners)
    return "".join((roof, *hips, line("seam", (56, 60), (104, 60)), *lit))


CAP: Mapping[str, Draw] = {
    "cap.kind": on(
        _cap_above,
        line("lit-edge", (56, 60), (104, 60)),
        word("ridge", (80, 54)),
        line("lit-edge", (104, 60), (146, 104)),
        word("hip", (116, 92)),
    ),
    "cap.length": on(
        _cap_above, line("lit-edge", (56, 60), (104, 60)), span((56, 72), (104, 72))
    ),
    "cap.wing": on(
        _cap, line("lit-edge", (30, 82), (80, 42)), span((24, 70), (74, 30))
    ),
    "cap.other_wing": on(
        _cap, line("lit-edge", (130, 82), (80, 42)), span((136, 70), (86, 30))
    ),
    "cap.leg": on(
        _cap,
        line("sheet-line", (38, 52), (80, 18), (122, 52)),
        line("lit-edge", (38, 52), (52, 74)),
        line("lit-edge", (122, 52), (108, 74)),
    ),
    "cap.edge": on(
        _cap,
        line("lit-edge", (40, 87), (30, 82), (44, 71)),
        line("lit-edge", (120, 87), (130, 82), (116, 71)),
    ),
    "roof.pitch": on(
        _cap, line("level", (10, 110), (80, 110)), arc((10, 110), 44, 0, 39.6)
    ),
    "roof.other_pitch": on(
        _cap, line("level", (150, 110), (80, 110)), arc((150, 110), 44, 180, 140.4)
    ),
    "roof.plan_angle": on(_cap_above, arc((146, 104), 30, 90, 180)),
    "metal": on(_cap, line("lit-edge", (30, 82), (80, 42), (130, 82))),
}


# ---- pitch change ------------------------------------------------------------


def _change(*lit: str) -> str:
    """Its section."""
    return "".join((
        line("roof", (8, 110), (84, 88), (136, 14)),
        line("sheet-line", (40, 100), (34, 96), (80, 82), (112, 36), (106, 38)),
        *lit,
    ))  # fmt: skip


def _change_above(*lit: str) -> str:
    return "".join((
        shape("slope", (16, 8), (144, 8), (144, 104), (16, 104)),
        line("seam", (16, 56), (144, 56)),
        word("steeper", (80, 34)),
        word("eave", (80, 117)),
        *lit,
    ))  # fmt: skip


PITCH_CHANGE: Mapping[str, Draw] = {
    "pitch_change.length": on(
        _change_above, line("lit-edge", (16, 56), (144, 56)), span((16, 72), (144, 72))
    ),
    "pitch_change.lower": on(
        _change, line("lit-edge", (34, 96), (80, 82)), span((30, 84), (76, 70))
    ),
    "pitch_change.upper": on(
        _change, line("lit-edge", (80, 82), (112, 36)), span((68, 74), (100, 28))
    ),
    "pitch_change.lower_edge": on(
        _change, line("lit-edge", (44, 99), (34, 96), (50, 91))
    ),
    "pitch_change.upper_edge": on(
        _change, line("lit-edge", (102, 44), (104, 36), (112, 36), (102, 50))
    ),
    "roof.pitch": on(
        _change, line("level", (8, 110), (84, 110)), arc((8, 110), 60, 0, 16.1)
    ),
    "roof.upper_pitch": on(
        _change, line("level", (84, 88), (150, 88)), arc((84, 88), 44, 0, 54.9)
    ),
    "metal": on(_change, line("lit-edge", (34, 96), (80, 82), (112, 36))),
}


# ---- end cap and profile ------------------------------------------------------------

_TROUGH: tuple[Place, ...] = ((22, 24), (42, 92), (118, 92), (138, 24))


def _end_cap(*lit: str) -> str:
    inner = ((34, 30), (50, 84), (110, 84), (126, 30))
    return shape("metal", *inner) + line("sheet-line", *_TROUGH) + "".join(lit)


END_CAP: Mapping[str, Draw] = {
    "end_cap.section": on(_end_cap, line("lit-edge", *_TROUGH)),
    "end_cap.flange": on(
        _end_cap,
        shape("lit-area", (46, 84), (114, 84), (114, 70), (46, 70)),
        span((124, 68), (124, 86)),
    ),
    "metal": on(_end_cap, shape("lit-area", (34, 30), (50, 84), (110, 84), (126, 30))),
}

_NEAR: tuple[Place, ...] = ((24, 92), (14, 98), (50, 98), (50, 56), (96, 56), (110, 76))
_FAR = tuple((x + 38, y - 34) for x, y in _NEAR)


def _profile(*lit: str) -> str:
    """Its two ends, and the folds between them."""
    folds = [line("seam", a, b) for a, b in zip(_NEAR[1:], _FAR[1:], strict=True)]
    ends = line("sheet-line", *_FAR) + line("sheet-line", *_NEAR)
    return "".join((*folds, ends, *lit))


PROFILE: Mapping[str, Draw] = {
    "profile.length": on(_profile, span((110, 86), (148, 52), False)),
    "profile.section": on(_profile, line("lit-edge", *_NEAR)),
    "profile.far_end": on(_profile, line("lit-edge", *_FAR)),
    "profile.radius": on(
        _profile, arc((58, 64), 8, 180, 90), arc((58, 64), 11, 180, 90)
    ),
    "profile.faces": on(_profile, span((42, 56), (42, 98)), span((50, 46), (96, 46))),
    "metal": on(
        _profile, shape("lit-area", *_NEAR[2:5], *reversed(_FAR[2:5]))
    ),
}  # fmt: skip

PICTURES: Mapping[str, Mapping[str, Draw]] = {
    "valley": VALLEY,
    "cap": CAP,
    "pitch_change": PITCH_CHANGE,
    "end_cap": END_CAP,
    "profile": PROFILE,
}
