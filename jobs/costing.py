"""Reckons what a job should cost: pieces, hours and prices of a day -> lines and sums.

Takes plain values and a price book, gives lines that say where each figure comes from.
Every line is rounded once, to the currency's smallest unit; sums are of rounded lines.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import NamedTuple

from jobs.models import QuoteLine, WorkTime
from shop.models import Metal, Person, Price, StandardHours
from shop.money import rounded
from shop.prices import NoPrice, PriceBook, metal_cost

Part = QuoteLine.Part
Stage = WorkTime.Stage

CREW = Person.Role.CREW
NEEDED = (
    Price.Kind.TRAVEL,
    Price.Kind.CONSUMABLES,
    Price.Kind.OVERHEAD,
    Price.Kind.MARGIN,
    Price.Kind.TAX,
)


class PieceWork(NamedTuple):
    """One piece, or several alike, to be priced.

    blank_m2: of one blank's rectangle, square metres
    blank_words: its size as people read it
    """

    mark: str
    family: str
    title: str
    pieces: int
    metal: str
    blank_m2: Decimal
    blank_words: str


class MetalNeed(NamedTuple):
    """How much of a metal is bought or taken for its blanks.

    factor: metal over blanks, 1.15 for 15 % waste; source: where that comes from
    """

    factor: Decimal
    source: str


class Extra(NamedTuple):
    words: str
    amount: Decimal


@dataclass(frozen=True, slots=True)
class Asked:
    """What the office adds to the layout.

    visits: journeys to the site, the measuring one included
    setting_up: minutes for scaffold, ladders, protection and clearing, of all visits;
    None for the standard
    people: how many go on a visit
    """

    visits: int = 2
    people: int = 2
    setting_up: Decimal | None = None
    extras: tuple[Extra, ...] = ()


@dataclass(slots=True)
class Reckoning:
    """Lines in order, and their sums by part."""

    currency: str
    lines: list[QuoteLine] = field(default_factory=list)

    def sum(self, *parts: str) -> Decimal:
        return sum(
            (line.amount for line in self.lines if line.part in parts), Decimal(0)
        )

    @property
    def costs(self) -> Decimal:
        return self.sum(
            Part.METAL, Part.LABOUR, Part.TRAVEL, Part.CONSUMABLES, Part.EXTRA
        )

    @property
    def net(self) -> Decimal:
        return self.costs + self.sum(Part.OVERHEAD, Part.MARGIN)

    @property
    def minutes(self) -> Decimal:
        return sum(
            (line.quantity for line in self.lines if line.unit == "min"), Decimal(0)
        )

    def add(self, **given: object) -> None:
        given["amount"] = rounded(given["amount"], self.currency)  # type: ignore[arg-type]
        self.lines.append(QuoteLine(position=len(self.lines) + 1, **given))


def reckon(
    works: Sequence[PieceWork],
    needs: dict[str, MetalNeed],
    asked: Asked,
    book: PriceBook,
) -> Reckoning:
    """The whole of a job.

    needs: metal -> how much of it, for every metal of the works
    Raises NoPrice with everything that has none, ValueError where there is no piece.
    """
    if not works:
        raise ValueError("There are no pieces to reckon. Lay the job out first.")
    if missing := book.missing((work.metal for work in works), [CREW], NEEDED):
        raise NoPrice(missing, book.day)
    metals = {row.name: row for row in Metal.objects.filter(name__in=needs)}
    made = Reckoning(book.currency)
    for work in works:
        _metal(made, work, metals[work.metal], needs[work.metal], book)
    for work in works:
        for stage in WorkTime.OF_A_PIECE:
            _piece_hours(made, work, stage, book)
    _job_hours(made, asked, book)
    _travel(made, asked, book)
    _share(made, Part.CONSUMABLES, made.sum(Part.METAL), "metal", book)
    for extra in asked.extras:
        made.add(
            part=Part.EXTRA,
            words=extra.words,
            quantity=Decimal(1),
            unit="",
            unit_price=extra.amount,
            amount=extra.amount,
            source="Given by hand.",
        )
    _share(made, Part.OVERHEAD, made.costs, "all costs above", book)
    with_overhead = made.costs + made.sum(Part.OVERHEAD)
    _share(made, Part.MARGIN, with_overhead, "costs and overhead", book)
    _share(made, Part.TAX, made.net, "the price", book)
    return made


def _metal(
    made: Reckoning, work: PieceWork, metal: Metal, need: MetalNeed, book: PriceBook
) -> None:
    area = work.blank_m2 * work.pieces * need.factor
    cost = metal_cost(book.of_metal(work.metal), metal, area)
    many = f"{work.pieces} blanks, " if work.pieces > 1 else "Blank "
    made.add(
        part=Part.METAL,
        mark=work.mark,
        family=work.family,
        pieces=work.pieces,
        words=f"{work.mark}, {work.title}: {work.metal}",
        quantity=cost.quantity,
        unit=cost.price.unit,
        unit_price=cost.price.amount,
        amount=cost.amount,
        price=cost.price,
        source=f"{many}{work.blank_words}. {need.source}",
    )


def _piece_hours(made: Reckoning, work: PieceWork, stage: str, book: PriceBook) -> None:
    standard = book.standard(work.family, stage)
    each = f"{standard.minutes.normalize():f} min each"
    of = "" if standard.family else ", as any other piece"
    _minutes(
        made,
        book,
        standard,
        standard.minutes * work.pieces,
        mark=work.mark,
        family=work.family,
        stage=stage,
        pieces=work.pieces,
        words=f"{work.mark}, {work.title}: {Stage(stage).label}",
        source=f"{work.pieces} × {each}{of}. Standard: {standard.source}.",
    )


def _job_hours(made: Reckoning, asked: Asked, book: PriceBook) -> None:
    """Measuring once, setting up on the other visits, and the way there and back."""
    installs = max(asked.visits - 1, 0)
    people = asked.people
    for stage, times, by in (
        (Stage.MEASURING, min(asked.visits, 1), 1),
        (Stage.SETTING_UP, installs, people),
        (Stage.TRAVELLING, asked.visits, people),
    ):
        standard = book.standard("", stage)
        if stage == Stage.SETTING_UP and asked.setting_up is not None:
            minutes, source = asked.setting_up, "Given by hand, all people together."
        else:
            minutes = standard.minutes * times * by
            source = (
                f"{times} × {standard.minutes.normalize():f} min × {by}"
                f" {'person' if by == 1 else 'people'}. Standard: {standard.source}."
            )
        if minutes:
            words = Stage(stage).label.capitalize()
            _minutes(
                made, book, standard, minutes, stage=stage, words=words, source=source
            )


def _minutes(
    made: Reckoning,
    book: PriceBook,
    standard: StandardHours,
    minutes: Decimal,
    **given: object,
) -> None:
    price = book.of_hour(CREW)
    made.add(
        part=Part.LABOUR,
        quantity=minutes,
        unit="min",
        unit_price=price.amount,
        amount=minutes * price.amount / 60,
        price=price,
        standard=standard,
        **given,
    )


def _travel(made: Reckoning, asked: Asked, book: PriceBook) -> None:
    if not asked.visits:
        return
    price = book.of(Price.Kind.TRAVEL)
    made.add(
        part=Part.TRAVEL,
        words="Travel, there and back",
        quantity=Decimal(asked.visits),
        unit="visit",
        unit_price=price.amount,
        amount=asked.visits * price.amount,
        price=price,
        source=f"{asked.visits} visits, given by hand.",
    )


def _share(
    made: Reckoning, part: str, of: Decimal, words: str, book: PriceBook
) -> None:
    """A line that is a percentage of a sum."""
    price = book.of(part)
    made.add(
        part=part,
        words=Part(part).label.capitalize(),
        quantity=of,
        unit="percent",
        unit_price=price.amount,
        amount=of * price.amount / 100,
        price=price,
        source=f"{price.amount.normalize():f} % of {words}.",
    )


def waste_only(metals: Iterable[str], percent: Decimal) -> dict[str, MetalNeed]:
    """Blanks and the shop's waste standard, where there is no cut plan."""
    words = f"With {percent.normalize():f} % waste, the shop’s standard; no cut plan."
    return {metal: MetalNeed(1 + percent / 100, words) for metal in set(metals)}
