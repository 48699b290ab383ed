"""Quotes: drawn up from the layout, put on numbered paper for the client.

`draw_up` reckons; `ask_for_paper` puts a paper down; `make_quote` draws it from the
stored layout and the paper's words only.
"""

from __future__ import annotations

import datetime
from typing import Any

from django.db import transaction
from django.utils import timezone

from jobs import costing, quoting
from jobs.costing import Asked
from jobs.models import Job, LooksRule, Quote, QuoteLine
from layout import estimating, stored
from layout.drawing.paper import paper_named
from layout.drawing.quote import Quotation, quote_pdf
from layout.laying import lay_out_job
from layout.models import Layout
from media import documents
from media.documents import NothingToDraw
from media.models import Document
from media.plain_words import built
from shop.models import Person, ShopProfile
from shop.money import show_money
from shop.prices import PriceBook
from shop.units import show_length

KIND = "quote"


def draw_up(
    job: Job,
    by: Person,
    asked: Asked,
    day: datetime.date | None = None,
    key: str | None = None,
) -> Quote:
    """Reckons the job from its layout as it is now, with the prices of a day.

    day: today where not said
    Raises NothingToDraw for a layout that is refused or has blocking findings, in
    words; BadRecord where measures are missing; NoPrice with all that has none;
    ValueError for a job that is not open.
    """
    if key and (earlier := Quote.objects.filter(key=key).first()):
        return earlier
    layout = lay_out_job(job, by)
    if not layout.is_done():
        why = [f"{layout} is refused, so it can't be quoted. Put this right first:"]
        raise NothingToDraw(why + layout.reasons())
    day = day or timezone.localdate()
    made = costing.reckon(
        estimating.works(layout), estimating.needs(layout), asked, PriceBook.on(day)
    )
    return quoting.keep(
        job,
        by,
        made,
        asked=asked,
        prices_on=day,
        layout_number=layout.number,
        key=key,
    )


def ask_for_paper(
    quote: Quote, by: Person, *, paper: str = "", key: str | None = None
) -> Document:
    """A numbered paper of a quote, to be made by a worker; the quote is offered.

    A quote on paper already is not put on another of the same size and words.
    Raises ValueError for an unknown paper, or a quote that is no longer open.
    """
    if key and (earlier := Document.objects.filter(key=key).first()):
        return earlier
    job, shop = quote.job, ShopProfile.current()
    size = paper_named(paper or shop.paper).name
    layout = Layout.objects.filter(job=job, number=quote.layout_number or 0).first()
    if layout is None:
        raise ValueError(f"{quote} was not reckoned from a layout. Draw up a new one.")
    about = _about(quote, layout, shop)
    with transaction.atomic():
        Job.objects.select_for_update(of=("self",)).get(pk=job.pk)
        for document in Document.objects.living().filter(quote=quote, paper=size):
            if {**document.about, "day": "", "paper_number": ""} == about:
                return document
        if quote.state == Quote.State.DRAWN_UP:
            quoting.offer(quote, by)
        elif quote.state not in (Quote.State.OFFERED, Quote.State.ACCEPTED):
            raise ValueError(
                f"Quote {quote.number} is {quote.get_state_display()}. "
                "Draw up a new one."
            )
        return documents.put_down(
            job,
            by,
            kind=Document.Kind.QUOTE,
            title=f"Quote {quote.number}",
            errand=KIND,
            layout=layout,
            quote=quote,
            paper=size,
            about=about,
            key=key,
        )


def make_quote(document: Document) -> bytes:
    """The PDF of a quote. Same document, same bytes."""
    assert document.layout is not None
    words = dict(document.about)
    for name in ("built", "kept", "not_kept", "extras"):
        words[name] = tuple(words[name])
    words["prices"] = tuple((label, figure) for label, figure in words["prices"])
    laid = stored.laid_set(document.layout)
    return quote_pdf(laid, Quotation(**words), document.paper)


def _about(quote: Quote, layout: Layout, shop: ShopProfile) -> dict[str, Any]:
    """The words as plain JSON, so that the paper is the same whenever it is made."""
    job = quote.job
    pieces = list(layout.laid_pieces.light())
    metals = sorted({piece.metal for piece in pieces})
    kept, not_kept = _looks(job, layout, shop)
    lines = quote.lines.filter(part=QuoteLine.Part.EXTRA)
    return {
        "shop": shop.name,
        "shop_address": shop.address,
        "client": job.client.name,
        "client_address": job.client.address,
        "job": f"Job {job.number}, {job.title}",
        "place": ", ".join(job.site_address.split("\n")),
        "number": f"Quote {quote.number}",
        "paper_number": "",
        "day": "",
        "valid_until": _date(quote.valid_until),
        "built": built((piece.family, piece.quantity) for piece in pieces),
        "metal": f"All of it in {' and '.join(metals)}, joined by folds: no caulk that "
        "could fail.",
        "kept": kept,
        "not_kept": not_kept,
        "extras": [f"{line.words}." for line in lines],
        "prices": _prices(quote),
        "terms": shop.quote_terms,
    }


def _prices(quote: Quote) -> list[list[str]]:
    def said(amount: Any) -> str:
        return show_money(amount, quote.currency)

    tax = quote.lines.get(part=QuoteLine.Part.TAX)
    rows = []
    if quote.tax:
        percent = f"{tax.unit_price.normalize():f}"
        rows = [
            ["The work described", said(quote.net)],
            [f"Tax, {percent} %", said(quote.tax)],
        ]
    return [*rows, ["Price in all", said(quote.total)]]


def _looks(job: Job, layout: Layout, shop: ShopProfile) -> tuple[list[str], list[str]]:
    """Rules that are kept, and those that are not: waived, or broken by the layout."""
    broken = [
        found["message"] for found in layout.findings if found["kind"] == "client"
    ]
    kept, waived = [], []
    for rule in job.looks_rules.all():
        words = f"{rule.get_kind_display().capitalize()}: {rule.words.strip()}"
        if rule.number_mm is not None:
            words += f" ({show_length(rule.number_mm, shop.units)})"
        words = words.rstrip(".")
        if rule.standing == LooksRule.Standing.WAIVED:
            assert rule.settled_on is not None
            day = _date(rule.settled_on)
            waived.append(f"{words}. Waived by {rule.settled_by} on {day}.")
        elif not any(found.startswith(f'"{rule.words}"') for found in broken):
            kept.append(f"{words}.")
    return kept, [*waived, *(f"{found}." for found in broken)]


def _date(day: datetime.date) -> str:
    return f"{day:%a} {day.day} {day:%b %Y}"
