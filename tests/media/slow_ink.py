"""For the tests of a real worker: the real ink, with a pause in the middle of it."""

from __future__ import annotations

import time
from typing import Any

from django.conf import settings

from layout.drawing import cut_sheet
from media import documents

replay = cut_sheet.replay


def slowly(pages: Any, pen: Any) -> None:
    """Half the pages, a word that it has begun, a pause, the rest."""
    half = len(pages) // 2
    replay(pages[:half], pen)
    begun = settings.SEAMBOOK_HOME / "begun"
    again = begun.exists()
    begun.write_text("x")
    if not again:
        time.sleep(60)
    replay(pages[half:], pen)


cut_sheet.replay = slowly  # type: ignore[assignment]
assert documents.cut_sheets_pdf is cut_sheet.cut_sheets_pdf
