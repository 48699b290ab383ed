"""A real worker, really killed in the middle of a PDF: the paper is made once."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.premises import Premises, premises, wait_for

pytestmark = pytest.mark.servers
WORKER = ("-I", "tests.media.slow_ink")

ASK = """
from shop.opening import open_shop
from tests.layout.measured import measured_job
from media.documents import ask_for_cut_sheets
open_shop()
job = measured_job()
print(ask_for_cut_sheets(job, job.created_by).pk)
"""
TOLD = """
from media.models import Document
for d in Document.objects.all():
    made = d.job.events.filter(what="made cut sheets").count()
    print(d.state, d.number, d.digest, d.errand.attempt, made)
"""


@pytest.fixture
def place(tmp_path: Path) -> Iterator[Premises]:
    with premises(tmp_path) as place:
        yield place


def told(place: Premises) -> list[str]:
    return place.python(TOLD).split()


def test_a_worker_killed_in_the_middle_of_a_pdf_leaves_one_paper(
    place: Premises,
) -> None:
    place.python(ASK)
    worker = place.worker(*WORKER)
    wait_for((place.home / "begun").exists)
    place.kill(worker)
    papers = place.home / "files" / "papers"
    assert not papers.exists()
    assert told(place)[0] == "waiting"
    place.worker(*WORKER)
    wait_for(lambda: told(place)[0] == "made")
    state, number, digest, attempt, made = told(place)
    assert (state, number, attempt, made) == ("made", "1", "2", "1")
    (pdf,) = papers.iterdir()
    assert hashlib.sha256(pdf.read_bytes()).hexdigest() == digest
