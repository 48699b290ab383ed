"""The demo job: one chimney, invented from chimney cap to doormat.

No person, firm or place in it exists. Loading it twice changes nothing.
"""

from __future__ import annotations

import datetime
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.utils import timezone

from jobs import booking, log, looks, measuring
from jobs.models import Client, Job, Site
from shop.models import Person
from shop.units import Unit, read_length, read_pitch

CLIENT = {
    "name": "Ottilie Fernhollow",
    "phone": "555 0143",
    "email": "ottilie@fernhollow.example",
    "address": "7 Juniper Bend\nTarn Hollow",
    "note": "Best reached before nine. Reads every line of a quote.",
}
TITLE = "Chimney on the north slope"
JOB = {
    "title": TITLE,
    "site_address": "7 Juniper Bend\nTarn Hollow",
    "leaks": "Water stain on the bedroom ceiling under the chimney, after wind from "
    "the north. The back pan is full of old tar.",
    "present_metal": "copper",
    "present_seam_kind": Job.Seam.DOUBLE,
    "present_seam_height_mm": Decimal("25.4"),
    "present_pan_width_mm": Decimal("431.8"),
    "present_colour": "brown, going green at the eave",
    "access": "Ladder on the garden side, firm ground. Park on the gravel. The goose "
    "is all noise.",
}
HAZARDS = (
    "Power line to the gable: keep the ladder on the garden side. Soft boards above "
    "the chimney. The old flashing is lead."
)
ROOF_NOTES = "Slope faces north. Pans run true. Brick is sound, joints a hand deep."

# Path in the site record -> what the tape, the level or the eye said.
MEASURES = {
    "penetration.front": "32 1/2",
    "penetration.back": "32 3/4",
    "penetration.left": "26 3/4",
    "penetration.right": "26 3/4",
    "roof.pitch": "9:12",
    "roof.left_pan": "11 1/4",
    "roof.right_pan": "10 1/8",
    "roof.below": "10",
    "roof.above": "18",
    "roof.seam.fold": "double",
    "roof.seam.height": "1",
    "roof.seam.turn": "3/8",
    "walls.upstand_front": "6",
    "walls.upstand_side": "6",
    "walls.upstand_back": "8",
    "walls.material": "brick",
    "walls.course": "2 2/3",
    "walls.reglet": "8",
}
WORDS = ("roof.seam.fold", "walls.material")


def load() -> Job:
    """The demo job, made at the first call. Gives the same job at every later one."""
    with transaction.atomic():
        if job := Job.objects.filter(title=TITLE, client__name=CLIENT["name"]).first():
            return job
        office, crew = _people()
        client = Client.objects.create(**CLIENT)
        job = booking.book(office, client=client, units="in", **JOB, **_days())
        _looks(job, office)
        site = job.sites.get()
        booking.note_site(site, crew, {"hazards": HAZARDS, "roof_notes": ROOF_NOTES})
        _measure(site, crew)
        return job


def _people() -> tuple[Person, Person]:
    """Whoever is in the office and on the crew; if nobody, invented ones who can't
    sign in."""
    return (
        _person("wren", "Wren Ashgrove", Person.Role.OFFICE),
        _person("rowan", "Rowan Pike", Person.Role.CREW),
    )


def _person(username: str, name: str, role: str) -> Person:
    if there := Person.objects.filter(role=role, is_active=True).first():
        return there
    first, last = name.split()
    person = Person(username=username, first_name=first, last_name=last, role=role)
    person.set_unusable_password()
    person.save()
    return person


def _days() -> dict[str, datetime.date]:
    today = timezone.localdate()
    return {
        "wished_from": today,
        "wished_until": today + datetime.timedelta(days=30),
        "visit_on": today,
        "install_from": today + datetime.timedelta(days=6),
        "install_until": today + datetime.timedelta(days=7),
    }


def _looks(job: Job, office: Person) -> None:
    asked: tuple[dict[str, Any], ...] = (
        {
            "kind": "seam_height",
            "words": "New seams as high as the old ones.",
            "number_mm": Decimal("25.4"),
        },
        {"kind": "counterflashing", "words": "Stepped with the brick courses."},
        {"kind": "no_sealant", "words": "No sealant where it can be seen."},
        {
            "kind": "finish",
            "words": "New copper may be bright, it will turn brown by itself.",
        },
    )
    for number, rule in enumerate(asked):
        made = looks.ask(job, office, who_asked=CLIENT["name"], **rule)
        if number < 2:
            day = timezone.localdate()
            looks.settle(made, office, "agreed", CLIENT["name"], day)


def _measure(site: Site, crew: Person) -> None:
    for name, as_typed in MEASURES.items():
        _take(site, crew, name, as_typed)
    note = "Taken again: the tape had slipped under the old flashing."
    _take(site, crew, "penetration.front", "32 3/4", note)
    log.write(site.job, "measured the chimney", crew, about="all of it, dry day")


def _take(site: Site, crew: Person, name: str, as_typed: str, note: str = "") -> None:
    unit: Unit = "in"
    read: dict[str, Any]
    if name in WORDS:
        read = {"text": as_typed}
    elif name == "roof.pitch":
        read = {"deg": read_pitch(as_typed), "with_": "level and rule"}
    else:
        read = {"mm": read_length(as_typed, unit)}
    measuring.take(site, name, as_typed, crew, note=note, **read)
