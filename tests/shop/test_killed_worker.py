"""Real workers, really killed: each errand is done, and done once."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.premises import Premises, premises, wait_for

pytestmark = pytest.mark.servers
WORKER = ("-I", "tests.shop.slow_errand")


@pytest.fixture
def place(tmp_path: Path) -> Iterator[Premises]:
    with premises(tmp_path) as place:
        yield place


def ask(place: Premises, count: int = 1) -> None:
    place.python(
        "from django.db import transaction\nfrom shop.errands import ask\n"
        f"for n in range({count}):\n"
        f"    ask('slow', begun='{place.home}/begun-%d' % n)"
    )


def results(place: Premises) -> list[str]:
    return place.python(
        "from shop.models import Brake\n"
        "for brake in Brake.objects.order_by('pk'): print(brake.name)"
    ).splitlines()


def states(place: Premises) -> set[str]:
    return set(
        place.python(
            "from shop.models import Errand\n"
            "for errand in Errand.objects.all(): print(errand.state)"
        ).split()
    )


def test_a_worker_killed_in_the_middle_is_followed_by_one_result(
    place: Premises,
) -> None:
    ask(place, 3)
    worker = place.worker(*WORKER)
    wait_for((place.home / "begun-0").exists)
    place.kill(worker)
    assert results(place) == []
    place.worker(*WORKER)
    wait_for(lambda: len(results(place)) == 3)
    assert states(place) == {"done"}
    assert len({name.split(",")[0] for name in results(place)}) == 3


def test_an_errand_whose_ring_was_lost_is_done(place: Premises) -> None:
    place.python(
        "from shop.models import Errand\n"
        f"Errand.objects.create(kind='slow', payload={{'begun': '{place.home}/b'}})"
    )
    place.worker(*WORKER)
    wait_for(lambda: results(place))
    assert states(place) == {"done"}


def test_two_workers_do_each_errand_once(place: Premises) -> None:
    place.worker(*WORKER, "-n", "one@here")
    place.worker(*WORKER, "-n", "two@here")
    ask(place, 6)
    wait_for(lambda: states(place) == {"done"})
    assert len(results(place)) == 6
    assert all(name.endswith("attempt 1") for name in results(place))
