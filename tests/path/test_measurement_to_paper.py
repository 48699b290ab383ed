"""The whole path through the pages, once: a job booked, measured, laid out, printed,
cut, bent, installed. The numbers are worked by hand with a tape's arithmetic.
"""

from __future__ import annotations

from io import BytesIO
from typing import Any

import pdfplumber
import pytest

from jobs.models import Event, Job, Piece
from layout.models import LaidPiece, Layout
from media.models import Document
from tests.jobs.test_booking import BOOKED

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("opened", "in_place")]

TYPED = {
    "penetration-front": "2' 9\"",
    "penetration-back": "33",
    "penetration-left": "26 1/2",
    "penetration-right": "26-1/2",
    "roof-pitch": "8:12",
    "roof-left_pan": "11 1/4",
    "roof-right_pan": "13 5/8",
    "roof-below": "9 1/2",
    "roof-above": "26",
    "roof-seam-fold": "double",
    "roof-seam-height": "1",
    "roof-seam-turn": "3/8",
    "walls-upstand_front": "6 1/2",
    "walls-upstand_side": "7",
    "walls-upstand_back": "8 1/2",
    "walls-material": "brick",
    "walls-course": "2 2/3",
    "walls-reglet": "9",
}
CHOSEN = {
    "metal": "copper 20 oz",
    "build-back": "saddle",
    "build-counterflashing": "stepped",
    "build-sweep_radius": "2 3/4",
    "build-leg_at_wall_top": "1/2",
}


def test_a_job_goes_from_the_telephone_to_the_roof(
    office_client: Any,
    crew_client: Any,
    stranger_client: Any,
    django_capture_on_commit_callbacks: Any,
) -> None:
    office_client.post("/jobs/new/", BOOKED)
    job = Job.objects.get()

    sheet = {**TYPED, "taken_with": "tape", "note": "", "key": "first"}
    assert crew_client.post(f"/jobs/{job.pk}/measure/", sheet).status_code == 302

    page = crew_client.post(f"/jobs/{job.pk}/layout/", {**CHOSEN, "key": "chosen"})
    assert page.status_code == 302
    layout = Layout.objects.get()
    assert layout.state == "done"

    # Left side pan: leg 1 3/4 + pan 11 1/4 + upstand 7 = 20 in across. Apron: hem
    # 1/2 + below 9 1/2 + upstand 6 1/2, and the return's foot rises 4 in x sin 33.69.
    found = LaidPiece.objects.all()
    sizes = {laid.mark: laid.pattern["pattern"]["vertices"] for laid in found}
    across = {mark: max(x for x, _ in at) for mark, at in sizes.items()}
    assert across["PL"] == pytest.approx(20 * 25.4)
    assert across["PR"] == pytest.approx((1.75 + 13.625 + 7) * 25.4)
    up = {mark: max(y for _, y in at) for mark, at in sizes.items()}
    assert up["A"] == pytest.approx((0.5 + 9.5 + 6.5 + 4 * 2 / 13**0.5) * 25.4)

    with django_capture_on_commit_callbacks(execute=True):
        made = crew_client.post(f"/jobs/{job.pk}/papers/make/", {"paper": "letter"})
    assert made.status_code == 302
    document = Document.objects.get()
    assert document.state == "made", document.errand.reason
    url = f"/files/documents/{document.pk}/"
    assert stranger_client.get(url).status_code in (302, 403)
    ink = b"".join(crew_client.get(url).streaming_content)
    with pdfplumber.open(BytesIO(ink)) as pdf:
        words = "\n".join(page.extract_text() for page in pdf.pages)
    assert "Side pan, left" in words
    assert "LEFT" in words

    pieces = list(Piece.objects.filter(job=job))
    for state in ("cut", "bent", "installed"):
        moved = crew_client.post(
            f"/jobs/{job.pk}/pieces/advance/",
            {"pieces": [piece.pk for piece in pieces], "to": state},
        )
        assert moved.status_code == 302
    assert set(Piece.objects.values_list("state", flat=True)) == {"installed"}
    told = Event.objects.filter(job=job, piece=pieces[0]).order_by("pk")
    moves = ["measured", "laid_out", "cut", "bent", "installed"]
    assert [event.after for event in told][-5:] == moves
