from __future__ import annotations

from django.contrib import messages
from django.core.files.uploadedfile import UploadedFile
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.cache import cache_control
from django.views.decorators.http import require_POST, require_safe

from jobs.access import job_for, person_who_may
from jobs.models import Job
from jobs.views.jobs import job_page
from jobs.views.keys import key_of
from layout.measures import BY_NAME
from media import photos
from media.access import photo_for
from media.forms import PhotoForm
from media.models import Photo
from shop.models import Person

# A photo never changes, so whoever may see it may keep it.
kept_by_the_browser = cache_control(private=True, max_age=30 * 24 * 3600)


@require_POST
def add(request: HttpRequest, pk: int) -> HttpResponse:
    """Several photos at once: each is kept or refused on its own."""
    person = person_who_may(request.user, "measure")
    job = job_for(person, pk, "measure")
    form = PhotoForm(request.POST, request.FILES)
    if not form.is_valid():
        faults = [str(fault) for listed in form.errors.values() for fault in listed]
        return job_page(request, job, faults=faults, photo_form=form, status=422)
    kept, faults = _keep(job, person, form)
    if faults:
        if kept:
            faults.append(f"The other {_number(kept)} kept.")
        return job_page(request, job, faults=faults, photo_form=form, status=422)
    messages.success(request, f"{_number(kept)} kept.".capitalize())
    return redirect(f"{job.get_absolute_url()}#site")


def _keep(job: Job, person: Person, form: PhotoForm) -> tuple[int, list[str]]:
    """How many were kept, and why the others were not."""
    asked = form.cleaned_data
    kept, faults = 0, []
    for i, file in enumerate(asked["photos"]):
        key = f"{asked['key']}:{i}" if asked["key"] else None
        try:
            photos.keep(
                job,
                person,
                _bytes(file),
                measure=asked["measure"],
                caption=asked["caption"],
                key=key_of(person, "photo", key),
            )
            kept += 1
        except photos.PhotoRefused as refused:
            faults.append(f"{file.name}: {refused}")
    return kept, faults


def _bytes(file: UploadedFile) -> bytes:
    """All of the upload, or just enough of it to see that it is too much."""
    return file.read(photos.MOST_BYTES + 1)


def _number(count: int) -> str:
    return "1 photo is" if count == 1 else f"{count} photos are"


@require_safe
def beside_measures(request: HttpRequest, pk: int) -> HttpResponse:
    """Photos of a job's measures, each for its own place on the measure sheet.

    The sheet has an empty element `photos-<slug>` at each measure; htmx puts the
    photos there.
    """
    job = job_for(request.user, pk)
    of: dict[str, list[Photo]] = {}
    for photo in Photo.objects.filter(job=job).with_names():
        if photo.measure in BY_NAME:
            of.setdefault(BY_NAME[photo.measure].slug, []).append(photo)
    context = {"job": job, "beside": sorted(of.items())}
    return render(request, "media/_beside_measures.html", context)


@require_safe
@kept_by_the_browser
def photo(request: HttpRequest, pk: int) -> FileResponse:
    return _served(photo_for(request.user, pk), "large")


@require_safe
@kept_by_the_browser
def photo_small(request: HttpRequest, pk: int) -> FileResponse:
    return _served(photo_for(request.user, pk), "small")


def _served(photo: Photo, size: str) -> FileResponse:
    file = photo.small if size == "small" else photo.file
    try:
        return FileResponse(file.open("rb"), content_type="image/jpeg")
    except FileNotFoundError as gone:
        raise Http404("The photo's file is not there.") from gone
