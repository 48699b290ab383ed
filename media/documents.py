"""Papers: asked for in a row, made from the stored layout, numbered, kept for good.

`ask_for_cut_sheets` puts the paper down; `make_cut_sheets` draws it: stored layout
-> pen -> PDF bytes -> file -> Document.
"""

from __future__ import annotations

import hashlib
import os
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

from django.core.files.storage import default_storage
from django.db import IntegrityError, transaction
from django.db.models import Max
from django.urls import reverse
from django.utils import timezone

from jobs import log
from jobs.models import Job, LooksRule
from layout import stored
from layout.drawing.about import About
from layout.drawing.cut_sheet import cut_sheets_pdf
from layout.drawing.paper import paper_named
from layout.laying import lay_out_job
from layout.models import Layout
from media import naming
from media.models import Document
from shop.errands import ask, held
from shop.models import Errand, Metal, Person, ShopProfile
from shop.units import show_length

KIND = "sheets"
_TRIES = 20


class NothingToDraw(ValueError):
    """There is no layout to make paper from; the words say what is in the way."""

    def __init__(self, reasons: list[str]) -> None:
        super().__init__(" ".join(reasons))
        self.reasons = reasons


def ask_for_cut_sheets(
    job: Job,
    by: Person,
    *,
    address: str = "",
    paper: str = "",
    key: str | None = None,
) -> Document:
    """A numbered paper, to be made by a worker from the job's layout as it is now.

    address: where the shop's pages are, for the labels: http://host:port
    paper: letter or a4; the shop's own where not said
    A paper that says the same is not made twice: it is given again.
    Raises NothingToDraw for a layout that was refused, BadRecord for measures that
    are missing, ValueError for an unknown paper.
    """
    if key and (earlier := Document.objects.filter(key=key).first()):
        return earlier
    shop = ShopProfile.current()
    paper = paper_named(paper or shop.paper).name
    layout = lay_out_job(job, by)
    if not layout.is_done():
        raise NothingToDraw(layout.reasons())
    about = _about(job, layout, shop, address)
    with transaction.atomic():
        Job.objects.select_for_update(of=("self",)).get(pk=job.pk)
        same = _same(layout, paper, about)
        return same or _put_down(job, by, layout, paper, about, key)


def _same(layout: Layout, paper: str, about: dict[str, Any]) -> Document | None:
    """A living paper of this layout with these words, asked for on any day."""
    for document in Document.objects.living().filter(layout=layout, paper=paper):
        if {**document.about, "day": "", "paper_number": ""} == about:
            return document
    return None


def _put_down(
    job: Job,
    by: Person,
    layout: Layout,
    paper: str,
    about: dict[str, Any],
    key: str | None,
) -> Document:
    return put_down(
        job,
        by,
        kind=Document.Kind.CUT_SHEETS,
        title=f"Cut sheets, layout {layout.number}",
        errand=KIND,
        layout=layout,
        paper=paper,
        about=about,
        key=key,
    )


def put_down(
    job: Job,
    by: Person,
    *,
    kind: str,
    errand: str,
    about: dict[str, Any],
    **row: Any,
) -> Document:
    """A paper with the next free number, and the errand that makes it.

    errand: its kind, which finds the paper's id in its payload
    about: the words, with empty places for the paper's number and day
    row: the other fields of the document
    """
    now = timezone.now()
    for _ in range(_TRIES):
        number = (Document.objects.aggregate(last=Max("number"))["last"] or 0) + 1
        words = {**about, "day": _day(now), "paper_number": f"Paper {number}"}
        try:
            with transaction.atomic():
                document = Document.objects.create(
                    job=job,
                    number=number,
                    kind=kind,
                    about=words,
                    asked_by=by,
                    asked_at=now,
                    **row,
                )
        except IntegrityError as error:
            if "number" not in str(error):
                raise
            continue
        document.errand = ask(errand, document=document.pk)
        document.save(update_fields=["errand"])
        words_of_kind = document.get_kind_display()
        log.write(job, f"asked for {words_of_kind}", by, about=f"Paper {number}")
        return document
    raise RuntimeError("no free paper number after several tries")


