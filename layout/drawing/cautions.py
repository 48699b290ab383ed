"""The cautions every printed sheet carries, where the danger is.

Usual practice and law in many places: fall protection (29 CFR 1926.501), lead
(1926.62) and silica (1926.1153) rules say more; local ones come first.
"""

from __future__ import annotations

BENCH = (
    "Cut edges: wear gloves. Coil springs open: hold it down. Old flashing and"
    " reglet cuts: lead and silica dust, wet the cut, wear a mask."
)
ROOF = (
    "Work at height: tie on; mind heat and wind. Soldering is hot work: clear the"
    " place, watch it after."
)
FIRST = (
    "Local codes, the metal maker's instructions and licensed practice come first."
    " This is folding geometry: not designed for wind, snow, fire or structure."
)

EVERY = f"CAUTION. {BENCH} {ROOF} {FIRST}"
