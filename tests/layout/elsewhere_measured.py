"""Places elsewhere on the roof, measured through the pages as a person types."""

from __future__ import annotations

from typing import Any

from jobs import booking
from jobs.models import Job, Site
from tests import elsewhere
from tests.world import make_job

PROFILE: dict[str, Any] = {
    "format": "seambook.site/1",
    "units": "mm",
    "profile": {
        "length": "1200",
        "section": [
            {"hem": "12", "kind": "closed", "direction": "down"},
            {"leg": "25"},
            {"fold": "60", "direction": "down"},
            {"leg": "90.5"},
            {"fold": "90", "direction": "up"},
            {"leg": "60"},
        ],
        "far_end": None,
        "radius": "2",
        "faces": "outside",
    },
    "metal": "zinc 0.7 mm",
}
VALLEY: dict[str, Any] = {
    "format": "seambook.site/1",
    "units": "in",
    "valley": {"length": "7' 10\"", "wing": "9 1/2", "upstand": "3/4"},
    "roof": {"pitch": "8:12", "other_pitch": "10:12", "plan_angle": "90°"},
    "metal": "copper 20 oz",
}
"""Invented, as those of tests/samples/elsewhere are."""

RECORDS: dict[str, dict[str, Any]] = {
    **{name: elsewhere.record(name) for name in elsewhere.names()},
    "profile-zinc-mm": PROFILE,
    "valley-copper-in": VALLEY,
}


def kind_of(record: dict[str, Any]) -> str:
    return next(it for it in record if it not in ("format", "units", "metal", "roof"))


def sheet(record: dict[str, Any]) -> dict[str, str]:
    """What is typed on the sheet so that it makes the record."""
    typed: dict[str, str] = {}

    def walk(given: Any, path: str) -> None:
        if isinstance(given, dict):
            for name, inner in given.items():
                walk(inner, f"{path}-{name}" if path else name)
        elif isinstance(given, list):
            typed[path] = "\n".join(_line(part) for part in given)
        elif given is not None:
            typed[path] = given

    walk({k: v for k, v in record.items() if k not in ("format", "units")}, "")
    return {"taken_with": "tape", "note": "", "key": "k", **typed}


def _line(part: dict[str, str]) -> str:
    kind = next(iter(part))
    return " ".join((kind, *part.values()))


def place(job: Job, record: dict[str, Any], name: str = "") -> Site:
    return booking.add_site(
        job, job.created_by, kind=kind_of(record), units=record["units"], name=name
    )


def job_of(record: dict[str, Any]) -> Job:
    """A job whose one place is of the record's kind."""
    job = make_job()
    job.sites.update(kind=kind_of(record), units=record["units"])
    return job
