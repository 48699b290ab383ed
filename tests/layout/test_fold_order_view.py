"""The fold order on the screen: every laid piece has its strip."""

from __future__ import annotations

from typing import Any
from xml.etree import ElementTree

import pytest

from layout import stored
from layout.drawing.in_brake import lain
from layout.laying import lay_out_job
from tests.layout.measured import measured_job

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("opened")]
SVG = "{http://www.w3.org/2000/svg}"


@pytest.mark.parametrize("view", ["folding", "folding-middle", "folding-narrow"])
def test_every_pieces_fold_order_is_drawn_and_shown(
    crew_client: Any, view: str
) -> None:
    job = measured_job()
    for laid in lay_out_job(job, job.created_by).laid_pieces.all():
        answer = crew_client.get(f"/laid/{laid.pk}/{view}.svg")
        assert answer["Content-Type"] == "image/svg+xml"
        assert b"style=" not in answer.content
        root = ElementTree.fromstring(answer.content)
        said = ["".join(text.itertext()) for text in root.iter(f"{SVG}text")]
        steps = lain(stored.laid_piece(laid))
        assert sum("edge on the leaf" in words for words in said) == len(steps)
        page = crew_client.get(f"/laid/{laid.pk}/").content.decode()
        assert f"/laid/{laid.pk}/{view}.svg" in page


def test_a_seam_in_the_strip_counts_the_pockets_on_both_sides(
    crew_client: Any,
) -> None:
    job = measured_job()
    laid = lay_out_job(job, job.created_by).laid_pieces.get(mark="PL")
    said = crew_client.get(f"/laid/{laid.pk}/folding.svg").content.decode()
    # Two legs of a double fold are five layers, a pocket lays two behind each.
    assert "5 layers" in said and "9 layers" in said
