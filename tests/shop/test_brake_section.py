from __future__ import annotations

import re
from typing import Any
from xml.etree import ElementTree

import pytest
from django.core.exceptions import ValidationError

from layout.folding import brake as usual
from shop import brake_section
from shop.models import Brake

NOSE = [[0, 0], [-45, 25], [-110, 25], [-110, 0]]
BLOCK = [[0, 0], [-110, 0], [-110, -80], [0, -80]]
SQUARE = {"jaw": [[0, 0], [0, 9], [-9, 9], [-9, 0]], "bed": BLOCK}


def test_the_usual_section_passes_its_own_checks() -> None:
    for part, shapes in (("jaw", usual.JAW), ("bed", usual.BED), ("leaf", usual.LEAF)):
        assert brake_section.faults(part, [[list(p) for p in s] for s in shapes]) == []


@pytest.mark.parametrize(
    ("part", "given", "said"),
    [
        ("jaw", "round", "not a list of shapes"),
        ("jaw", {"x": 1}, "not a list of shapes"),
        ("jaw", [NOSE] * 13, "13 shapes are too many"),
        ("jaw", [[[0, 0], [-9, 9]]], "Shape 1: it needs 3 to 24 corners"),
        ("jaw", [NOSE, [[0, 0], [-9, "9"], [-9, 0]]], "Shape 2: corner 2, [-9, '9']"),
        ("jaw", [[[0, 0], [-9, True], [-9, 0]]], "corner 2"),
        ("jaw", [[[0, 0], [float("nan"), 9], [-9, 0]]], "corner 2"),
        ("jaw", [[[0, 0], [-2001, 9], [-9, 0]]], "neither farther than 2000"),
        ("jaw", [NOSE[::-1]], "corners run clockwise"),
        (
            "jaw",
            [[[0, 0], [-20, 5], [-45, 25], [-110, 25], [-110, 0]]],
            "not convex at corner 2, [-20, 5]",
        ),
        ("jaw", [[[0, 0], [-45, 0], [-110, 0], [-60, -9]]], "not convex"),
        ("jaw", [SQUARE["jaw"] * 2], "round more than once"),
        ("jaw", [BLOCK], "corner 3, [-110, -80], lies outside. The jaw lies above"),
        ("bed", [NOSE], "The bed lies below"),
        ("leaf", [BLOCK], "The leaf lies below the metal and before"),
    ],
)
def test_faults_are_said_in_words(part: str, given: Any, said: str) -> None:
    assert said in " ".join(brake_section.faults(part, given))


def test_an_outline_that_runs_round_twice_is_found() -> None:
    star = [[0, 0], [-40, 30], [-80, 0], [-15, 22], [-65, 22]]
    left_turns = star if brake_section._turn(star, 1) > 0 else star[::-1]
    assert "round more than once" in " ".join(brake_section.faults("jaw", [left_turns]))


def test_the_picture_holds_every_shape_the_right_way_up() -> None:
    drawn = brake_section.picture(
        {"jaw": brake_section.shapes([NOSE]), "bed": brake_section.shapes([BLOCK])},
        'Section of "A&B" <brake>',
    )
    root = ElementTree.fromstring(drawn)
    shapes = [e for e in root if e.tag.endswith("polygon")]
    assert [e.get("points") for e in shapes][0] == "0,0 -45,-25 -110,-25 -110,0"
    assert len(shapes) == 2
    assert root.get("aria-label") == 'Section of "A&B" <brake>'
    left, top, width, height = map(float, str(root.get("viewBox")).split())
    assert left < -110 and top < -25 and left + width > 0 and top + height > 80
    assert "style" not in drawn


@pytest.mark.django_db
@pytest.mark.usefixtures("opened")
def test_a_brake_with_a_wrong_section_is_refused_by_field() -> None:
    brake = Brake.objects.first()
    brake.jaw, brake.leaf = [NOSE[::-1]], [BLOCK]
    with pytest.raises(ValidationError) as refusal:
        brake.full_clean()
    assert set(refusal.value.message_dict) == {"jaw", "leaf"}


@pytest.mark.django_db
@pytest.mark.usefixtures("opened")
def test_the_owner_sees_the_section_that_is_kept(owner_client: Any) -> None:
    brake = Brake.objects.first()
    url = f"/shop/shop/brake/{brake.pk}/change/"
    page = owner_client.get(url).content.decode()
    assert "The usual section" in page and "brake-section" not in page
    brake.jaw = [NOSE]
    brake.save()
    page = owner_client.get(url).content.decode()
    assert re.search(r'<svg class="brake-section".*?<polygon', page)


@pytest.mark.django_db
@pytest.mark.usefixtures("opened")
def test_the_owner_enters_a_section_in_the_admin(owner_client: Any) -> None:
    brake = Brake.objects.first()
    url = f"/shop/shop/brake/{brake.pk}/change/"
    form = {
        "name": brake.name,
        "active": "on",
        **{
            key: str(getattr(brake, key))
            for key in (
                "length_mm",
                "throat_mm",
                "smallest_flange_mm",
                "largest_angle_deg",
                "radius_mm",
            )
        },
        "smallest_clamp_mm": "12",
        "jaw": "[[[0, 0], [0, 40], [-30, 40], [-30, 0]]]",
        "bed": "[]",
        "leaf": "[[[0, 0], [0, 40], [-30, 40]]]",
    }
    refused = owner_client.post(url, form)
    assert refused.status_code == 200
    assert "The leaf lies below" in refused.content.decode()
    saved = owner_client.post(url, {**form, "leaf": "[]"})
    assert saved.status_code == 302, saved.content.decode()
    brake.refresh_from_db()
    assert brake.jaw == [[[0, 0], [0, 40], [-30, 40], [-30, 0]]]
    assert brake.bed == [] and brake.smallest_clamp_mm == 12
