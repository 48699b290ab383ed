from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from django.core.management import call_command
from django.db import DatabaseError
from django.utils import timezone

from shop.models import Errand, Person, ShopProfile

pytestmark = pytest.mark.django_db


def test_health_is_told_to_anyone(stranger_client: Any) -> None:
    answer = stranger_client.get("/health/")
    assert answer.status_code == 200
    assert answer.json() == {"database": "up", "queue": "up"}


def test_a_stuck_queue_is_not_healthy(stranger_client: Any) -> None:
    long_ago = timezone.now() - timedelta(hours=1)
    Errand.objects.create(kind="sheets", asked_at=long_ago)
    answer = stranger_client.get("/health/")
    assert (answer.status_code, answer.json()["queue"]) == (503, "stuck")


def test_a_lost_database_is_not_healthy(
    stranger_client: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    def lost() -> None:
        raise DatabaseError

    monkeypatch.setattr(Errand.objects, "open", lost)
    assert stranger_client.get("/health/").status_code == 503


def test_pages_carry_a_strict_policy(stranger_client: Any) -> None:
    policy = stranger_client.get("/sign-in/")["Content-Security-Policy"]
    assert "default-src 'self'" in policy and "unsafe" not in policy


def test_a_stranger_is_asked_to_sign_in(stranger_client: Any) -> None:
    answer = stranger_client.get("/")
    assert answer.status_code == 302 and answer["Location"].startswith("/sign-in/")


def test_signing_in_and_out(stranger_client: Any, crew: Person) -> None:
    form = {"username": "rowan", "password": "a long word"}
    assert stranger_client.post("/sign-in/", form)["Location"] == "/"
    assert stranger_client.get("/").status_code in (301, 302)
    assert stranger_client.post("/sign-out/")["Location"] == "/sign-in/"


def test_five_wrong_passwords_close_the_door(
    stranger_client: Any, crew: Person, settings: Any
) -> None:
    settings.AXES_ENABLED = True
    wrong = {"username": "rowan", "password": "wrong"}
    answers = [stranger_client.post("/sign-in/", wrong) for _ in range(5)]
    assert [answer.status_code for answer in answers] == [200] * 4 + [429]
    assert "15 minutes" in answers[4].content.decode()
    right = {"username": "rowan", "password": "a long word"}
    assert stranger_client.post("/sign-in/", right).status_code == 429


def test_a_person_changes_their_password(crew_client: Any, crew: Person) -> None:
    assert crew_client.get("/password/").status_code == 200
    form = {
        "old_password": "a long word",
        "new_password1": "seam-by-seam-9",
        "new_password2": "seam-by-seam-9",
    }
    assert crew_client.post("/password/", form | {"old_password": "x"}).context["form"]
    assert crew_client.post("/password/", form)["Location"] == "/"
    crew.refresh_from_db()
    assert crew.check_password("seam-by-seam-9")


def test_a_token_signs_in_to_the_api(stranger_client: Any, crew: Person) -> None:
    form = {"username": "rowan", "password": "a long word"}
    token = stranger_client.post("/api/v1/token/", form).json()["token"]
    assert len(token) == 40
    wrong = form | {"password": "wrong"}
    assert stranger_client.post("/api/v1/token/", wrong).status_code == 400


def test_the_api_describes_itself(stranger_client: Any) -> None:
    answer = stranger_client.get("/api/v1/schema/", HTTP_ACCEPT="application/json")
    assert answer.status_code == 200
    assert "/api/v1/token/" in answer.content.decode()


def test_the_description_is_valid_and_leaves_nothing_open(tmp_path: Path) -> None:
    whole = str(tmp_path / "schema.yaml")
    call_command("spectacular", file=whole, validate=True, fail_on_warn=True)


def test_a_request_runs_by_the_shops_clock(owner_client: Any) -> None:
    ShopProfile.objects.create(pk=1, time_zone="Pacific/Auckland")
    seen: list[str] = []

    def look(request: Any) -> Any:
        seen.append(timezone.get_current_timezone_name())
        return owner_client.get("/health/")

    from shop.middleware import the_shop

    request = type("R", (), {"user": Person(pk=1, role="owner")})()
    the_shop(look)(request)
    assert seen == ["Pacific/Auckland"]
    assert request.shop.time_zone == "Pacific/Auckland"
