"""Quotes and hand-overs on paper: reckoned from real layouts, read back as PDFs."""

from __future__ import annotations

from decimal import Decimal
from io import BytesIO
from typing import Any

import pdfplumber
import pytest

from jobs import looks, progress
from jobs.costing import Asked, Extra
from jobs.models import Job, Piece, Quote
from layout import estimating
from layout.drawing.writing import TEXT
from layout.laying import lay_out_job
from media import hand_overs, quotes, tasks
from media.documents import NothingToDraw
from media.models import Document
from shop.models import ShopProfile
from shop.money import show_money
from tests.layout.measured import measured_job
from tests.priced import price_all
from tests.world import make_job

pytestmark = pytest.mark.django_db

# A worker finds what it can carry; a test has to be told.
assert tasks.carry_quote


@pytest.fixture
def job(owner: Any, office: Any, opened: None) -> Job:
    price_all(owner)
    ShopProfile.objects.update(
        name="Our own invented shop", address="1 Tideline Row", quote_terms="Pay us."
    )
    return measured_job(office)


def words_of(document: Document) -> str:
    document.refresh_from_db()
    with document.file.open("rb") as file, pdfplumber.open(file) as pdf:
        return " ".join(
            " ".join((page.extract_text() or "").split()) for page in pdf.pages
        )


def on_paper(quote: Quote, by: Any, django_capture: Any, **given: Any) -> Document:
    with django_capture(execute=True):
        document = quotes.ask_for_paper(quote, by, **given)
    document.refresh_from_db()
    assert document.is_made(), document.why()
    return document


def test_metal_and_hours_come_from_the_layout(job: Job, office: Any) -> None:
    quote = quotes.draw_up(job, office, Asked())
    layout = lay_out_job(job, office)
    assert quote.layout_number == layout.number
    works = {work.mark: work for work in estimating.works(layout)}
    metal = {line.mark: line for line in quote.lines.filter(part="metal")}
    assert metal.keys() == works.keys()
    for laid in layout.laid_pieces.all():
        blank = Decimal(str(laid.width_mm)) * Decimal(str(laid.length_mm)) / 1_000_000
        assert float(works[laid.mark].blank_m2) == pytest.approx(float(blank), abs=1e-5)
        # By the rectangle and the waste, so never less than the piece itself weighs.
        assert float(metal[laid.mark].quantity) >= laid.weight_kg * laid.quantity
        hours = quote.lines.filter(mark=laid.mark, stage="cutting").get()
        assert hours.pieces == laid.quantity


def test_a_layout_with_blocking_findings_is_not_quoted(
    owner: Any, office: Any, office_client: Any, opened: None
) -> None:
    price_all(owner)
    job = measured_job(office, walls_upstand_side="1")
    with pytest.raises(NothingToDraw) as said:
        quotes.draw_up(job, office, Asked())
    assert "is refused, so it can't be quoted" in said.value.reasons[0]
    sent = {"visits": 2, "people": 2, "prices_on": "2026-11-25"}
    page = office_client.post(f"/jobs/{job.pk}/quote/", sent)
    assert page.status_code == 422
    assert "raise the upstand" in page.content.decode().lower()
    assert not Quote.objects.exists()


def test_without_measures_or_prices_the_page_says_what_to_do(
    office: Any, office_client: Any, opened: None
) -> None:
    sent = {"visits": 2, "people": 2, "prices_on": "2026-11-25"}
    bare = office_client.post(f"/jobs/{make_job(office).pk}/quote/", sent)
    assert "Measure first" in bare.content.decode() and bare.status_code == 422
    job = measured_job(office)
    page = office_client.post(f"/jobs/{job.pk}/quote/", sent).content.decode()
    assert (
        "Copper 20 oz, an hour" in page and "Write it in the price book first" in page
    )


