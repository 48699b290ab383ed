"""The machine-readable label: a QR code (ISO/IEC 18004) drawn by the pen."""

from __future__ import annotations

from functools import lru_cache

import segno

from layout.drawing.pen import Pen
from layout.geometry.point import Point

QUIET = 4
"""Empty modules kept on each side (ISO/IEC 18004)."""


@lru_cache(maxsize=512)
def _modules(payload: str) -> tuple[bytes, ...]:
    """The label's rows from the top, a byte a module, 1 dark."""
    code = segno.make_qr(payload, error="m", boost_error=False)
    return tuple(bytes(row) for row in code.matrix)


def draw_label(pen: Pen, corner: Point, size: float, payload: str) -> None:
    """A square label with its quiet zone inside.

    corner: lower left; size: with the quiet zone, mm
    payload: what a reader gets, up to some hundred characters
    """
    rows = _modules(payload)
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
