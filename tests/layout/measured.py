"""A job whose sheet is filled in: invented measures of a chimney, in inches."""

from __future__ import annotations

from typing import Any

from jobs import measuring
from jobs.models import Job, Measurement, Site
from layout import measures
from shop.models import Person
from tests.world import make_job

SHEET: dict[str, str] = {
    "penetration.front": "32 3/4",
    "penetration.back": "32 3/4",
    "penetration.left": "26 3/4",
    "penetration.right": "26 3/4",
    "roof.pitch": "9:12",
    "roof.left_pan": "11 1/4",
    "roof.right_pan": "10 1/8",
    "roof.below": "10",
    "roof.above": "24",
    "roof.seam.fold": "double",
    "roof.seam.height": "1",
    "roof.seam.turn": "3/8",
    "walls.upstand_front": "6",
    "walls.upstand_side": "6",
    "walls.upstand_back": "8",
    "walls.material": "brick",
    "walls.course": "2 2/3",
    "walls.reglet": "8",
    "metal": "copper 20 oz",
    "build.back": "saddle",
    "build.counterflashing": "stepped",
    "build.sweep_radius": "3",
    "build.leg_at_wall_top": "1/2",
}

RECORD: dict[str, Any] = {"format": "seambook.site/1", "units": "in"}
for _name, _typed in SHEET.items():
    _inner = RECORD
    *_folders, _leaf = _name.split(".")
    for _folder in _folders:
        _inner = _inner.setdefault(_folder, {})
    _inner[_leaf] = _typed
RECORD["penetration"]["kind"] = "chimney"


def take(site: Site, name: str, typed: str, by: Person, **more: Any) -> Measurement:
    taken = measures.read(measures.BY_NAME[name], typed, site.units)
    return measuring.take(site, name, typed, by, **taken._asdict(), **more)


def measured_job(by: Person | None = None, **changed: str | None) -> Job:
    """A job with every measure of SHEET taken; changed by slug, None leaves one out."""
    job = make_job(by)
    site = job.sites.get()
    for name, typed in SHEET.items():
        given = changed.get(name.replace(".", "_"), typed)
        if given is not None:
            take(site, name, given, job.created_by)
    return job
