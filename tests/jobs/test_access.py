from __future__ import annotations

from typing import Any

import pytest
from django.contrib.auth.models import AnonymousUser
from django.core.exceptions import PermissionDenied
from django.http import Http404

from jobs.access import client_for, job_for, piece_for, rule_for, site_for
from tests.world import make_job, make_piece, make_rule

pytestmark = pytest.mark.django_db


def test_every_door_is_shut_for_whoever_is_not_of_the_shop(crew: Any) -> None:
    rule, piece = make_rule(), make_piece()
    crew.is_active = False
    doors = [
        (job_for, piece.job_id),
        (piece_for, piece.pk),
        (client_for, piece.job.client_id),
        (site_for, piece.job.sites.get().pk),
        (rule_for, rule.pk),
    ]
    for door, pk in doors:
        for person in (AnonymousUser(), crew):
            with pytest.raises(PermissionDenied):
                door(person, pk)


def test_a_door_asks_for_the_act(crew: Any, office: Any) -> None:
    job = make_job()
    assert job_for(crew, job.pk) == job == job_for(office, job.pk, "book")
    with pytest.raises(PermissionDenied):
        job_for(crew, job.pk, "book")


def test_what_is_not_there_is_not_found(office: Any) -> None:
    for door in (job_for, piece_for, client_for, site_for, rule_for):
        with pytest.raises(Http404):
            door(office, 12345)
