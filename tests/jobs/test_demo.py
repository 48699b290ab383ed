from __future__ import annotations

import pytest

from jobs import demo, measuring
from jobs.models import Job
from shop.models import Person

pytestmark = pytest.mark.django_db


def test_the_demo_is_loaded_once() -> None:
    assert demo.load() == demo.load()
    assert Job.objects.count() == 1


def test_the_demo_is_a_whole_measured_chimney() -> None:
    counted = measuring.counted(demo.load().sites.get())
    assert set(counted) == set(demo.MEASURES)
    assert counted["penetration.front"].as_typed == "32 3/4"
    assert round(float(counted["roof.pitch"].value_deg or 0), 4) == 36.8699


def test_invented_people_can_not_sign_in() -> None:
    demo.load()
    assert not any(it.has_usable_password() for it in Person.objects.all())
