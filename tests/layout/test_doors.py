"""Rows in, rows out: what is read is what is laid out, what is stored is what was."""

from __future__ import annotations

import json
from dataclasses import asdict
from decimal import Decimal
from typing import Any

import pytest

from jobs import measuring
from jobs.models import Site
from layout import reading, run, stored
from layout.faults import BadRecord, CannotBuild
from layout.folding.result import LaidSet, Piece
from layout.laying import lay_out_job
from layout.measures import SHEETS
from layout.models import Layout
from layout.set_file import set_file
from layout.shop_facts import shop_facts
from shop.models import Brake, Metal, Standard
from tests.layout.measured import RECORD, SHEET, measured_job, take
from tests.world import make_rule

pytestmark = pytest.mark.usefixtures("opened")


def test_a_filled_sheet_is_read_as_the_same_record() -> None:
    assert reading.record_of(measured_job().sites.get()) == RECORD


def test_the_shops_rows_give_the_facts_its_tables_give() -> None:
    assert asdict(reading.facts_of_the_shop("copper 20 oz")) == asdict(
        shop_facts("copper 20 oz")
    )


def test_what_the_owner_changes_is_laid_out_by() -> None:
    Standard.objects.filter(key="slope_lap").update(value="120", source="our own")
    Brake.objects.order_by("-length_mm").first().delete()
    facts = reading.facts_of_the_shop("copper 20 oz")
    assert facts.number("slope_lap") == 120
    assert facts.sources["slope_lap"] == "our own"
    assert facts.brake.name == "bar folder, 36 in"


def test_a_standard_the_shop_lacks_is_as_delivered() -> None:
    Standard.objects.filter(key="hem").delete()
    assert reading.facts_of_the_shop("copper 20 oz").number("hem") == 12.7


def test_a_metal_that_is_not_kept_is_named_with_those_that_are() -> None:
    Metal.objects.filter(name="copper 24 oz").update(active=False)
    with pytest.raises(BadRecord) as bad:
        reading.facts_of_the_shop("copper 23 oz")
    (fault,) = bad.value.faults
    assert fault.field == "metal"
    assert "copper 20 oz" in fault.expected
    assert "copper 24 oz" not in fault.expected


def test_a_shop_without_a_brake_is_told_to_add_one() -> None:
    Brake.objects.update(active=False)
    with pytest.raises(CannotBuild, match="no brake"):
        reading.facts_of_the_shop("copper 20 oz")


def test_every_missing_measure_is_named() -> None:
    job = measured_job(roof_pitch=None, build_back=None)
    with pytest.raises(BadRecord) as bad:
        reading.brief(job)
    assert {fault.field for fault in bad.value.faults} == {"roof.pitch", "build.back"}


def test_the_measure_that_counts_is_the_one_read() -> None:
    job = measured_job()
    site = job.sites.get()
    first = site.measurements.get(name="penetration.front")
    take(site, "penetration.front", "33", job.created_by)
    assert reading.record_of(site)["penetration"]["front"] == "33"
    measuring.choose(first, job.created_by, "the tape slipped the second time")
    assert reading.record_of(site)["penetration"]["front"] == "32 3/4"


def test_a_measure_taken_in_another_unit_keeps_its_length() -> None:
    job = measured_job()
    Site.objects.update(units="mm")
    record = reading.record_of(job.sites.get())
    assert record["penetration"]["front"] == "831.85 mm"
    assert record["roof"]["pitch"] == "9:12"


def test_none_typed_leaves_a_measure_out() -> None:
    job = measured_job(build_counterflashing="none")
    take(job.sites.get(), "walls.course", "none", job.created_by)
    assert reading.record_of(job.sites.get())["walls"]["course"] is None


@pytest.mark.parametrize(
    ("words", "kind"),
    [
        ("brown copper, old", "copper"),
        ("Stainless steel", "stainless"),
        ("galvanized", "steel"),
        ("painted", ""),
        ("", ""),
    ],
)
def test_the_roof_that_is_there_is_known_by_its_words(words: str, kind: str) -> None:
    assert reading.roof_kind(words) == kind


def test_only_rules_that_bind_are_read() -> None:
    job = measured_job()
    make_rule(job, kind="seam_height", words="As the old.", number_mm=Decimal("25.4"))
    waived = make_rule(job, kind="metal", words="Zinc.")
    type(waived).objects.filter(pk=waived.pk).update(
        standing="waived", settled_by="Marigold", settled_on="2026-11-25"
    )
    (rule,) = reading.brief(job).looks
    assert (rule.kind, rule.number, rule.agreed) == ("seam_height", 25.4, False)


def test_the_digest_changes_with_what_the_layout_is_made_from_only() -> None:
    job = measured_job()
    digest = reading.brief(job).digest
    take(job.sites.get(), "penetration.front", "2' 8 3/4\"", job.created_by)
    assert reading.brief(job).digest == digest
    take(job.sites.get(), "penetration.front", "32 7/8", job.created_by)
    changed = reading.brief(job).digest
    Standard.objects.filter(key="hem").update(value="13")
    assert len({digest, changed, reading.brief(job).digest}) == 3


def _through_json(value: Any) -> Any:
    return json.loads(json.dumps(stored.to_json(value)))


@pytest.mark.parametrize("changed", [{}, {"build_back": "falling left"}])
def test_a_stored_set_is_the_set_that_was_laid_out(changed: dict[str, str]) -> None:
    job = measured_job(**changed)
    brief = reading.brief(job)
    laid = run.lay_out(brief.record)
    layout = Layout.objects.get(pk=lay_out_job(job, job.created_by).pk)
    again = stored.laid_set(layout)
    assert again == laid
    # Outlines are left out of ==, and they are what is cut.
    for one, other in zip(again.pieces, laid.pieces, strict=True):
        assert one.pattern.outlines == other.pattern.outlines
    assert json.dumps(set_file(again)) == json.dumps(set_file(laid))
    assert stored.laid_piece(layout.laid_pieces.first()) == laid.pieces[0]


def test_a_set_survives_json_with_its_kinds() -> None:
    laid = run.lay_out(RECORD)
    again = stored.from_json(LaidSet, _through_json(laid))
    assert again == laid
    assert type(again.pieces[0].pattern.vertices[0]) is type(
        laid.pieces[0].pattern.vertices[0]
    )
    assert isinstance(again.pieces, tuple)


def test_json_of_another_kind_is_refused() -> None:
    with pytest.raises(ValueError, match="stored Piece can't be read"):
        stored.from_json(Piece, {"mark": "A", "colour": "green"})


def test_a_layout_without_a_set_says_why() -> None:
    layout = Layout(number=1, job=measured_job(), reason="The walls lean.")
    with pytest.raises(ValueError, match="The walls lean"):
        stored.laid_set(layout)


def test_sheet_has_every_required_measure() -> None:
    measures = SHEETS["chimney"].measures
    assert {m.name for m in measures if m.required} <= set(SHEET)
