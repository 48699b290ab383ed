"""Every built-in number with its source and the tests that hold it, in groups.

The rows are as delivered; where the shop keeps another figure, that is said beside.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any, NamedTuple

from layout import numbers_metal
from layout.figures import Figure, figures
from layout.numbers_held import of_code
from layout.numbers_metal import Number, length
from shop import hours_table, tables
from shop.models import Standard
from shop.units import Unit


class Group(NamedTuple):
    slug: str
    title: str
    words: str
    numbers: tuple[Number, ...]


def groups(unit: Unit) -> list[Group]:
    """All of them, lengths in the shop's unit with the exact mm beside it."""
    return [
        Group(slug, title, words, tuple(numbers))
        for slug, title, words, numbers in (
            (
                "standards",
                "Standards of the shop",
                "The owner changes them under Shop, Standards.",
                _standards(unit),
            ),
            (
                "metals",
                "Metals",
                "Thickness, weight, inside radius and stretch.",
                numbers_metal.metals(),
            ),
            (
                "warmth",
                "Metal and warmth",
                "Movement, and how cold it may be folded.",
                numbers_metal.warmths(),
            ),
            (
                "pairs",
                "Metals that must not meet",
                "Touching has no direction; run-off has one.",
                numbers_metal.pairs(),
            ),
            (
                "seams",
                "Standing seams as they are printed",
                "Legs, height and the metal one bay loses.",
                numbers_metal.seams(unit),
            ),
            (
                "brakes",
                "Brakes and stock",
                "What a new shop starts with; every shop enters its own.",
                (*numbers_metal.brakes(unit), *numbers_metal.stocks(unit)),
            ),
            (
                "hours",
                "Standard hours and waste",
                "No published figure was found; the books offer the shop's own.",
                _hours(),
            ),
            (
                "code",
                "Rules and folds",
                "Figures in the code of the rules, the folds and the pieces.",
                (_figure(figure, unit) for figure in figures()),
            ),
        )
    ]


def matching(every: Iterable[Group], asked: str) -> list[Group]:
    """The groups with the numbers that hold every word asked for; empty ones gone."""
    words = asked.casefold().split()
    found = (
        group._replace(numbers=tuple(n for n in group.numbers if n.has(words)))
        for group in every
    )
    return [group for group in found if group.numbers]


def _standards(unit: Unit) -> Iterator[Number]:
    kept = {row.key: row for row in Standard.objects.all()}
    for row in tables.STANDARDS:
        delivered = _standard(row.value, row.unit, unit)
        own = kept.get(row.key)
        mine = _standard(own.read(), row.unit, unit) if own else delivered
        here = f"{mine}. {own.source}" if own and mine != delivered else ""
        what = row.key.replace("_", " ").capitalize()
        yield Number(
            f"standard {row.key}", f"{what}: {row.words}", delivered, row.source, here
        )


def _standard(value: float | str, kind: str, unit: Unit) -> str:
    if kind == "mm":
        return length(float(value), unit)
    return f"{value}°" if kind == "deg" else f"{value}"


def _hours() -> Iterator[Number]:
    for row in hours_table.HOURS:
        whose = row.family.replace("_", " ") or "a piece or visit of another kind"
        if row.stage in hours_table.OF_A_JOB:
            whose = "one visit"
        yield Number(
            f"hours {row.family} {row.stage}",
            f"{hours_table.STAGE_WORDS[row.stage].capitalize()}: {whose}",
            f"{row.minutes:g} minutes",
            hours_table.SOURCE,
        )
    yield Number(
        "waste",
        "Metal lost beside the blanks, where no cut plan says",
        f"{hours_table.WASTE_PERCENT:g} %",
        hours_table.SOURCE,
    )


def _figure(figure: Figure, unit: Unit) -> Number:
    held = of_code(figure.name)
    of = held.unit if held else ""
    dotted, _, row = figure.name.partition(" ")
    _, folder, module, name = dotted.split(".")
    what = f"{name.replace('_', ' ').capitalize()}, in {folder}/{module}"
    return Number(
        figure.name,
        f"{what}: {row}" if row else what,
        _said(figure.value, of, unit),
        figure.words,
    )


def _said(value: Any, of: str, unit: Unit) -> str:
    if isinstance(value, Mapping):
        return ", ".join(
            _said(size, of, unit)
            if key == "value"
            else f"{key} {_said(size, of, unit)}"
            for key, size in value.items()
        )
    if of == "mm":
        return length(value, unit)
    return f"{value:.4g}{'' if of == '°' else ' '}{of}".strip()
