from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from django.db import IntegrityError, transaction

from jobs import measuring
from jobs.models import Measurement
from tests.world import make_site, measure

pytestmark = pytest.mark.django_db


def test_a_second_taking_is_a_new_row_and_counts() -> None:
    site = make_site()
    first, second = measure(site, as_typed="36"), measure(site, as_typed="36.5")
    assert Measurement.objects.count() == 2
    assert measuring.counted(site) == {"penetration.front": second}
    assert measuring.why_counts(second) == "Counts: the newest of 2."
    assert measuring.why_counts(first) == "Does not count: 36.5 was taken later."


def test_the_only_one_says_so() -> None:
    assert measuring.why_counts(measure(make_site())) == "Counts: the only one taken."


def test_an_older_one_can_be_chosen_with_a_reason(crew: Any) -> None:
    site = make_site()
    first, second = measure(site, as_typed="36"), measure(site, as_typed="37")
    first = measuring.choose(first, crew, "The second tape was bent")
    third = measure(site, as_typed="38")
    assert measuring.counted(site)["penetration.front"] == first
    assert "chosen, because The second tape was bent" in measuring.why_counts(first)
    assert measuring.why_counts(second) == "Does not count: 36 was chosen."
    measuring.let_newest_count(site, "penetration.front", crew, "Tape is new")
    assert measuring.counted(site)["penetration.front"] == third


def test_choosing_another_one_lets_the_first_choice_go(crew: Any) -> None:
    site = make_site()
    first, second = measure(site, as_typed="36"), measure(site, as_typed="37")
    measuring.choose(first, crew, "drier day")
    measuring.choose(second, crew, "better light")
    assert Measurement.objects.filter(chosen=True).get() == second


def test_choosing_needs_a_reason(crew: Any) -> None:
    with pytest.raises(ValueError, match="why this one counts"):
        measuring.choose(measure(make_site()), crew, " ")


def test_every_taking_and_choosing_is_an_event(crew: Any) -> None:
    site = make_site()
    measure(site, as_typed="36", by=crew)
    measuring.choose(measure(site, as_typed="37", by=crew), crew, "drier day")
    told = site.job.events.order_by("pk").values_list("what", "before", "after")
    assert list(told)[1:] == [
        ("measured", "", "36"),
        ("measured", "36", "37"),
        ("chosen", "37", "37"),
    ]


def test_sixty_fourths_are_kept_whole_and_thirds_as_typed() -> None:
    site = make_site()
    fine = measure(site, as_typed="1/64", mm=Fraction("25.4") / 64)
    third = measure(site, "walls.course", "2 2/3", mm=Fraction(8, 3) * Fraction("25.4"))
    assert Fraction(Measurement.objects.get(pk=fine.pk).value_mm) == Fraction(127, 320)
    assert third.as_typed == "2 2/3"


def test_the_same_key_takes_once() -> None:
    site = make_site()
    assert measure(site, key="tap") == measure(site, key="tap")
    with pytest.raises(ValueError, match="key was used before"):
        measure(site, "penetration.back", key="tap")


@pytest.mark.parametrize("value", [{}, {"mm": 1, "deg": 2}, {"deg": 1, "text": "a"}])
def test_exactly_one_value_is_taken(value: dict[str, Any], crew: Any) -> None:
    with pytest.raises(ValueError, match="one of mm, deg or text"):
        measuring.take(make_site(), "roof.pitch", "8:12", crew, **value)


def test_the_database_keeps_one_choice_a_name(crew: Any) -> None:
    site = make_site()
    first, second = measure(site), measure(site)
    measuring.choose(first, crew, "drier day")
    with pytest.raises(IntegrityError), transaction.atomic():
        Measurement.objects.filter(pk=second.pk).update(
            chosen=True, chosen_because="also"
        )
    with pytest.raises(IntegrityError), transaction.atomic():
        Measurement.objects.filter(pk=second.pk).update(value_text="and a word")
