"""Curbs: how their walls stand."""

from __future__ import annotations

from collections.abc import Iterator

from layout.folding.result import Finding
from layout.rules.case import Case


def stand(case: Case) -> Iterator[Finding]:
    """A curb taken as plumb: many stand square to the roof instead."""
    site = case.site
    if site.kind == "curb" and not any(site.leans):
        yield Finding(
            "note",
            "practice",
            "curb taken as plumb",
            f"the curb's walls are taken as plumb; square to the roof they would fold "
            f"at 90° front and back, not {90 - site.pitch:.1f}° and "
            f"{90 + site.pitch:.1f}°",
            "Hold a square against roof and curb; say how the walls stand.",
            "",
            "fold geometry; common practice, no source",
        )
