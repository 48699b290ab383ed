"""What a sheet says of a swept turn: how much its free edge stretches."""

from __future__ import annotations

from layout.drawing import tape
from layout.folding.pattern import Sweep


def sweep_words(sweep: Sweep, unit: tape.Unit) -> str:
    """One line: radius, turn, strain, the least radius the metal allows, cuts."""
    words = f"Sweep: radius {tape.length(sweep.radius, unit)} at the turn line"
    if sweep.turn:
        words += (
            f", turn {tape.length(sweep.turn, unit)}; its free edge strains"
            f" {sweep.strain * 100:.0f} %"
        )
        if sweep.smallest_radius:
            least = tape.length(sweep.smallest_radius, unit)
            words += f"; this metal allows radius {least} or more"
    count = len(sweep.reliefs)
    if count:
        words += f"; make {count} relief {'cut' if count == 1 else 'cuts'} as drawn 1:1"
    return words + "."


def sweeps_said(sweeps: tuple[Sweep, ...], unit: tape.Unit) -> list[str]:
    """The line of every sweep, those alike once."""
    return list(dict.fromkeys(sweep_words(sweep, unit) for sweep in sweeps))
