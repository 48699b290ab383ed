"""Bad news in words: faults of a record, and sites that can't be built."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Fault:
    """One field that can't be read. field: dotted path in the record."""

    field: str
    given: str
    expected: str

    def __str__(self) -> str:
        return f"{self.field}: {self.given}; {self.expected}"


class BadRecord(ValueError):
    """The record can't be read; nothing is computed."""

    def __init__(self, faults: list[Fault]) -> None:
        super().__init__("\n".join(map(str, faults)))
        self.faults = faults


class CannotBuild(ValueError):
    """The record is read, but the site can't be built as asked."""

    def __init__(self, reasons: list[str]) -> None:
        super().__init__("\n".join(reasons))
        self.reasons = reasons
