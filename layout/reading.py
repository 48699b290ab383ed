"""Rows become plain values: the one door into the layout.

Takes a job, gives the Brief: all that the layout is made from, and its digest.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Callable, Iterator
from dataclasses import asdict, astuple, dataclass, replace
from typing import Any, TypeVar

from jobs import measuring
from jobs.models import Job, LooksRule, Measurement, Site
from layout import measures, section_text, site_record
from layout.faults import BadRecord, CannotBuild
from layout.folding.facts import (
    BrakeFacts,
    MetalFacts,
    PairFacts,
    SeamFacts,
    ShopFacts,
    StockFacts,
)
from layout.geometry.point import Point
from layout.models import Layout
from layout.rules import case
from layout.shop_facts import unknown_metal
from shop.brake_section import shapes
from shop.models import Brake, Metal, MetalPair, SeamKind, Standard
from shop.tables import LAYOUT_STANDARDS, PLAN_STANDARDS

FORMAT = "seambook.brief/1"
"""Raised when the same brief would be laid out otherwise than before."""

ROOF_WORDS = {
    "copper": ("copper",),
    "zinc": ("zinc",),
    "stainless": ("stainless",),
    "aluminium": ("aluminium", "aluminum"),
    "lead": ("lead",),
    "steel": ("steel", "galvanized", "galvanised", "tin", "terne"),
}
"""Kind of metal -> words people write for the roof that is there. The first that is
found counts, so that stainless steel is stainless."""


@dataclass(frozen=True, slots=True)
class Brief:
    """record: as the sheets say it; as_read: the same in mm and degrees; facts: by
    the name of each metal in it."""

    record: dict[str, Any]
    as_read: dict[str, Any]
    facts: dict[str, ShopFacts]
    looks: tuple[case.LooksRule, ...]
    roof_metal: str
    digest: str


def brief(job: Job) -> Brief:
    """All that a job's layout is made from. The last read of the database.

    One place gives its own record, several are held in one. Raises BadRecord with
    every measure that is missing or can't be read, and CannotBuild where the shop has
    no brake or the job no site.
    """
    sites = list(job.sites.prefetch_related("measurements"))
    if not sites:
        raise CannotBuild([f"{job} has no site to measure."])
    records = [None if site.left_out else record_of(site) for site in sites]
    if not any(records[1:]) and not _was_several(job):
        del records[1:]
    readings = _each(records, site_record.read)
    known: dict[str, ShopFacts] = {}

    def learn(reading: site_record.Reading) -> None:
        if reading.metal not in known:
            known[reading.metal] = facts_of_the_shop(reading.metal)

    _each(readings, learn)
    looks = tuple(_looks(rule) for rule in job.looks_rules.binding().order_by("pk"))
    looks += tuple(_booked_seam(job))
    roof = roof_kind(job.present_metal)
    as_read = _whole([it.as_read if it else None for it in readings])
    return Brief(
        _whole(records),
        as_read,
        known,
        looks,
        roof,
        _digest(as_read, known, looks, roof),
    )


Given = TypeVar("Given")
Made = TypeVar("Made")


def _was_several(job: Job) -> bool:
    """True once pieces were marked by their place: 1-A stays 1-A."""
    return Layout.objects.of(job).filter(record__has_key="several").exists()


def _each(
    given: list[Given | None], make: Callable[[Given], Made]
) -> list[Made | None]:
    """What is made of each that is there. Raises BadRecord with the faults of all,
    each field named as in a record of several where there is more than one."""
    made: list[Made | None] = []
    faults = []
    for number, one in enumerate(given):
        try:
            made.append(None if one is None else make(one))
        except BadRecord as bad:
            at = f"several[{number}]." if len(given) > 1 else ""
            faults += [replace(it, field=f"{at}{it.field}") for it in bad.faults]
    if faults:
        raise BadRecord(faults)
    return made


def _whole(records: list[dict[str, Any] | None]) -> dict[str, Any]:
    if len(records) == 1 and records[0]:
        return records[0]
    return {"format": site_record.FORMAT, "several": records}


def record_of(site: Site) -> dict[str, Any]:
    """The site record that the sheet's counting measures make, whole or not."""
    counted = measuring.counted(site)
    sheet = measures.SHEETS[site.kind]
    record: dict[str, Any] = {"format": site_record.FORMAT, "units": site.units}
    for measure in sheet.measures:
        taken = counted.get(measure.name)
        inner = record
        *folders, leaf = measure.name.split(".")
        for folder in folders:
            inner = inner.setdefault(folder, {})
        if taken is not None:
            inner[leaf] = _said(taken, site, measure)
    if sheet.field == "penetration":
        record["penetration"]["kind"] = site.kind
    return record


def _said(taken: Measurement, site: Site, measure: measures.Measure) -> Any:
    """A measure as the record takes it. What was typed is exact, so it is kept
    where the tape's unit is still the site's."""
    if measure.nullable and taken.value_text == measures.NONE:
        return None
    if measure.reads == "section":
        parts = section_text.parts(taken.value_text)
        if taken.units == site.units:
            return parts
        return section_text.in_mm(parts, "mm" if taken.units == "mm" else "in")
    if taken.value_text:
        return taken.value_text
    if taken.value_mm is not None and taken.units != site.units:
        return f"{taken.value_mm.normalize():f} mm"
    return taken.as_typed


