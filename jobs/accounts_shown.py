"""A job's account as rows to show: words, quoted, real, and how they differ."""

from __future__ import annotations

from decimal import Decimal
from typing import Any, NamedTuple

from jobs.closing import Reckoned
from jobs.models import WorkTime


class Row(NamedTuple):
    words: str
    quoted: Decimal
    real: Decimal

    @property
    def over(self) -> Decimal:
        """By how much the real is more than quoted."""
        return self.real - self.quoted

    @property
    def share(self) -> Decimal | None:
        """The same as a share of what was quoted; None where nothing was."""
        return self.over / self.quoted if self.quoted else None


class FamilyRow(NamedTuple):
    words: str
    stage: str
    pieces: int
    quoted_minutes: Decimal
    minutes: Decimal
    money: Row


def shown(made: Reckoned) -> dict[str, Any]:
    account = made.account
    stages = {"": "metal", **dict(WorkTime.Stage.choices)}
    families = [
        FamilyRow(
            _family(family, stage),
            stages.get(stage, stage),
            row.pieces,
            row.quoted_minutes,
            row.minutes,
            Row(_family(family, stage), row.quoted, row.real),
        )
        for (family, stage), row in sorted(
            made.families.items(), key=lambda item: _place(*item[0])
        )
    ]
    return {
        "account": account,
        "currency": account.currency,
        "parts": [
            Row("Metal", account.quoted_metal, account.metal),
            Row("Labour", account.quoted_labour, account.labour),
            Row("Travel, consumables, other", account.quoted_other, account.other),
            Row("In all", account.quoted(), account.real()),
        ],
        "families": families,
        "remakes": made.remakes,
    }


def _family(family: str, stage: str) -> str:
    if family:
        return family.replace("_", " ")
    return "no one piece" if stage == "" else "the job"


def _place(family: str, stage: str) -> tuple[bool, str, int]:
    """By family, along the line; what is of no one piece comes last."""
    line = ["", *WorkTime.Stage.values]
    return not family, family, line.index(stage) if stage in line else len(line)
