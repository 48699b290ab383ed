"""DXF of one piece's flat at true scale: R2010, one layer a kind of line.

CUT, FOLD_UP, FOLD_DOWN, MARK (datum, places of the marks, turns closed on the
roof) and TEXT. Same piece, same bytes.
"""

from __future__ import annotations

from io import StringIO
from typing import Any

import ezdxf
from ezdxf import units
from ezdxf.enums import TextEntityAlignment

from layout.drawing.flat import fold_words
from layout.folding.result import Piece

LINETYPE = "SEAMBOOK_FOLD"

# Colour numbers of the drawing exchange format; layers tell the lines apart.
LAYERS = {
    "CUT": (7, "CONTINUOUS"),
    "FOLD_UP": (5, LINETYPE),
    "FOLD_DOWN": (1, LINETYPE),
    "MARK": (8, "CONTINUOUS"),
    "TEXT": (8, "CONTINUOUS"),
}

TICK = 4.0
TEXT = 4.0
ORIGIN = 3.0


def piece_dxf(piece: Piece) -> bytes:
    """The flat in mm, datum corner at the origin, weather side towards the reader."""
    document = _document()
    space = document.modelspace()
    for outline in piece.pattern.outlines:
        space.add_lwpolyline(
            [(p.x, p.y) for p in outline], close=True, dxfattribs={"layer": "CUT"}
        )
    for cut in piece.pattern.reliefs:
        space.add_lwpolyline([(p.x, p.y) for p in cut], dxfattribs={"layer": "CUT"})
    for fold in piece.folds:
        layer = "FOLD_UP" if fold.direction == "up" else "FOLD_DOWN"
        a, b = fold.line
        space.add_line((a.x, a.y), (b.x, b.y), dxfattribs={"layer": layer})
        _text(
            space,
            f"{fold.order} {fold_words(fold)[2:]}",
            ((a.x + b.x) / 2, (a.y + b.y) / 2),
            _upright(b.minus(a).heading()),
        )
    _add_marks(space, piece)
    hand = "" if piece.hand == "none" else f" {piece.hand.upper()}"
    width, length = piece.pattern.size()
    _text(space, f"{piece.mark}{hand} {piece.metal}", (width / 2, length + 3 * TEXT), 0)
    return _written(document)


def _document() -> Any:
    # Without it every writing carries the clock and a random identity.
    ezdxf.options.write_fixed_meta_data_for_testing = True
    document = ezdxf.new("R2010")
    document.units = units.MM
    document.header["$MEASUREMENT"] = 1
    document.linetypes.add(
        LINETYPE,
        pattern=[33.0, 24.0, -3.0, 0.0, -3.0, 0.0, -3.0],
        description="Long dash double dot",
    )
    for name, (colour, linetype) in LAYERS.items():
        document.layers.add(name, color=colour, linetype=linetype)
    return document


def _add_marks(space: Any, piece: Piece) -> None:
    on_mark = {"layer": "MARK"}
    space.add_circle((0, 0), ORIGIN, dxfattribs=on_mark)
    out = {"datum": (0, -1), "far": (0, 1), "left": (-1, 0), "right": (1, 0)}
    seen = set()
    width, length = piece.pattern.size()
    for mark in piece.marks:
        dx, dy = out[mark.edge]
        x = {"left": 0.0, "right": width}.get(mark.edge, mark.distance)
        y = {"datum": 0.0, "far": length}.get(mark.edge, mark.distance)
        place = (round(x, 4), round(y, 4), mark.edge)
        if place not in seen:
            seen.add(place)
            end = (x + dx * TICK, y + dy * TICK)
            space.add_line((x, y), end, dxfattribs=on_mark)
    for roof in piece.pattern.roof_lines:
        space.add_lwpolyline([(p.x, p.y) for p in roof.line], dxfattribs=on_mark)


def _text(space: Any, words: str, at: tuple[float, float], turn: float) -> None:
    text = space.add_text(
        words.replace("°", "%%d"),
        height=TEXT,
        rotation=turn,
        dxfattribs={"layer": "TEXT"},
    )
    text.set_placement(at, align=TextEntityAlignment.BOTTOM_CENTER)


def _upright(turn: float) -> float:
    """A direction turned so that words along it are not upside down."""
    return turn - 180 if turn > 90 else turn + 180 if turn <= -90 else turn


def _written(document: Any) -> bytes:
    # The library lists its classes in the order of a set, which varies from
    # process to process.
    listed = document.classes
    listed.add_required_classes(document.dxfversion)
    listed.classes = dict(sorted(listed.classes.items(), key=str))
    stream = StringIO()
    document.write(stream)
    return stream.getvalue().encode("utf-8")
