"""Papers that are made as errands."""

from __future__ import annotations

from media import documents
from media.models import Document
from shop.errands import Beat, Lost, Refused, carries
from shop.models import Errand


@carries(documents.KIND)
def carry_sheets(errand: Errand, beat: Beat) -> None:
    """Makes one document. Carried again after a death midway, it makes it once."""
    document = (
        Document.objects.select_related("job", "layout", "asked_by")
        .filter(pk=errand.payload["document"])
        .first()
    )
    if document is None:
        raise Refused("The paper is no longer there.")
    if document.state != Document.State.WAITING:
        return
    try:
        ink = documents.make_cut_sheets(document)
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
