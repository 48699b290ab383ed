"""What an invented year of the shop holds: jobs, their pieces, how long they took.

Takes a seeded random source, gives plain values; `jobs.past` makes rows of them. No
person, place or job in it exists.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import Decimal
from random import Random

from jobs.models import Piece, WorkTime
from shop.hours_table import HOURS

STAGES = tuple(stage.value for stage in WorkTime.OF_A_PIECE)
METALS = ("copper 20 oz", "copper 16 oz", "zinc 0.7 mm", "stainless 0.5 mm")
PER_JOB = 15
"""Pieces of a job with a saddle, cleats counted as one mark."""

# mark, family, how many, square metres of a blank
SET = (
    ("A", "apron", 1, "0.62"),
    ("PL", "side_pan", 1, "0.55"),
    ("PR", "side_pan", 1, "0.55"),
    ("BL", "saddle_half", 1, "0.70"),
    ("BR", "saddle_half", 1, "0.70"),
    ("CF", "counterflashing", 1, "0.20"),
    ("CB", "counterflashing", 1, "0.20"),
    ("CL1", "counterflashing", 1, "0.12"),
    ("CL2", "counterflashing", 1, "0.12"),
    ("CL3", "counterflashing", 1, "0.12"),
    ("CR1", "counterflashing", 1, "0.12"),
    ("CR2", "counterflashing", 1, "0.12"),
    ("CR3", "counterflashing", 1, "0.12"),
    ("E", "end_cap", 2, "0.03"),
    ("K", "cleat", 24, "0.004"),
)
# How the crew really works, against the table: what an owner would find in the books.
TRUTH = {
    ("saddle_half", "bending"): 1.45,
    ("saddle_half", "installing"): 1.25,
    ("side_pan", "installing"): 1.15,
    ("counterflashing", "cutting"): 0.7,
    ("cleat", "bending"): 0.6,
}
STANDARD = {(row.family, row.stage): Decimal(str(row.minutes)) for row in HOURS}
TITLES = (
    "Chimney, north slope", "Chimney over the kitchen", "Leak behind the stack",
    "Two seams open", "Saddle rusted through", "Chimney, west gable",
)  # fmt: skip
FIRST = ("Ottilie", "Barnaby", "Marigold", "Philippa", "Leander", "Tamsin", "Jory")
LAST = ("Fernhollow", "Thistledown", "Quill", "Wrenfield", "Mossbank", "Tarnside")
SPOILED = tuple(Piece.Spoiled.values)
REMADE = 0.025
CALLED_OFF = 0.02
OPEN_DAYS = 45


@dataclass(slots=True)
class PlannedPiece:
    """minutes: by stage, of all alike; spoiled: why the first making was scrapped"""

    mark: str
    family: str
    many: int
    blank: Decimal
    minutes: dict[str, Decimal]
    spoiled: str = ""
    lost: Decimal = Decimal(0)


@dataclass(slots=True)
class PlannedJob:
    """booked: its first day; closed: its last, None while it is open"""

    booked: datetime.date
    closed: datetime.date | None
    off: bool
    title: str
    metal: str
    who: int
    pieces: list[PlannedPiece] = field(default_factory=list)


def months(
    chance: Random, years: int, per_year: int, until: datetime.date
) -> Iterator[list[PlannedJob]]:
    """Jobs month by month, the oldest first. per_year: pieces"""
    jobs_a_year = max(per_year / PER_JOB, 1)
    day = until.replace(year=until.year - years) if until.day < 29 else until
    if until.day >= 29:
        day = until.replace(year=until.year - years, day=28)
    owed = 0.0
    while day < until:
        after = min(_next_month(day), until)
        owed += jobs_a_year * (after - day).days / 365.2425
        number, owed = int(owed), owed - int(owed)
        yield [_job(chance, day, after, until) for _ in range(number)]
        day = after


def _next_month(day: datetime.date) -> datetime.date:
    first = day.replace(day=1) + datetime.timedelta(days=32)
    return first.replace(day=1)


def _job(
    chance: Random, first: datetime.date, after: datetime.date, until: datetime.date
) -> PlannedJob:
    booked = first + datetime.timedelta(days=chance.randrange((after - first).days))
    closed = booked + datetime.timedelta(days=chance.randint(12, OPEN_DAYS))
    job = PlannedJob(
        booked,
        closed if closed < until else None,
        chance.random() < CALLED_OFF,
        chance.choice(TITLES),
        chance.choice(METALS),
        chance.randrange(1_000_000),
    )
    pace = chance.lognormvariate(0.0, 0.18)
    job.pieces = [_piece(chance, pace, *row) for row in SET]
    return job


def _piece(
    chance: Random, pace: float, mark: str, family: str, many: int, blank: str
) -> PlannedPiece:
    minutes = {}
    for stage in STAGES:
        usual = float(STANDARD[family, stage]) * TRUTH.get((family, stage), 1.0)
        took = usual * many * pace * chance.lognormvariate(0.0, 0.22)
        minutes[stage] = Decimal(max(round(took * 4), 2)) / 4
    piece = PlannedPiece(mark, family, many, Decimal(blank), minutes)
    if chance.random() < REMADE:
        piece.spoiled = chance.choice(SPOILED)
        piece.lost = minutes["cutting"]
    return piece
