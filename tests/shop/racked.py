"""What lies on a rack of the tests: good defaults, keywords to override."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from shop import rack
from shop.models import Metal, Person, RackItem
from tests.world import make_person

INCH = Decimal("25.4")


def metal(name: str = "copper 20 oz") -> Metal:
    return Metal.objects.get(name=name)


def put(by: Person | None = None, **given: Any) -> RackItem:
    """One item on the rack: a sheet of copper of 36 x 120 in if not said."""
    new = {
        "metal": metal(),
        "form": "sheet",
        "width": 36 * INCH,
        "length": 120 * INCH,
        **given,
    }
    (item,) = rack.take_in(rack.New(**new), by or make_person())
    return item