def test_a_quote_is_drawn_up_on_its_page(job: Job, office_client: Any) -> None:
    sent = {
        "visits": "3",
        "people": "2",
        "setting_up": "4.5",
        "prices_on": "2026-11-25",
        "words_1": "Scaffold",
        "amount_1": "1,250.00",
        "key": "k",
    }
    for _ in range(2):
        answer = office_client.post(f"/jobs/{job.pk}/quote/", sent)
        assert answer.status_code == 302
    quote = Quote.objects.get()
    assert quote.lines.get(part="extra").amount == 1250
    assert quote.lines.get(stage="setting_up").quantity == Decimal("270")
    assert quote.asked["visits"] == 3


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"words_1": "Lift"}, "costs how much"),
        ({"amount_1": "5"}, "Say what this amount is for"),
        ({"visits": "-1"}, "greater than or equal to 0"),
        ({"prices_on": "1/2/2026"}, "not a day we can read for sure"),
        ({"prices_on": "2019-01-01"}, "no price on Tue 1 Jan 2019"),
    ],
)
def test_a_faulty_quote_form_loses_nothing(
    job: Job, office_client: Any, change: dict[str, str], words: str
) -> None:
    sent = {"visits": "2", "people": "7", "prices_on": "2026-11-25", **change}
    answer = office_client.post(f"/jobs/{job.pk}/quote/", sent)
    assert answer.status_code == 422
    page = answer.content.decode()
    assert words in page and 'value="7"' in page


def test_the_paper_says_all_that_a_client_needs(
    job: Job, office: Any, django_capture_on_commit_callbacks: Any
) -> None:
    rule = looks.ask(
        job,
        office,
        kind="no_sealant",
        words="No sealant to be seen.",
        who_asked="Quill",
    )
    waived = looks.ask(
        job, office, kind="other", words="Ball on top.", who_asked="Quill"
    )
    looks.settle(waived, office, "waived", "Marigold Quill", rule.job.created_at.date())
    asked = Asked(extras=(Extra("Scaffold on the garden side", Decimal(100)),))
    quote = quotes.draw_up(job, office, asked)
    document = on_paper(quote, office, django_capture_on_commit_callbacks)
    said = words_of(document)
    for words in (
        "Quote 1",
        f"Paper {document.number}",
        "Marigold Quill",
        "A saddle of 2 halves behind the chimney",
        "An apron below the chimney",
        "copper 20 oz",
        "Scaffold on the garden side.",
        "we keep to it: – No visible sealant: No sealant to be seen.",
        "Ball on top. Waived by Marigold Quill on",
        "Tax, 8 %",
        "Pay us.",
        "Local codes, the metal maker's instructions and licensed practice come first",
        "signature of the client",
        "page 1 of 2",
    ):
        assert words in said, words
    total = show_money(quote.total, "USD").replace("\u00a0", " ")
    assert total in said.replace("\u00a0", " ")


def test_the_paper_does_not_show_how_it_was_reckoned(
    job: Job, office: Any, django_capture_on_commit_callbacks: Any
) -> None:
    quote = quotes.draw_up(job, office, Asked())
    document = on_paper(quote, office, django_capture_on_commit_callbacks)
    said = words_of(document).lower()
    assert "margin" not in said and "overhead" not in said and "labour" not in said


def test_the_paper_has_its_picture(
    job: Job, office: Any, django_capture_on_commit_callbacks: Any
) -> None:
    quote = quotes.draw_up(job, office, Asked())
    document = on_paper(quote, office, django_capture_on_commit_callbacks)
    with document.file.open("rb") as file, pdfplumber.open(file) as pdf:
        first = pdf.pages[0]
        assert (round(first.width), round(first.height)) == (612, 792)
        assert len(first.lines) + len(first.curves) + len(first.rects) > 60
        for page in pdf.pages:
            for char in page.chars:
                assert 20 < char["x0"] and char["x1"] < first.width - 20
                assert char["bottom"] < first.height - 20


def test_the_same_paper_has_the_same_bytes(
    job: Job, office: Any, django_capture_on_commit_callbacks: Any
) -> None:
    quote = quotes.draw_up(job, office, Asked())
    document = on_paper(quote, office, django_capture_on_commit_callbacks)
    with document.file.open("rb") as file:
        assert quotes.make_quote(document) == file.read()
    again = quotes.ask_for_paper(quote, office)
    assert again == document and Document.objects.count() == 1


