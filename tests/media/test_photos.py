"""Photos on a job: sent, kept once, shown to those who are signed in."""

from pathlib import Path

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from media import photos
from media.models import Photo
from tests.media import pictures
from tests.world import make_job

pytestmark = pytest.mark.django_db


def phone(name="roof.jpg", raw=None, kind="image/jpeg"):
    data = pictures.private() if raw is None else raw
    return SimpleUploadedFile(name, data, kind)


def send(client, job, *files, **given):
    data = {"photos": list(files), "measure": "", "caption": "", **given}
    return client.post(reverse("media:photo_add", args=[job.pk]), data)


def test_a_photo_is_kept_and_shown_on_the_job(crew_client, crew):
    job = make_job()
    answer = send(
        crew_client, job, phone(), measure="penetration.front", caption="front side"
    )
    assert answer.status_code == 302
    photo = Photo.objects.get()
    assert (photo.job, photo.uploaded_by) == (job, crew)
    assert photo.measure == "penetration.front"
    page = crew_client.get(job.get_absolute_url()).content.decode()
    assert reverse("media:photo_small", args=[photo.pk]) in page
    assert "front side" in page


def test_the_log_tells_who_added_it(crew_client, crew):
    job = make_job()
    send(crew_client, job, phone(), caption="old lead")
    event = job.events.get(what="photo added")
    assert (event.by, event.about) == (crew, "old lead")


def test_several_photos_at_once_are_all_kept(crew_client):
    job = make_job()
    heic = phone("roof.heic", pictures.sent(kind="HEIF"), "image/heic")
    send(crew_client, job, phone(), phone("b.png", pictures.sent(kind="PNG")), heic)
    assert Photo.objects.count() == 3


def test_a_refused_photo_is_named_and_the_others_are_kept(crew_client):
    job = make_job()
    answer = send(crew_client, job, phone(), phone("torn.jpg", b"\xff\xd8\xff torn"))
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "torn.jpg: " in page
    assert "The other 1 photo is kept." in page
    assert Photo.objects.count() == 1


def test_what_was_typed_is_not_lost_with_a_refused_photo(crew_client):
    job = make_job()
    torn = phone("torn.jpg", b"\xff\xd8\xff torn")
    answer = send(
        crew_client, job, torn, caption="the far corner", measure="roof.pitch"
    )
    page = answer.content.decode()
    assert 'value="the far corner"' in page
    assert '<option value="roof.pitch" selected>' in page


def test_no_photo_chosen_is_said(crew_client):
    answer = send(crew_client, make_job())
    assert answer.status_code == 422
    assert "Choose a photo, or take one." in answer.content.decode()


def test_too_many_at_once_are_refused_in_words(crew_client):
    answer = send(crew_client, make_job(), *[phone() for _ in range(21)])
    assert "Send at most 20 at once." in answer.content.decode()
    assert not Photo.objects.exists()


def test_sending_twice_with_one_key_keeps_one(crew_client):
    job = make_job()
    for _ in range(2):
        send(crew_client, job, phone(), phone("b.jpg"), key="tap-1")
    assert Photo.objects.count() == 2
    assert job.events.filter(what="photo added").count() == 2


def test_one_persons_key_is_not_anothers(crew_client, office_client):
    job = make_job()
    send(crew_client, job, phone(), key="tap-1")
    send(office_client, job, phone(), key="tap-1")
    assert Photo.objects.count() == 2


def test_a_photo_kept_meanwhile_under_the_same_key_is_given(crew, monkeypatch):
    job = make_job()
    first = photos.keep(job, crew, pictures.private(), key="k")
    later = photos.keep(job, crew, pictures.private(), key="other")
    Photo.objects.filter(pk=later.pk).update(key=None)
    # As if the other request had committed between our look and our save.
    monkeypatch.setattr(photos, "develop", _with_row(job, crew, photos.develop))
    again = photos.keep(job, crew, pictures.private(), key="late")
    assert again.key == "late"
    assert Photo.objects.filter(key="late").count() == 1
    assert first.pk != again.pk


def _with_row(job, crew, develop):
    def meanwhile(raw):
        developed = develop(raw)
        Photo.objects.create(
            job=job,
            uploaded_by=crew,
            file="photos/x.jpg",
            small="photos/x-small.jpg",
            width=1,
            height=1,
            digest="0" * 64,
            key="late",
        )
        return developed

    return meanwhile


def test_files_lie_in_the_media_folder_under_their_digest(crew, media_folder):
    job = make_job()
    photo = photos.keep(job, crew, pictures.private())
    kept = Path(media_folder) / photo.file.name
    assert kept.read_bytes()[:2] == b"\xff\xd8"
    assert photo.digest[:24] in kept.name
    assert f"job-{job.number:04d}" in str(kept)


def test_the_photo_itself_is_served_to_those_signed_in(crew_client, crew):
    photo = photos.keep(make_job(), crew, pictures.private())
    for name in ("media:photo", "media:photo_small"):
        answer = crew_client.get(reverse(name, args=[photo.pk]))
        assert answer.status_code == 200
        assert answer["Content-Type"] == "image/jpeg"
        assert "private" in answer["Cache-Control"]
        data = b"".join(answer.streaming_content)
        assert pictures.is_upright(pictures.opened(data))


def test_a_stranger_sees_no_photo(stranger_client, crew):
    photo = photos.keep(make_job(), crew, pictures.private())
    for name in ("media:photo", "media:photo_small"):
        answer = stranger_client.get(reverse(name, args=[photo.pk]))
        assert answer.status_code == 302
        assert "sign" in answer["Location"] or "login" in answer["Location"]
    assert send(stranger_client, photo.job, phone()).status_code == 302
    assert Photo.objects.count() == 1


def test_photos_are_added_by_post_only(crew_client):
    job = make_job()
    assert crew_client.get(reverse("media:photo_add", args=[job.pk])).status_code == 405


def test_a_photo_that_is_not_there_is_not_found(crew_client, crew):
    assert crew_client.get(reverse("media:photo", args=[9999])).status_code == 404
    photo = photos.keep(make_job(), crew, pictures.private())
    photo.file.storage.delete(photo.file.name)
    assert crew_client.get(photo.get_absolute_url()).status_code == 404


def test_photos_come_to_their_places_beside_the_measures(crew_client, crew):
    job = make_job()
    front = photos.keep(job, crew, pictures.private(), measure="penetration.front")
    photos.keep(job, crew, pictures.private(), caption="the whole roof")
    address = reverse("media:beside_measures", args=[job.pk])
    part = crew_client.get(address).content.decode()
    assert 'id="photos-penetration-front" hx-swap-oob="true"' in part
    assert reverse("media:photo_small", args=[front.pk]) in part
    assert part.count("<img") == 1


def test_the_gallery_costs_the_same_for_one_photo_and_for_many(crew_client, crew):
    job = make_job()
    photos.keep(job, crew, pictures.private())
    with CaptureQueriesContext(connection) as one:
        crew_client.get(job.get_absolute_url())
    for _ in range(4):
        photos.keep(job, crew, pictures.private())
    with CaptureQueriesContext(connection) as many:
        crew_client.get(job.get_absolute_url())
    assert len(many) == len(one)
