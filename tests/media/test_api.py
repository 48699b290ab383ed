"""Photos and papers for programs."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from rest_framework.authtoken.models import Token
from rest_framework.test import APIClient

from media.models import Document, Photo
from tests.layout.measured import measured_job
from tests.media import pictures
from tests.world import make_job

pytestmark = pytest.mark.django_db


@pytest.fixture
def api(crew):
    client = APIClient()
    client.credentials(
        HTTP_AUTHORIZATION=f"Token {Token.objects.create(user=crew).key}"
    )
    return client


def photo(raw=None):
    return SimpleUploadedFile("p.jpg", raw or pictures.private(), "image/jpeg")


def send(api, job, raw=None, **headers):
    data = {"job": job.pk, "photo": photo(raw), "measure": "roof.pitch"}
    return api.post("/api/v1/photos/", data, format="multipart", headers=headers)


def test_a_photo_is_sent_listed_and_fetched(api):
    job = make_job()
    answer = send(api, job)
    assert answer.status_code == 201
    assert answer.json()["measure"] == "roof.pitch"
    listed = api.get("/api/v1/photos/", {"job": job.pk}).json()["results"]
    assert [row["id"] for row in listed] == [answer.json()["id"]]
    file = api.get(f"/api/v1/photos/{answer.json()['id']}/file/")
    assert pictures.is_upright(pictures.opened(b"".join(file.streaming_content)))


def test_a_key_in_the_header_keeps_a_retry_from_doubling(api):
    job = make_job()
    first = send(api, job, **{"Idempotency-Key": "k1"})
    again = send(api, job, **{"Idempotency-Key": "k1"})
    assert first.json()["id"] == again.json()["id"]
    assert Photo.objects.count() == 1


def test_a_key_that_is_too_long_is_refused(api):
    answer = send(api, make_job(), **{"Idempotency-Key": "k" * 65})
    assert answer.status_code == 400
    assert "64 or fewer" in answer.json()["key"][0]


def test_a_damaged_photo_is_a_400_in_words(api):
    answer = send(api, make_job(), b"\xff\xd8\xff torn")
    assert answer.status_code == 400
    assert answer.json()["photo"][0]


def test_strangers_are_refused():
    assert APIClient().get("/api/v1/photos/").status_code == 401
    assert APIClient().get("/api/v1/documents/").status_code == 401


def test_cut_sheets_are_asked_for_and_fetched(
    api, opened, django_capture_on_commit_callbacks
):
    job = measured_job()
    with django_capture_on_commit_callbacks(execute=True):
        answer = api.post("/api/v1/documents/", {"job": job.pk, "paper": "a4"})
    assert answer.status_code == 201
    pk = answer.json()["id"]
    told = api.get(f"/api/v1/documents/{pk}/").json()
    assert (told["state"], told["paper"], told["number"]) == ("made", "a4", 1)
    file = api.get(f"/api/v1/documents/{pk}/file/")
    assert file["Content-Type"] == "application/pdf"
    assert b"".join(file.streaming_content).startswith(b"%PDF-")


def test_a_paper_not_made_yet_is_a_409(api, opened):
    job = measured_job()
    pk = api.post("/api/v1/documents/", {"job": job.pk}).json()["id"]
    answer = api.get(f"/api/v1/documents/{pk}/file/")
    assert answer.status_code == 409
    assert answer.json()["detail"] == "Paper 1 is waiting."


def test_papers_of_an_unmeasured_job_are_a_400_that_names_the_measures(api, opened):
    answer = api.post("/api/v1/documents/", {"job": make_job().pk})
    assert answer.status_code == 400
    assert any("penetration.front" in fault for fault in answer.json()["job"])
    assert not Document.objects.exists()


@pytest.mark.parametrize("body", [{}, {"job": "x"}, {"job": 0}, {"job": 10**30}])
def test_senseless_asking_is_a_400(api, body):
    assert api.post("/api/v1/documents/", body).status_code == 400


def test_a_job_that_is_not_there_is_a_404(api):
    assert api.post("/api/v1/documents/", {"job": 999999}).status_code == 404


@pytest.mark.parametrize("paper", ["legal", "", "A4"])
def test_an_unknown_paper_is_a_400(api, paper):
    body = {"job": make_job().pk, "paper": paper}
    assert api.post("/api/v1/documents/", body).status_code == 400
