"""Each question of the books as a chart and the table under it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal

from django.utils.safestring import SafeString

from jobs.books import charts
from jobs.books.crew import OfPerson
from jobs.books.hours import Hours
from jobs.books.metal import Metal
from jobs.books.quoted import Span
from jobs.books.remakes import Remake
from jobs.books.tables import Cell, Table, count, minutes, money, share, word
from jobs.models import Account, Job

MOST_ROWS = 24
"""Of a chart: more could not be read. The table has them all."""


def of_jobs(jobs: Iterable[Job], currency: str) -> Table:
    table = Table(
        [
            ("Job", "job"),
            ("Title", "title"),
            ("Client", "client"),
            ("State", "state"),
            ("Closed", "closed_on"),
            ("Quoted", f"quoted_{currency}"),
            ("Real", f"real_{currency}"),
            ("More or less", "over_percent"),
            ("Made again", "remakes"),
        ]
    )
    for job in jobs:
        account = account_of(job)
        quoted = account.quoted() if account and account.quote_id else None
        real = account.real() if account else None
        over = (real - quoted) / quoted if quoted and real is not None else None
        closed = account.closed_on if account else None
        shown = f"{closed:%a} {closed.day} {closed:%b %Y}" if closed else ""
        table.add(
            Cell(str(job.number), job.number, link=job.get_absolute_url()),
            word(job.title),
            word(job.client.name),
            word(job.get_state_display()),
            Cell(shown, closed.isoformat() if closed else None),
            money(quoted, currency),
            money(real, currency),
            share(over),
            count(account.remakes) if account else Cell("", None, True),
        )
    return table


def account_of(job: Job) -> Account | None:
    return getattr(job, "account", None)


def of_spans(spans: Sequence[Span], currency: str) -> tuple[SafeString, Table]:
    chart = charts.pairs(
        "What jobs were quoted at and what they cost",
        [charts.Pair(it.label, float(it.quoted), float(it.real)) for it in spans],
        ("quoted", "real"),
        currency,
    )
    table = Table(
        [
            ("When", "from"),
            ("Jobs", "jobs"),
            ("Metal quoted", f"metal_quoted_{currency}"),
            ("Metal", f"metal_{currency}"),
            ("Labour quoted", f"labour_quoted_{currency}"),
            ("Labour", f"labour_{currency}"),
            ("Other quoted", f"other_quoted_{currency}"),
            ("Other", f"other_{currency}"),
            ("More or less", "over_percent"),
            ("Price before tax", f"net_{currency}"),
        ]
    )
    for it in spans:
        sums = (it.quoted_metal, it.metal, it.quoted_labour, it.labour)
        table.add(
            Cell(it.label, it.begins.isoformat()),
            count(it.jobs),
            *(money(amount, currency) for amount in sums),
            money(it.quoted_other, currency),
            money(it.other, currency),
            share(it.over),
            money(it.net, currency),
        )
    return chart, table


def of_hours(rows: Sequence[Hours]) -> tuple[SafeString, Table]:
    longest = sorted(rows, key=lambda row: -row.minutes)[:MOST_ROWS]
    shown = [row for row in rows if row in longest]
    chart = charts.spreads(
        "Minutes of one piece",
        [
            charts.Spread(
                row.words(),
                float(row.low),
                float(row.median),
                float(row.high),
                None if row.standard is None else float(row.standard),
            )
            for row in shown
        ],
        "standard",
        "minutes a piece",
    )
    table = Table(
        [
            ("Piece", "family"),
            ("Work", "stage"),
            ("Jobs", "jobs"),
            ("Pieces", "pieces"),
            ("A quarter under", "low_min"),
            ("Median", "median_min"),
            ("A quarter over", "high_min"),
            ("Standard", "standard_min"),
            ("Against standard", "over_percent"),
            ("In all", "all_min"),
        ]
    )
    for row in rows:
        table.add(
            word(row.family.replace("_", " ")),
            word(row.stage),
            count(row.jobs),
            count(row.pieces),
            minutes(row.low, 1),
            minutes(row.median, 1),
            minutes(row.high, 1),
            minutes(row.standard, 1),
            share(None if row.ratio is None else row.ratio - 1),
            minutes(row.minutes),
        )
    return chart, table


def of_remakes(rows: Sequence[Remake], currency: str) -> tuple[SafeString, Table]:
    chart = charts.bars(
        "What pieces made again cost",
        [
            charts.Bar(row.words, float(row.price), money(row.price, currency).shown)
            for row in rows
        ],
        currency,
    )
    table = Table(
        [
            ("Why", "reason"),
            ("Pieces", "pieces"),
            ("Time lost", "lost_min"),
            ("Price", f"price_{currency}"),
        ]
    )
    for row in rows:
        table.add(
            word(row.words),
            count(row.pieces),
            minutes(row.minutes),
            money(row.price, currency),
        )
    return chart, table


def of_crew(rows: Sequence[Hours]) -> tuple[SafeString, Table]:
    ends = rows if len(rows) <= MOST_ROWS else [*rows[:12], *rows[-12:]]
    chart = charts.bars(
        "Median against standard, fastest first",
        [
            charts.Bar(row.words(), float(row.ratio), _of_standard(row.ratio))
            for row in ends
            if row.ratio is not None
        ],
        "share of the standard",
    )
    table = Table(
        [
            ("Piece", "family"),
            ("Work", "stage"),
            ("Median", "median_min"),
            ("Standard", "standard_min"),
            ("Against standard", "over_percent"),
            ("Jobs", "jobs"),
        ]
    )
    for row in rows:
        table.add(
            word(row.family.replace("_", " ")),
            word(row.stage),
            minutes(row.median, 1),
            minutes(row.standard, 1),
            share(None if row.ratio is None else row.ratio - 1),
            count(row.jobs),
        )
    return chart, table


def _of_standard(ratio: Decimal) -> str:
    return f"{ratio * 100:.0f} %"


def of_people(rows: Sequence[OfPerson]) -> Table:
    table = Table(
        [
            ("Who", "person"),
            ("Marks worked on", "marks"),
            ("Time", "min"),
            ("Against the whole crew", "over_percent"),
        ]
    )
    for row in rows:
        table.add(
            word(row.person), count(row.marks), minutes(row.minutes),
            share(row.against - 1),
        )  # fmt: skip
    return table


def of_metal(rows: Sequence[Metal], currency: str) -> tuple[SafeString, Table]:
    chart = charts.pairs(
        "Metal used and scrapped",
        [charts.Pair(it.name, float(it.used), float(it.scrapped)) for it in rows],
        ("used", "scrapped"),
        "m²",
    )
    table = Table(
        [
            ("Metal", "metal"),
            ("Bought", "bought_m2"),
            ("Paid", f"paid_{currency}"),
            ("Used", "used_m2"),
            ("Kept as offcuts", "kept_m2"),
            ("Scrapped", "scrapped_m2"),
            ("Sold for", f"sold_{currency}"),
        ]
    )
    for it in rows:
        table.add(
            word(it.name), _area(it.bought), money(it.paid, currency), _area(it.used),
            _area(it.kept), _area(it.scrapped), money(it.sold_for, currency),
        )  # fmt: skip
    return chart, table


def _area(area: Decimal) -> Cell:
    exact = area.quantize(Decimal("0.01"))
    return Cell(f"{exact:,.2f} m²".replace(",", "\u00a0"), exact, True)
