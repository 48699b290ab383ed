"""An errand for the tests of a real worker: slow, and its result is a row."""

from __future__ import annotations

import time
from pathlib import Path

from shop import errands
from shop.models import Brake, Errand


@errands.carries("slow")
def slow(errand: Errand, beat: errands.Beat) -> None:
    begun = Path(errand.payload["begun"])
    begun.write_text(str(errand.attempt))
    for _ in range(20):
        beat()
        time.sleep(0.1)
    with errands.held(errand):
        Brake.objects.create(
            name=f"result of {errand.pk}, attempt {errand.attempt}",
            length_mm=1,
            throat_mm=1,
            smallest_flange_mm=1,
            largest_angle_deg=90,
            radius_mm=0,
        )
