"""The machine-readable label: a QR code (ISO/IEC 18004) drawn by the pen."""

from __future__ import annotations

import segno

from layout.drawing.pen import Pen
from layout.geometry.point import Point

QUIET = 4
"""Empty modules kept on each side (ISO/IEC 18004)."""


def draw_label(pen: Pen, corner: Point, size: float, payload: str) -> None:
    """A square label with its quiet zone inside.

    corner: lower left; size: with the quiet zone, mm
    payload: what a reader gets, up to some hundred characters
    """
    code = segno.make_qr(payload, error="m", boost_error=False)
    rows = [bytes(row) for row in code.matrix]
    module = size / (len(rows) + 2 * QUIET)
    top = corner.y + size - (QUIET + 1) * module
    pen.cells(
        [
            (
                Point(
                    corner.x + (QUIET + column) * module,
                    top - row * module,
                ),
                module,
            )
            for row, line in enumerate(rows)
            for column, dark in enumerate(line)
            if dark
        ]
    )
