"""Two real connections want one piece at the same moment."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from tests.premises import CHECKOUT, premises

pytestmark = pytest.mark.servers

BOOKED = """
from tests.world import make_person, make_piece
make_person("Wren"), make_person("Rowan", "crew")
print(make_piece(mark="SL").pk)
"""
TAP = """
import sys, time, django
django.setup()
from jobs import progress
from jobs.models import Piece
from shop.models import Person
piece, by = Piece.objects.get(), Person.objects.get(username=sys.argv[1])
print("ready", flush=True)
sys.stdin.readline()
try:
    progress.advance([piece], "cut", by, version=1)
    print("won")
except progress.Stale as stale:
    print(stale)
"""


def test_one_wins_and_the_other_is_told(tmp_path: Path) -> None:
    with premises(tmp_path) as place:
        place.python(BOOKED)
        for _ in range(3):
            place.python(
                "from jobs.models import Piece\n"
                "Piece.objects.update(state='laid_out', version=1)"
            )
            said = _tap_together(place.env, "wren", "rowan")
            assert said.count("won") == 1, said
            (told,) = [words for words in said if words != "won"]
            winner = "Wren" if said[0] == "won" else "Rowan"
            assert f"{winner} changed it first, it is now cut" in told
        cut = place.python(
            "from jobs.models import Event\n"
            "print(Event.objects.filter(after='cut').count())"
        )
        assert cut == "3"


def _tap_together(env: dict[str, str], *people: str) -> list[str]:
    taps = [
        subprocess.Popen(
            [sys.executable, "-c", TAP, name],
            cwd=CHECKOUT,
            env=env | {"DJANGO_SETTINGS_MODULE": "shop.settings"},
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        for name in people
    ]
    for tap in taps:
        assert tap.stdout is not None
        assert tap.stdout.readline() == "ready\n"
    for tap in taps:
        assert tap.stdin is not None
        tap.stdin.write("go\n")
        tap.stdin.flush()
    return [tap.communicate(timeout=60)[0].strip() for tap in taps]