# --- what the paper says beside the layout --------------------------------------


def _about(job: Job, layout: Layout, shop: ShopProfile, address: str) -> dict[str, Any]:
    """The words as plain JSON, so that the paper is the same whenever it is made."""
    metal = layout.laid_pieces.values_list("metal", flat=True).first() or ""
    row = Metal.objects.filter(name=metal).first()
    return {
        "shop": shop.name,
        "job": f"Job {job.number}, {job.title}",
        "client": job.client.name,
        "place": ", ".join(job.site_address.split("\n")),
        "paper_number": "",
        "day": "",
        "looks": [_looks(rule, shop) for rule in job.looks_rules.binding()],
        "sides": row.sides if row else "",
        "labels": _labels(layout, address),
    }


def _labels(layout: Layout, address: str) -> dict[str, str]:
    """Mark -> address of the page of the piece made from it."""
    if not address:
        return {}
    found = {}
    rows = layout.laid_pieces.filter(pieces__scrapped=False)
    for mark, pk in rows.values_list("mark", "pieces__pk"):
        found[mark] = address.rstrip("/") + reverse("jobs:piece", args=[pk])
    return found


def _looks(rule: LooksRule, shop: ShopProfile) -> str:
    words = f"{rule.get_kind_display().capitalize()}: {rule.words.strip()}"
    if rule.number_mm is not None:
        words += f" ({show_length(rule.number_mm, shop.units)})"
    words += f". Asked by {rule.who_asked}"
    if rule.settled_on:
        words += f", {rule.standing} by {rule.settled_by} on {_date(rule.settled_on)}"
    return words.replace("..", ".") + "."


def _day(moment: Any) -> str:
    return _date(timezone.localtime(moment))


def _date(day: Any) -> str:
    return f"{day:%a} {day.day} {day:%b %Y}"


# --- making it -----------------------------------------------------------------


def make_cut_sheets(document: Document) -> bytes:
    """The PDF of a document, from its stored layout and words only. Same document,
    same bytes, whenever and however often it is made."""
    assert document.layout is not None
    laid = stored.laid_set(document.layout)
    words = {**document.about, "looks": tuple(document.about.get("looks", ()))}
    return cut_sheets_pdf(laid, About(**words), document.paper)


def finish(
    document: Document, errand: Errand, ink: bytes, beat: Callable[[], None]
) -> None:
    """Keeps the bytes as the document's file. Raises Lost before the row is touched
    if another worker holds the errand now; the file it would keep is the same."""
    digest = hashlib.sha256(ink).hexdigest()
    place = naming.paper_place(document.number, document.kind, digest)
    beat()
    _write_once(place, ink)
    with held(errand):
        made = Document.objects.waiting().filter(pk=document.pk)
        changed = made.update(
            state=Document.State.MADE,
            file=place,
            digest=digest,
            size=len(ink),
            made_at=timezone.now(),
        )
        if changed:
            log.write(
                document.job,
                f"made {document.get_kind_display()}",
                document.asked_by,
                about=f"Paper {document.number}",
            )


def _write_once(place: str, ink: bytes) -> None:
    """Writes the file whole or not at all, and never over another one."""
    target = Path(default_storage.path(place))
    target.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(dir=target.parent, prefix=".", suffix=".part")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(ink)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(name, 0o640)
        try:
            os.link(name, target)
        except FileExistsError:
            # Carried before, up to here: the name holds the digest.
            if hashlib.sha256(target.read_bytes()).digest() != (
                hashlib.sha256(ink).digest()
            ):
                raise
    finally:
        os.unlink(name)


def set_down(document: Document, state: str, reason: str) -> None:
    """Says in the row why the paper was not made."""
    Document.objects.waiting().filter(pk=document.pk).update(state=state, reason=reason)
