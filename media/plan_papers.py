"""The numbered paper of a cut plan: what to take, each stock with its cuts in order.

`ask_for_plan_paper` puts it down with all it says; `make_plan_paper` draws it from
those words only, so the paper stays what it was when the metal is cut.
"""

from __future__ import annotations

import hashlib
import json
from typing import Any

from django.db import transaction

from jobs.models import Job
from layout import plans_drawn, stored
from layout.drawing.about import About
from layout.drawing.paper import paper_named
from layout.drawing.plan_book import PlanPaper, plan_pdf
from layout.models import CutPlan
from media import documents
from media.documents import NothingToDraw
from media.models import Document
from shop.models import Person, ShopProfile

KIND = "plan_paper"


def ask_for_plan_paper(
    plan: CutPlan, by: Person, *, paper: str = "", key: str | None = None
) -> Document:
    """A numbered paper of a plan, kept with the first of its jobs.

    A paper that says the same is not made twice: it is given again.
    Raises NothingToDraw while there is no plan, ValueError for an unknown paper.
    """
    if key and (earlier := Document.objects.filter(key=key).first()):
        return earlier
    if plan.is_running() or not plan.has_plan():
        raise NothingToDraw([f"{plan} is {plan.standing_words()}. Wait for it."])
    shop = ShopProfile.current()
    paper = paper_named(paper or shop.paper).name
    about = _about(plan, shop)
    job = plan.jobs.order_by("number")[0]
    with transaction.atomic():
        Job.objects.select_for_update(of=("self",)).get(pk=job.pk)
        for document in Document.objects.living().filter(plan=plan, paper=paper):
            if document.about["digest"] == about["digest"]:
                return document
        return documents.put_down(
            job,
            by,
            kind=Document.Kind.CUT_PLAN,
            errand=KIND,
            title=f"Cut plan {plan.number}, {plan.metal}",
            plan=plan,
            paper=paper,
            about=about,
            key=key,
        )


def _about(plan: CutPlan, shop: ShopProfile) -> dict[str, Any]:
    said = stored.to_json(plans_drawn.plan_paper(plan, shop.units))
    whole = json.dumps(said, sort_keys=True).encode()
    jobs = ", ".join(str(job) for job in plan.jobs.order_by("number"))
    return {
        "shop": shop.name,
        "job": jobs,
        "said": said,
        "digest": hashlib.sha256(whole).hexdigest(),
    }


def make_plan_paper(document: Document) -> bytes:
    """The PDF, from the document's own words only."""
    about = document.about
    said = stored.from_json(PlanPaper, about["said"])
    words = About(
        shop=about["shop"],
        job=about["job"],
        paper_number=about["paper_number"],
        day=about["day"],
    )
    return plan_pdf(said, words, document.paper)
