"""Two real connections want one sheet, or the last of one coil, at the same moment."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from tests.premises import CHECKOUT, premises

pytestmark = pytest.mark.servers

STOCKED = """
from decimal import Decimal
from shop.opening import open_shop
from tests.shop.racked import put
from tests.world import make_person
open_shop()
by = make_person("Wren")
make_person("Rowan", "crew")
for _ in range(6):
    put(by)
put(by, form="coil", width=Decimal(600), length=Decimal(1000))
"""
RESERVE = """
import sys, django
django.setup()
from decimal import Decimal
from shop import rack
from shop.models import Person, RackItem
name, act = sys.argv[1:3]
by = Person.objects.get(username=name)
items = list(RackItem.objects.filter(form="sheet").order_by("pk"))
coil = RackItem.objects.get(form="coil")
print("ready", flush=True)
for line in sys.stdin:
    turn = int(line)
    try:
        if act == "reserve":
            # The other way round, so that a lock in the asked order would hang.
            pair = [items[0], items[turn]]
            if name == "rowan":
                pair.reverse()
            wanted = [rack.Wanted(it.pk) for it in pair]
            rack.reserve(wanted, by, holder=name, words=f"Job {name}")
        else:
            rack.cut(coil, by, length=Decimal(600))
        print("won", flush=True)
    except rack.Refused as refused:
        print(refused, flush=True)
"""
COUNT = """
from shop import rack_reading
from shop.models import Claim, RackItem
coil = RackItem.objects.get(form="coil")
whole = all(
    rack_reading.read(it.events.order_by("pk")) == rack_reading.standing_of(it)
    for it in RackItem.objects.all()
)
print(Claim.objects.filter(open=True).count(), coil.left_mm, whole)
"""


def test_one_sheet_is_reserved_once_and_a_coil_never_below_zero(
    tmp_path: Path,
) -> None:
    with premises(tmp_path) as place:
        place.python(STOCKED)
        said = _together(place.env, "reserve", 1)
        assert sorted(it == "won" for it in said) == [False, True], said
        (told,) = [it for it in said if it != "won"]
        winner = "wren" if said[0] == "won" else "rowan"
        assert f"reserved for Job {winner} already" in told or "same moment" in told
        said = _together(place.env, "cut", 0)
        assert sorted(it == "won" for it in said) == [False, True], said
        assert place.python(COUNT) == "2 400.000 True"


def _together(env: dict[str, str], act: str, turn: int) -> list[str]:
    people = [
        subprocess.Popen(
            [sys.executable, "-c", RESERVE, name, act],
            cwd=CHECKOUT,
            env=env | {"DJANGO_SETTINGS_MODULE": "shop.settings"},
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        for name in ("wren", "rowan")
    ]
    for one in people:
        assert one.stdout is not None and one.stdout.readline() == "ready\n"
    for one in people:
        assert one.stdin is not None
        one.stdin.write(f"{turn}\n")
        one.stdin.flush()
    return [one.communicate(timeout=60)[0].strip() for one in people]
