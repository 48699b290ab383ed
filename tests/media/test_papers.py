"""Cut sheets of a job: asked for, made once, numbered, never changed."""

import hashlib
import os
from io import BytesIO
from pathlib import Path

import pdfplumber
import pytest
from django.db import IntegrityError, transaction
from django.urls import reverse

from layout.models import Layout
from media import documents, tasks
from media.models import Document
from shop import errands
from shop.models import Errand
from tests.layout.measured import measured_job
from tests.world import make_job, make_rule

pytestmark = pytest.mark.django_db

HOME = "http://shop.example:8000/"


@pytest.fixture
def job(opened):
    return measured_job()


@pytest.fixture
def waiting(job, crew, django_capture_on_commit_callbacks):
    """A paper asked for, whose bell nobody heard."""
    with django_capture_on_commit_callbacks(execute=False):
        return documents.ask_for_cut_sheets(job, crew, address=HOME)


def post(client, job, **given):
    return client.post(reverse("media:make_sheets", args=[job.pk]), given)


def carried(document):
    errand = errands.claim(document.errand_id)
    tasks.carry_sheets(errand, lambda: errands.beat(errand))
    document.refresh_from_db()
    return document


def test_cut_sheets_are_made_by_a_worker(
    crew_client, crew, job, django_capture_on_commit_callbacks
):
    with django_capture_on_commit_callbacks(execute=True):
        assert post(crew_client, job).status_code == 302
    document = Document.objects.get()
    assert (document.state, document.asked_by) == ("made", crew)
    assert document.errand.state == Errand.State.DONE
    with document.file.open("rb") as file:
        ink = file.read()
    assert document.digest == hashlib.sha256(ink).hexdigest()
    assert document.size == len(ink)
    with pdfplumber.open(BytesIO(ink)) as opened:
        assert f"Job {job.number}" in opened.pages[0].extract_text()


def test_the_job_page_shows_the_paper_and_its_state(crew_client, waiting):
    page = crew_client.get(waiting.job.get_absolute_url()).content.decode()
    assert "Paper 1: Cut sheets, layout 1" in page
    assert "waiting" in page
    assert "every 2s" in page
    carried(waiting)
    page = crew_client.get(waiting.job.get_absolute_url()).content.decode()
    assert waiting.get_absolute_url() in page
    assert "every 2s" not in page


def test_the_part_of_the_page_is_given_alone(crew_client, waiting):
    address = reverse("media:papers", args=[waiting.job.pk])
    part = crew_client.get(address, headers={"HX-Request": "true"}).content.decode()
    assert part.lstrip().startswith('<div class="papers"')
    assert "<html" not in part
    assert crew_client.get(address).status_code == 302


def test_the_log_tells_asked_and_made(waiting):
    carried(waiting)
    said = list(
        waiting.job.events.filter(about="Paper 1").values_list("what", flat=True)
    )
    assert sorted(said) == ["asked for cut sheets", "made cut sheets"]


def test_the_paper_is_served_to_those_signed_in(crew_client, waiting):
    carried(waiting)
    answer = crew_client.get(waiting.get_absolute_url())
    assert answer["Content-Type"] == "application/pdf"
    assert f"paper-1-job-{waiting.job.number}" in answer["Content-Disposition"]
    assert b"".join(answer.streaming_content).startswith(b"%PDF-")


def test_a_stranger_gets_no_paper(stranger_client, waiting):
    carried(waiting)
    assert stranger_client.get(waiting.get_absolute_url()).status_code == 302
    assert post(stranger_client, waiting.job).status_code == 302
    assert Document.objects.count() == 1


def test_a_paper_not_yet_made_says_so(crew_client, waiting):
    page = crew_client.get(waiting.get_absolute_url()).content.decode()
    assert "A worker makes it now." in page


def test_papers_are_asked_for_by_post_only(crew_client, job):
    answer = crew_client.get(reverse("media:make_sheets", args=[job.pk]))
    assert answer.status_code == 405


def test_a_paper_that_says_the_same_is_not_made_twice(waiting, crew):
    carried(waiting)
    again = documents.ask_for_cut_sheets(waiting.job, crew, address=HOME)
    assert again == waiting
    assert Document.objects.count() == 1


def test_other_words_or_another_paper_make_a_new_number(waiting, crew):
    a4 = documents.ask_for_cut_sheets(waiting.job, crew, address=HOME, paper="a4")
    make_rule(waiting.job, words="No sealant to be seen from the street.")
    changed = documents.ask_for_cut_sheets(waiting.job, crew, address=HOME)
    assert [waiting.number, a4.number, changed.number] == [1, 2, 3]


def test_the_same_key_again_gives_the_same_paper(job, crew):
    first = documents.ask_for_cut_sheets(job, crew, key="tap")
    assert documents.ask_for_cut_sheets(job, crew, paper="a4", key="tap") == first


def test_numbers_run_on_over_all_jobs(waiting, crew):
    other = measured_job()
    assert documents.ask_for_cut_sheets(other, crew).number == 2


def test_a_worker_that_died_before_the_row_leaves_one_paper(waiting):
    """The file was written, then the worker was killed: the errand comes again."""
    errand = errands.claim(waiting.errand_id)
    ink = documents.make_cut_sheets(waiting)
    digest = hashlib.sha256(ink).hexdigest()
    from media import naming

    documents._write_once(naming.paper_place(1, "cut_sheets", digest), ink)
    Errand.objects.filter(pk=errand.pk).update(lease_until=errand.heartbeat)
    made = carried(waiting)
    folder = Path(made.file.path).parent
    assert made.state == "made"
    assert os.listdir(folder) == [Path(made.file.name).name]
    assert made.job.events.filter(what="made cut sheets").count() == 1


