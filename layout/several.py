"""Several sites in one record, laid out in one go.

Takes {"format": ..., "several": [record, ...]}, gives one LaidSet. Each site's
marks begin with its number: 2-A is the apron of the second. null instead of a
record is a place left out, whose number is not given again.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any, TypeGuard

from layout import site_record
from layout.faults import BadRecord, CannotBuild, Fault
from layout.folding.result import Finding, Joint, LaidSet, Piece

MOST = 50


def has_several(record: object) -> TypeGuard[dict[str, Any]]:
    """True for a record that holds other records."""
    return isinstance(record, dict) and "several" in record


def lay_out(record: dict[str, Any], one: Callable[[object], LaidSet]) -> LaidSet:
    """All its sites laid out by `one`, marks numbered, in one set.

    Shown in the first site's units. Raises BadRecord with every site's faults,
    or CannotBuild where no site can be built; a site that can't be is named in
    `refused` where another can.
    """
    made: list[tuple[int, LaidSet]] = []
    faults: list[Fault] = []
    refused: list[str] = []
    sites = _sites(record)
    for number, site in enumerate(sites, start=1):
        if site is None:
            continue
        try:
            made.append((number, one(site)))
        except BadRecord as bad:
            at = f"several[{number - 1}]"
            faults += [replace(f, field=f"{at}.{f.field}") for f in bad.faults]
        except CannotBuild as cannot:
            refused += [f"site {number}: {reason}" for reason in cannot.reasons]
    if faults:
        raise BadRecord(faults)
    if not made:
        raise CannotBuild(refused)
    for number, laid in made:
        refused += [f"site {number}: {reason}" for reason in laid.refused]
    first = made[0][1]
    return LaidSet(
        {"format": site_record.FORMAT, "several": _as_read(sites, made)},
        first.units,
        tuple(_piece(n, p) for n, laid in made for p in laid.pieces),
        tuple(_joint(n, j) for n, laid in made for j in laid.joints),
        tuple(_finding(n, f) for n, laid in made for f in laid.findings),
        (),
        0.0,
        tuple(refused),
        first.allowance,
        first.sides if len({laid.sides for _, laid in made}) == 1 else "",
        first.radius if len({laid.radius for _, laid in made}) == 1 else 0.0,
        first.brake,
        tuple(dict.fromkeys(stock for _, laid in made for stock in laid.stocks)),
    )


def _as_read(
    sites: Sequence[object], made: Sequence[tuple[int, LaidSet]]
) -> list[dict[str, object] | None]:
    """Each place as it was read; null where it was left out or could not be built."""
    read = {number: laid.site for number, laid in made}
    return [read.get(number) for number in range(1, len(sites) + 1)]


def _sites(record: dict[str, Any]) -> Sequence[object]:
    """The records in it. Raises BadRecord."""
    given = record["several"]
    faults = [
        Fault(str(name)[: site_record.SHOWN], "is not known", "leave it out; each "
              "site says its own")
        for name in record
        if name not in ("format", "several")
    ]  # fmt: skip
    if record.get("format") != site_record.FORMAT:
        faults.append(Fault("format", "is another", f"give {site_record.FORMAT}"))
    if not isinstance(given, list) or not 1 <= len(given) <= MOST:
        faults.append(
            Fault("several", "is no list of sites", f"give 1 to {MOST} site records")
        )
    elif not any(site is not None for site in given):
        faults.append(
            Fault("several", "has every place left out", "give one that is laid out")
        )
    elif any(has_several(site) for site in given):
        faults.append(
            Fault("several", "holds another several", "put its sites into this one")
        )
    if faults:
        raise BadRecord(faults)
    sites: list[object] = given
    return sites


def _mark(number: int, mark: str) -> str:
    return f"{number}-{mark}"


def _piece(number: int, piece: Piece) -> Piece:
    return replace(piece, mark=_mark(number, piece.mark))


def _joint(number: int, joint: Joint) -> Joint:
    upper = replace(joint.upper, mark=_mark(number, joint.upper.mark))
    lower = replace(joint.lower, mark=_mark(number, joint.lower.mark))
    words = joint.name.replace(" over ", f" over {number}-", 1)
    return replace(joint, name=_mark(number, words), upper=upper, lower=lower)


def _finding(number: int, finding: Finding) -> Finding:
    """A finding of a whole site says which."""
    marks = [_mark(number, mark) for mark in finding.where.split(", ") if mark]
    message = finding.message if marks else f"site {number}: {finding.message}"
    return replace(finding, where=", ".join(marks), message=message)
