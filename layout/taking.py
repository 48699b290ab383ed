"""Takes what stands on a sheet: each measure a row, none of them overwritten."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from django.db import transaction

from jobs import measuring
from jobs.models import Measurement, Site
from layout import likely, measures, section_text
from layout.measures import Measure, Sheet, Taken
from layout.section_text import Items
from shop.models import Person
from shop.units import Unit


def take_sheet(
    site: Site,
    typed: Mapping[str, tuple[str, Taken]],
    by: Person,
    *,
    with_: str = "tape",
    note: str = "",
    key: str = "",
) -> list[Measurement]:
    """Adds a row for each measure. All or none.

    typed: name -> (as typed, what was read)
    key: of this sending; the same sheet sent twice adds its rows once
    """
    with transaction.atomic():
        return [
            measuring.take(
                site,
                name,
                as_typed,
                by,
                **taken._asdict(),
                with_=with_ if taken.number is not None else "",
                note=note,
                key=_key(site, by, key, name, as_typed),
            )
            for name, (as_typed, taken) in typed.items()
        ]


def _key(site: Site, by: Person, key: str, name: str, as_typed: str) -> str | None:
    """What is typed is part of it: a sheet put right and sent again is a new taking."""
    if not key:
        return None
    said = hashlib.sha256(f"{name}={as_typed}".encode()).hexdigest()[:16]
    return f"{by.pk}:measure:{site.pk}:{key}:{said}"


class Shown(NamedTuple):
    """One taking as the sheet shows it."""

    row: Measurement
    value: str
    counts: bool
    why: str
    parts: Items | None = None


@dataclass(frozen=True)
class Line:
    """One measure on the sheet: what counts, why, and all that was taken."""

    measure: Measure
    counts: Shown | None
    takings: list[Shown]
    warnings: list[str]


def lines(site: Site) -> list[Line]:
    """Every measure of the sheet. Two queries, however many were taken."""
    fetched = (
        Site.objects.select_related("job")
        .prefetch_related("measurements__taken_by")
        .get(pk=site.pk)
    )
    rows: dict[str, list[Measurement]] = {}
    for row in fetched.measurements.all():
        row.site = fetched
        rows.setdefault(row.name, []).append(row)
    known = numbers(fetched)
    return [
        _line(measure, rows.get(measure.name, []), known, unit_of(fetched))
        for measure in sheet_of(fetched).measures
    ]


def sheet_of(site: Site) -> Sheet:
    """What is measured of a site of its kind."""
    return measures.SHEETS[site.kind]


def unit_of(site: Site) -> Unit:
    """What the tape of this site says."""
    return "mm" if site.units == Site.Units.MM else "in"


def numbers(site: Site) -> dict[str, float]:
    """Name -> mm or degrees of the measures that count."""
    found = {}
    for name, row in measuring.counted(site).items():
        value = row.value_mm if row.value_mm is not None else row.value_deg
        if value is not None:
            found[name] = float(value)
    return found


def _line(
    measure: Measure, rows: list[Measurement], known: Mapping[str, float], unit: Unit
) -> Line:
    rows = sorted(rows, key=lambda row: (row.taken_at, row.pk), reverse=True)
    winner = max(rows, key=lambda row: (row.chosen, row.taken_at, row.pk), default=None)
    takings = [
        Shown(
            row,
            shown(measure, row, unit),
            row is winner,
            measuring.why_counts(row),
            parts_of(measure, row.value_text, "mm" if row.units == "mm" else "in"),
        )
        for row in rows
    ]
    counts = next((taking for taking in takings if taking.counts), None)
    number = known.get(measure.name)
    warned = likely.unlikely(measure, number, known, unit)
    return Line(measure, counts, takings, warned)


def parts_of(measure: Measure, text: str, unit: Unit) -> Items | None:
    """Legs, folds and hems in mm of a section as it was written, else None."""
    if measure.reads != "section" or text == measures.NONE:
        return None
    return section_text.read(measure.name, measure.rule, text, unit)


def shown(measure: Measure, row: Measurement, unit: Unit) -> str:
    return measures.show(measure, row.value_mm, row.value_deg, row.value_text, unit)


def missing(site: Site) -> list[Measure]:
    """Required measures that nobody took yet."""
    counted = measuring.counted(site)
    wanted = sheet_of(site).measures
    return [it for it in wanted if it.required and it.name not in counted]


def by_group(sheet: Iterable[Line]) -> dict[str, list[Line]]:
    groups: dict[str, list[Line]] = {name: [] for name in measures.GROUPS}
    for line in sheet:
        groups[line.measure.group].append(line)
    return {name: found for name, found in groups.items() if found}