def test_a_worker_that_lost_its_errand_writes_no_row(waiting):
    slow = errands.claim(waiting.errand_id)
    Errand.objects.filter(pk=slow.pk).update(lease_until=slow.heartbeat)
    quick = errands.claim(waiting.errand_id)
    with pytest.raises(errands.Lost):
        tasks.carry_sheets(slow, lambda: errands.beat(slow))
    waiting.refresh_from_db()
    assert waiting.state == "waiting"
    tasks.carry_sheets(quick, lambda: errands.beat(quick))
    waiting.refresh_from_db()
    assert waiting.state == "made"


def test_an_errand_rung_for_twice_makes_one_paper(waiting):
    from shop.tasks import carry

    carry(waiting.errand_id)
    first = Document.objects.get()
    carry(waiting.errand_id)
    again = Document.objects.get()
    assert (first.digest, first.made_at) == (again.digest, again.made_at)


def test_the_bytes_are_the_same_whenever_it_is_made(waiting):
    assert documents.make_cut_sheets(waiting) == documents.make_cut_sheets(waiting)


def test_a_made_file_is_never_written_over(waiting, media_folder):
    documents._write_once("papers/x.pdf", b"first")
    with pytest.raises(FileExistsError):
        documents._write_once("papers/x.pdf", b"other")
    assert (Path(media_folder) / "papers/x.pdf").read_bytes() == b"first"
    assert os.listdir(Path(media_folder) / "papers") == ["x.pdf"]


def test_a_failure_is_said_in_words_and_can_be_asked_again(
    crew_client, crew, waiting, monkeypatch
):
    def broken(*given):
        raise RuntimeError("ink spilled")

    monkeypatch.setattr(documents, "cut_sheets_pdf", broken)
    with pytest.raises(RuntimeError):
        carried(waiting)
    waiting.refresh_from_db()
    assert waiting.state == "failed"
    page = crew_client.get(waiting.job.get_absolute_url()).content.decode()
    assert "Something went wrong on our side (RuntimeError)" in page
    monkeypatch.undo()
    again = documents.ask_for_cut_sheets(waiting.job, crew, address=HOME)
    assert again.number == 2
    assert carried(again).state == "made"


def test_an_errand_given_up_is_a_failed_paper(crew, waiting):
    Errand.objects.filter(pk=waiting.errand_id).update(
        state=Errand.State.FAILED, reason="It was begun 5 times."
    )
    document = Document.objects.newest_first().get()
    assert document.standing() == "failed"
    assert document.why() == "It was begun 5 times."
    assert documents.ask_for_cut_sheets(waiting.job, crew, address=HOME).number == 2


def test_labels_open_the_pieces_pages(waiting):
    labels = waiting.about["labels"]
    piece = waiting.job.pieces.get(mark="PL")
    assert labels["PL"] == f"http://shop.example:8000/pieces/{piece.pk}/"
    assert len(labels) == waiting.job.pieces.count()


def test_the_paper_is_drawn_from_the_stored_layout_only(waiting):
    before = documents.make_cut_sheets(waiting)
    waiting.job.sites.get().measurements.filter(name="penetration.front").update(
        as_typed="99", value_mm=2514.6
    )
    type(waiting.job).objects.filter(pk=waiting.job.pk).update(title="Renamed since")
    assert documents.make_cut_sheets(Document.objects.get()) == before


def test_a_job_without_measures_is_told_to_measure_first(crew_client, opened):
    answer = post(crew_client, make_job())
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "The measure sheet is not complete." in page
    assert "Measure first." in page
    assert not Document.objects.exists()


def test_a_refused_layout_makes_no_paper_and_says_why(crew_client, opened):
    job = measured_job(walls_upstand_side="1")
    answer = post(crew_client, job)
    assert answer.status_code == 422
    assert "raise the upstand" in answer.content.decode()
    assert not Document.objects.exists()
    assert Layout.objects.get(job=job).state == "refused"


def test_faults_come_in_the_part_too(crew_client, opened):
    answer = crew_client.post(
        reverse("media:make_sheets", args=[make_job().pk]),
        headers={"HX-Request": "true"},
    )
    assert "Measure first." in answer.content.decode()
    assert "<html" not in answer.content.decode()


def test_an_unknown_paper_size_is_refused(crew_client, job):
    assert post(crew_client, job, paper="legal").status_code == 422


def test_a_made_paper_must_have_its_file(waiting):
    with pytest.raises(IntegrityError, match="document_made_has_its_file"):
        with transaction.atomic():
            Document.objects.filter(pk=waiting.pk).update(state="made")


def test_a_failed_paper_must_say_why(waiting):
    with pytest.raises(IntegrityError, match="document_not_made_says_why"):
        with transaction.atomic():
            Document.objects.filter(pk=waiting.pk).update(state="failed")


def test_two_papers_cannot_have_one_number(waiting, crew):
    other = documents.ask_for_cut_sheets(waiting.job, crew, paper="a4")
    with pytest.raises(IntegrityError, match="number"):
        with transaction.atomic():
            Document.objects.filter(pk=other.pk).update(number=waiting.number)
