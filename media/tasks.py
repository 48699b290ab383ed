"""Papers that are made as errands."""

from __future__ import annotations

from collections.abc import Callable

from media import documents, hand_overs, plan_papers, quotes
from media.models import Document
from shop.errands import Beat, Lost, Refused, carries
from shop.models import Errand


@carries(documents.KIND)
def carry_sheets(errand: Errand, beat: Beat) -> None:
    _carry(errand, beat, documents.make_cut_sheets)


@carries(quotes.KIND)
def carry_quote(errand: Errand, beat: Beat) -> None:
    _carry(errand, beat, quotes.make_quote)


@carries(hand_overs.KIND)
def carry_hand_over(errand: Errand, beat: Beat) -> None:
    _carry(errand, beat, hand_overs.make_hand_over)


@carries(plan_papers.KIND)
def carry_plan_paper(errand: Errand, beat: Beat) -> None:
    _carry(errand, beat, plan_papers.make_plan_paper)


def _carry(errand: Errand, beat: Beat, make: Callable[[Document], bytes]) -> None:
    """Makes one document. Carried again after a death midway, it makes it once."""
    document = (
        Document.objects.select_related("job", "layout", "quote", "asked_by")
        .filter(pk=errand.payload["document"])
        .first()
    )
    if document is None:
        raise Refused("The paper is no longer there.")
    if document.state != Document.State.WAITING:
        return
    try:
        ink = make(document)
        documents.finish(document, errand, ink, beat)
    except Lost:
        raise
    except Exception as fault:
        reason = (
            f"Something went wrong on our side ({type(fault).__name__}), not with what"
            " was asked. Ask again; if it stays, tell whoever keeps the server."
        )
        documents.set_down(document, Document.State.FAILED, reason)
        raise
