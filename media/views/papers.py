from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from jobs.access import job_for, person_who_may
from jobs.models import Job
from jobs.views.jobs import job_page
from jobs.views.keys import key_of, new_key
from layout.faults import BadRecord, CannotBuild
from layout.recording import Closed
from media import documents, naming
from media.access import document_for
from media.forms import PapersForm
from media.models import Document
from shop.models import Person


@require_POST
def make(request: HttpRequest, pk: int) -> HttpResponse:
    """Asks for cut sheets. The page shows them as soon as a worker has made them."""
    person = person_who_may(request.user, "lay_out")
    job = job_for(person, pk, "lay_out")
    form = PapersForm(request.POST)
    if not form.is_valid():
        return _not_made(request, job, [form.errors.as_text()])
    try:
        document = _asked(request, job, person, form.cleaned_data)
    except BadRecord as bad:
        return _not_made(request, job, [_incomplete(bad)])
    except (documents.NothingToDraw, CannotBuild) as nothing:
        return _not_made(request, job, nothing.reasons)
    except Closed as closed:
        return _not_made(request, job, [str(closed)])
    if request.htmx:  # type: ignore[attr-defined]
        return _part(request, job)
    messages.success(request, f"{document} is {document.standing_words()}.")
    return redirect(f"{job.get_absolute_url()}#papers")


def _asked(
    request: HttpRequest, job: Job, person: Person, asked: dict[str, Any]
) -> Document:
    return documents.ask_for_cut_sheets(
        job,
        person,
        address=request.build_absolute_uri("/"),
        paper=asked["paper"],
        key=key_of(person, "sheets", asked["key"]),
    )


def _incomplete(bad: BadRecord) -> str:
    first, *others = [str(fault) for fault in bad.faults]
    more = f" And {len(others)} more." if others else ""
    return f"The measure sheet is not complete. {first}.{more} Measure first."


def _not_made(request: HttpRequest, job: Job, faults: list[str]) -> HttpResponse:
    if request.htmx:  # type: ignore[attr-defined]
        return _part(request, job, faults=faults)
    return job_page(request, job, faults=faults, status=422)


@require_safe
def papers(request: HttpRequest, pk: int) -> HttpResponse:
    """The papers of a job, asked for again and again while one is being made."""
    job = job_for(request.user, pk)
    if request.htmx:  # type: ignore[attr-defined]
        return _part(request, job)
    return redirect(f"{job.get_absolute_url()}#papers")


def _part(request: HttpRequest, job: Job, **given: Any) -> HttpResponse:
    context = {"job": job, "key": new_key(), **given}
    return render(request, "media/_job_papers.html", context)


@require_safe
def document(request: HttpRequest, pk: int) -> HttpResponse | FileResponse:
    """The paper itself, or where it stands while it is not made."""
    document = document_for(request.user, pk)
    if not document.is_made():
        return render(request, "media/document_detail.html", {"document": document})
    return served(document)


def served(document: Document) -> FileResponse:
    try:
        file = document.file.open("rb")
    except FileNotFoundError as gone:
        raise Http404("The paper's file is not there.") from gone
    name = naming.download_name(document.number, document.job.number, document.kind)
    response = FileResponse(file, filename=name, content_type="application/pdf")
    response["Cache-Control"] = "private, max-age=2592000"
    return response
