"""Hand-over papers: what was built, photos before and after, care of the metal."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django.db import transaction

from jobs.models import Job, Piece
from layout.drawing.handover import HandOver, Picture, hand_over_pdf
from layout.drawing.paper import paper_named
from media import documents
from media.models import Document, Photo
from media.plain_words import built
from shop.models import Metal, Person, ShopProfile

KIND = "hand_over"
MOST_PHOTOS = 24


class NothingToHandOver(ValueError):
    """Nothing is installed yet."""

    def __init__(self, job: Job) -> None:
        super().__init__(
            f"{job} has no installed piece, so there is nothing to hand over yet."
        )


def before_and_after(job: Job) -> tuple[list[Photo], list[Photo]]:
    """The job's photos, parted by the first piece that was installed: a first guess."""
    photos = list(job.photos.of_the_work().order_by("uploaded_at", "pk"))
    first = (
        job.events.filter(after=Piece.State.INSTALLED, piece__isnull=False)
        .order_by("at")
        .first()
    )
    if first is None:
        return photos, []
    taken = [(photo.taken_at or photo.uploaded_at, photo) for photo in photos]
    return (
        [photo for moment, photo in taken if moment < first.at],
        [photo for moment, photo in taken if moment >= first.at],
    )


def ask_for_paper(
    job: Job,
    by: Person,
    *,
    before: Sequence[Photo],
    after: Sequence[Photo],
    differs: str = "",
    paper: str = "",
    key: str | None = None,
) -> Document:
    """A numbered hand-over paper, to be made by a worker.

    differs: what was done otherwise than quoted, in words
    Raises NothingToHandOver, or ValueError for too many photos or an unknown paper.
    """
    if key and (earlier := Document.objects.filter(key=key).first()):
        return earlier
    if len(before) + len(after) > MOST_PHOTOS:
        raise ValueError(
            f"{len(before) + len(after)} photos are chosen. Choose at most"
            f" {MOST_PHOTOS}."
        )
    pieces = job.pieces.living().filter(state=Piece.State.INSTALLED)
    if not pieces:
        raise NothingToHandOver(job)
    shop = ShopProfile.current()
    about = _about(job, shop, list(pieces), before, after, differs)
    with transaction.atomic():
        return documents.put_down(
            job,
            by,
            kind=Document.Kind.HAND_OVER,
            title="Hand-over",
            errand=KIND,
            paper=paper_named(paper or shop.paper).name,
            about=about,
            key=key,
        )


def make_hand_over(document: Document) -> bytes:
    """The PDF. Same document, same bytes."""
    words: dict[str, Any] = dict(document.about)
    wanted = [*words["before"], *words["after"]]
    photos = {photo.pk: photo for photo in Photo.objects.filter(pk__in=wanted)}
    for side in ("before", "after"):
        words[side] = tuple(_picture(photos[pk]) for pk in words[side])
    words["built"] = tuple(words["built"])
    return hand_over_pdf(HandOver(**words), document.paper)


def _picture(photo: Photo) -> Picture:
    with photo.file.open("rb") as file:
        return Picture(file.read(), photo.width, photo.height, photo.words())


def _about(
    job: Job,
    shop: ShopProfile,
    pieces: list[Piece],
    before: Sequence[Photo],
    after: Sequence[Photo],
    differs: str,
) -> dict[str, Any]:
    names = sorted({piece.metal for piece in pieces if piece.metal})
    metal = Metal.objects.filter(name__in=names).first()
    return {
        "shop": shop.name,
        "shop_address": shop.address,
        "client": job.client.name,
        "client_address": job.client.address,
        "job": f"Job {job.number}, {job.title}",
        "place": ", ".join(job.site_address.split("\n")),
        "paper_number": "",
        "day": "",
        "built": built((piece.family, piece.quantity) for piece in pieces),
        "metal": metal.kind if metal else "",
        "metal_words": f"Made of {' and '.join(names)}." if names else "",
        "differs": differs.strip(),
        "before": [photo.pk for photo in before],
        "after": [photo.pk for photo in after],
    }
