"""The one tolerance of the core."""

EPS = 1e-6
"""Millimetres (or radians) under which two places are the same place."""


def close(a: float, b: float) -> bool:
    """True when a and b differ by less than EPS."""
    return abs(a - b) < EPS