def test_paper_makes_it_offered_and_an_old_one_is_not_put_on_paper(
    job: Job, office: Any, django_capture_on_commit_callbacks: Any
) -> None:
    first = quotes.draw_up(job, office, Asked())
    on_paper(first, office, django_capture_on_commit_callbacks)
    first.refresh_from_db()
    assert first.state == "offered"
    second = quotes.draw_up(job, office, Asked(visits=3))
    on_paper(second, office, django_capture_on_commit_callbacks)
    first.refresh_from_db()
    assert first.state == "replaced"
    third = quotes.draw_up(job, office, Asked(visits=4))
    Quote.objects.filter(pk=third.pk).update(state="refused")
    third.refresh_from_db()
    with pytest.raises(ValueError, match="Draw up a new one"):
        quotes.ask_for_paper(third, office)


def test_the_crew_sees_no_quote_paper(
    job: Job, office: Any, crew_client: Any, office_client: Any,
    django_capture_on_commit_callbacks: Any,
) -> None:  # fmt: skip
    quote = quotes.draw_up(job, office, Asked())
    document = on_paper(quote, office, django_capture_on_commit_callbacks)
    assert crew_client.get(f"/files/documents/{document.pk}/").status_code == 404
    assert "Quote 1" not in crew_client.get(f"/jobs/{job.pk}/papers/").content.decode()
    page = crew_client.get(f"/jobs/{job.pk}/").content.decode()
    assert document.get_absolute_url() not in page
    answer = office_client.get(f"/files/documents/{document.pk}/")
    assert answer.status_code == 200
    assert b"".join(answer.streaming_content).startswith(b"%PDF-")
    assert crew_client.get(f"/jobs/{job.pk}/quote/").status_code == 403


# --- hand-over ---------------------------------------------------------------------


def photo(job: Job, by: Any, caption: str) -> Any:
    from PIL import Image

    from media import photos

    raw = BytesIO()
    Image.new("RGB", (400, 300), "sienna").save(raw, "JPEG")
    return photos.keep(job, by, raw.getvalue(), caption=caption)


def installed(job: Job, by: Any) -> None:
    lay_out_job(job, by)
    pieces = list(job.pieces.all())
    for stage in ("cut", "bent", "installed"):
        pieces = progress.advance(pieces, stage, by)


def test_nothing_installed_is_nothing_to_hand_over(
    job: Job, office: Any, office_client: Any
) -> None:
    lay_out_job(job, office)
    page = office_client.post(f"/jobs/{job.pk}/hand-over/", {})
    assert "nothing to hand over yet" in page.content.decode()


def test_the_hand_over_shows_before_after_and_care(
    job: Job, office: Any, office_client: Any, django_capture_on_commit_callbacks: Any
) -> None:
    old = photo(job, office, "Tar in the back pan")
    installed(job, office)
    new = photo(job, office, "The saddle from the ridge")
    assert hand_overs.before_and_after(job) == ([old], [new])
    sent = {"before": [old.pk], "after": [new.pk], "differs": "One step more."}
    with django_capture_on_commit_callbacks(execute=True):
        answer = office_client.post(f"/jobs/{job.pk}/hand-over/", sent)
    assert answer.status_code == 302
    document = Document.objects.get(kind="hand_over")
    said = words_of(document)
    for words in ("Tar in the back pan", "The saddle from the ridge", "One step more.",
                  "Copper turns brown", "signature of the client"):  # fmt: skip
        assert words in said, words
    with document.file.open("rb") as file, pdfplumber.open(file) as pdf:
        assert sum(len(page.images) for page in pdf.pages) == 2
    with document.file.open("rb") as file:
        assert hand_overs.make_hand_over(document) == file.read()


def test_a_photo_is_before_or_after_not_both(
    job: Job, office: Any, office_client: Any
) -> None:
    one = photo(job, office, "Roof")
    sent = {"before": [one.pk], "after": [one.pk]}
    page = office_client.post(f"/jobs/{job.pk}/hand-over/", sent)
    assert "chosen before and after" in page.content.decode()


def test_many_photos_run_over_pages_and_words_stay_readable(
    job: Job, office: Any, django_capture_on_commit_callbacks: Any
) -> None:
    installed(job, office)
    many = [photo(job, office, f"Photo number {i}") for i in range(9)]
    with django_capture_on_commit_callbacks(execute=True):
        document = hand_overs.ask_for_paper(job, office, before=many, after=[])
    said = words_of(document)
    assert all(f"Photo number {i}" in said for i in range(9)) and TEXT >= 3
    assert Piece.objects.filter(job=job, state="installed").exists()
