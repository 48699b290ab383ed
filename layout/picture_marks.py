"""Strokes of the small pictures beside the measures: lines, areas, words, the lit span.

Takes places on a ground of 160 by 120 units, gives SVG elements; colours are by class.
"""

from __future__ import annotations

from math import hypot

Place = tuple[float, float]

WIDTH, HEIGHT = 160, 120


def line(kind: str, *places: Place) -> str:
    points = " ".join(f"{x:.1f},{y:.1f}" for x, y in places)
    return f'<polyline class="{kind}" points="{points}"/>'


def shape(kind: str, *places: Place) -> str:
    points = " ".join(f"{x:.1f},{y:.1f}" for x, y in places)
    return f'<polygon class="{kind}" points="{points}"/>'


def word(text: str, at: Place, anchor: str = "middle") -> str:
    x, y = at
    return f'<text class="word" x="{x}" y="{y}" text-anchor="{anchor}">{text}</text>'


def span(a: Place, b: Place, ticks: bool = True) -> str:
    """The lit measure: a line with an arrow at either end."""
    size = hypot(b[0] - a[0], b[1] - a[1]) or 1.0
    ux, uy = (b[0] - a[0]) / size, (b[1] - a[1]) / size
    head = min(7.0, size / 2.5)
    drawn = [line("lit", a, b)]
    for (x, y), way in ((a, 1), (b, -1)):
        tip = (x, y)
        back = (x + ux * head * way, y + uy * head * way)
        wing = head * 0.45
        drawn.append(
            shape(
                "lit-head",
                tip,
                (back[0] - uy * wing, back[1] + ux * wing),
                (back[0] + uy * wing, back[1] - ux * wing),
            )
        )
        if ticks:
            tick = 6.0
            drawn.append(
                line(
                    "lit-tick",
                    (x - uy * tick, y + ux * tick),
                    (x + uy * tick, y - ux * tick),
                )
            )
    return "".join(drawn)