def facts_of_the_shop(metal: str) -> ShopFacts:
    """The shop's facts for one metal by its name, from its own rows.

    Raises BadRecord where the metal is not kept, CannotBuild without a brake.
    """
    wanted = " ".join(metal.split()).casefold()
    kept = list(Metal.objects.all())
    row = next((it for it in kept if it.name.casefold() == wanted), None)
    if row is None:
        offered = [it.name for it in kept if it.active]
        raise BadRecord([unknown_metal(metal, offered)])
    brake = Brake.objects.active().order_by("-length_mm", "name").first()
    if brake is None:
        raise CannotBuild(["The shop has no brake. The owner adds one under Shop."])
    stocks = row.stocks.order_by("form", "width_mm", "length_mm")
    values, sources = _standards()
    return ShopFacts(
        _metal(row),
        _brake(brake),
        tuple(
            StockFacts(row.name, it.form, float(it.width_mm), float(it.length_mm or 0))
            for it in stocks
        ),
        values,
        sources,
        pairs_kept(),
        seams_kept(),
    )


def _metal(row: Metal) -> MetalFacts:
    return MetalFacts(
        row.name,
        row.kind,
        float(row.thickness_mm),
        float(row.density_kg_m3),
        float(row.smallest_radius_mm),
        row.sides,
        row.source,
        float(row.stretch),
        float(row.expansion_along_mm_m) / 1000,
        float(row.expansion_across_mm_m) / 1000,
        row.expansion_source,
        None if row.fold_from_c is None else float(row.fold_from_c),
        row.fold_source,
    )


def _brake(row: Brake) -> BrakeFacts:
    return BrakeFacts(
        row.name,
        float(row.length_mm),
        float(row.throat_mm),
        float(row.smallest_flange_mm),
        float(row.largest_angle_deg),
        float(row.radius_mm),
        _section(row.jaw),
        _section(row.bed),
        _section(row.leaf),
        float(row.smallest_clamp_mm or 0),
    )


def _section(given: list[Any]) -> tuple[tuple[Point, ...], ...]:
    return tuple(tuple(Point(x, y) for x, y in shape) for shape in shapes(given))


def pairs_kept() -> tuple[PairFacts, ...]:
    """Metals that must not meet in this shop, but for those it set aside."""
    pairs = (
        PairFacts(pair.first, pair.second, pair.meeting, pair.why, pair.source)
        for pair in MetalPair.objects.active()
    )
    return tuple(sorted(pairs, key=astuple))


def seams_kept() -> tuple[SeamFacts, ...]:
    """The standing seams the shop goes by, of every kind of metal."""
    seams = (
        SeamFacts(
            seam.metal_kind,
            seam.made,
            seam.fold,
            float(seam.receiving_mm or 0),
            float(seam.covering_mm or 0),
            float(seam.height_mm),
            float(seam.lost_mm),
            float(seam.play_mm),
            seam.source,
        )
        for seam in SeamKind.objects.active()
    )
    return tuple(sorted(seams, key=astuple))


def _standards() -> tuple[dict[str, float | str], dict[str, str]]:
    """Key -> value and key -> source, of all that a layout goes by. One that a shop
    lacks is as delivered."""
    values: dict[str, float | str] = {row.key: row.value for row in LAYOUT_STANDARDS}
    sources = {row.key: row.source for row in LAYOUT_STANDARDS}
    for standard in Standard.objects.exclude(key__in=PLAN_STANDARDS).order_by("key"):
        values[standard.key] = standard.read()
        sources[standard.key] = standard.source
    return values, sources


def _booked_seam(job: Job) -> Iterator[case.LooksRule]:
    """The roof's seam as it was booked: the measured one should be the same."""
    kind, height = job.present_seam_kind, job.present_seam_height_mm
    if kind in (Job.Seam.SINGLE, Job.Seam.DOUBLE) or height is not None:
        yield case.LooksRule(
            "present_seam",
            str(kind),
            None if height is None else float(height),
            "the booking",
            True,
        )


def _looks(rule: LooksRule) -> case.LooksRule:
    return case.LooksRule(
        rule.kind,
        rule.words,
        None if rule.number_mm is None else float(rule.number_mm),
        rule.who_asked,
        rule.standing == LooksRule.Standing.AGREED,
    )


def roof_kind(words: str) -> str:
    """The kind of metal that the words name, or "" where they name none."""
    said = set(re.findall(r"[a-z]+", words.casefold()))
    for kind, names in ROOF_WORDS.items():
        if said.intersection(names):
            return kind
    return ""


def _digest(
    as_read: dict[str, Any],
    facts: dict[str, ShopFacts],
    looks: tuple[case.LooksRule, ...],
    roof_metal: str,
) -> str:
    known = {metal: asdict(kept) for metal, kept in facts.items()}
    whole = {
        "format": FORMAT,
        "record": as_read,
        "facts": known if "several" in as_read else known[as_read["metal"]],
        "looks": [asdict(rule) for rule in looks],
        "roof_metal": roof_metal,
    }
    canonical = json.dumps(whole, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(canonical.encode()).hexdigest()
