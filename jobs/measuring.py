"""Takes measures on site, and says which one counts and why.

A second taking never overwrites the first. The newest counts, unless somebody chose
an older one and gave a reason.
"""

from __future__ import annotations

import datetime
from decimal import Decimal
from fractions import Fraction

from django.db import transaction
from django.utils import timezone

from jobs import log
from jobs.models import Measurement, Site
from shop.models import Person
from shop.units import as_decimal

Number = Decimal | Fraction | float | int


def take(
    site: Site,
    name: str,
    as_typed: str,
    by: Person,
    *,
    mm: Number | None = None,
    deg: Number | None = None,
    text: str = "",
    at: datetime.datetime | None = None,
    with_: str = "tape",
    note: str = "",
    key: str | None = None,
) -> Measurement:
    """Adds one measure to a site, with its event.

    name: path in the site record, such as penetration.front
    as_typed: what the person wrote; kept, because it is exact
    mm, deg, text: what was read from it, exactly one of the three
    key: the same key again gives the row taken first
    Raises ValueError if not exactly one value is given.
    """
    if sum((mm is not None, deg is not None, bool(text))) != 1:
        raise ValueError(f"{name}: give one of mm, deg or text")
    with transaction.atomic():
        site = Site.objects.select_for_update(of=("self",)).get(pk=site.pk)
        if key and (earlier := _taken_before(site, name, key)):
            return earlier
        before = counted(site).get(name)
        taken = Measurement.objects.create(
            site=site,
            name=name,
            as_typed=as_typed,
            units=site.units,
            value_mm=_places(mm, 6),
            value_deg=_places(deg, 8),
            value_text=text,
            taken_by=by,
            taken_at=at or timezone.now(),
            taken_with=with_,
            note=note,
            key=key or None,
        )
        log.write(
            site.job,
            "measured",
            by,
            about=name,
            before=before.as_typed if before else "",
            after=as_typed,
            reason=note,
        )
        return taken


def counted(site: Site) -> dict[str, Measurement]:
    """Name -> the measure that counts: the chosen one, or else the newest.

    One query, or none if the site's measurements were fetched before.
    """
    rows = sorted(
        site.measurements.all(), key=lambda row: (row.chosen, row.taken_at, row.pk)
    )
    return {row.name: row for row in rows}


def choose(measurement: Measurement, by: Person, reason: str) -> Measurement:
    """Lets this measure count although a newer one was taken."""
    reason = " ".join(reason.split())
    if not reason:
        raise ValueError("Reason: say in a few words why this one counts.")
    with transaction.atomic():
        site = Site.objects.select_for_update(of=("self",)).get(pk=measurement.site_id)
        before = counted(site).get(measurement.name)
        _let_go(site, measurement.name)
        Measurement.objects.filter(pk=measurement.pk).update(
            chosen=True, chosen_because=reason
        )
        log.write(
            site.job,
            "chosen",
            by,
            about=measurement.name,
            before=before.as_typed if before else "",
            after=measurement.as_typed,
            reason=reason,
        )
        measurement.refresh_from_db()
        return measurement


def let_newest_count(site: Site, name: str, by: Person, reason: str) -> None:
    """Takes a choice back: the newest measure of that name counts again."""
    with transaction.atomic():
        site = Site.objects.select_for_update(of=("self",)).get(pk=site.pk)
        before = counted(site).get(name)
        if before is None or not before.chosen:
            return
        _let_go(site, name)
        log.write(
            site.job,
            "newest counts",
            by,
            about=name,
            before=before.as_typed,
            after=counted(site)[name].as_typed,
            reason=reason,
        )


def why_counts(measurement: Measurement) -> str:
    """Why this measure counts, or why it does not, in words."""
    rows = [
        row
        for row in measurement.site.measurements.all()
        if row.name == measurement.name
    ]
    winner = max(rows, key=lambda row: (row.chosen, row.taken_at, row.pk))
    if winner.pk != measurement.pk:
        if winner.chosen:
            return f"Does not count: {winner.as_typed} was chosen."
        return f"Does not count: {winner.as_typed} was taken later."
    if measurement.chosen:
        return f"Counts: chosen, because {measurement.chosen_because}"
    if len(rows) == 1:
        return "Counts: the only one taken."
    return f"Counts: the newest of {len(rows)}."


def _let_go(site: Site, name: str) -> None:
    site.measurements.filter(name=name, chosen=True).update(
        chosen=False, chosen_because=""
    )


def _taken_before(site: Site, name: str, key: str) -> Measurement | None:
    earlier = Measurement.objects.filter(key=key).first()
    if earlier and (earlier.site_id, earlier.name) != (site.pk, name):
        raise ValueError(f"{name}: this key was used before, for {earlier.name}")
    return earlier


def _places(number: Number | None, places: int) -> Decimal | None:
    if number is None:
        return None
    if isinstance(number, Fraction):
        exact = as_decimal(number)
    else:
        exact = Decimal(str(number))
    return exact.quantize(Decimal(1).scaleb(-places))
