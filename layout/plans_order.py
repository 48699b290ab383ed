"""What is short: metal that accepted plans need and is not there, by job and day."""

from __future__ import annotations

import csv
import datetime
import io
from collections.abc import Iterable, Sequence
from decimal import Decimal
from typing import NamedTuple

from jobs.models import Job
from layout.drawing.about import About
from layout.drawing.plan_book import Listed, list_pdf
from layout.models import CutPlan, PlanStock
from shop.models import Metal, ShopProfile
from shop.money import rounded, show_money
from shop.prices import NoPrice, PriceBook, metal_cost
from shop.units import Unit, show_length, show_weight

HEADS = ("Needed by", "Metal", "What", "Number", "Weight", "For")
COLUMNS = (0.0, 0.16, 0.38, 0.6, 0.68, 0.78)
HEADS_PRICED = ("Needed by", "Metal", "What", "Number", "Weight", "Cost", "For")
COLUMNS_PRICED = (0.0, 0.13, 0.32, 0.53, 0.61, 0.7, 0.83)
NO_PRICE = "no price"


class Short(NamedTuple):
    """Sheets alike, or coil in all, that one plan needs.

    needed: the first install day of its jobs, if one is set
    width, length: mm; of coil the length in all
    """

    needed: datetime.date | None
    jobs: tuple[Job, ...]
    plan: CutPlan
    metal: Metal
    form: str
    width: Decimal
    length: Decimal
    number: int

    def weight_kg(self) -> Decimal:
        volume = self.width * self.length * self.metal.thickness_mm * self.number
        return volume * self.metal.density_kg_m3 / 1_000_000_000

    def cost(self, book: PriceBook) -> Decimal | None:
        """By the price book, rounded; None where the metal has no price that day."""
        try:
            price = book.of_metal(self.metal.name)
        except NoPrice:
            return None
        area = self.width * self.length * self.number / 1_000_000
        amount = metal_cost(price, self.metal, area).amount
        return rounded(amount, book.currency)

    def what(self, unit: Unit) -> str:
        wide = show_length(self.width, unit)
        return f"{self.form} {wide} x {show_length(self.length, unit)}"

    def jobs_told(self) -> str:
        numbers = ", ".join(str(job.number) for job in self.jobs)
        return f"Job {numbers}, plan {self.plan.number}"


def to_order() -> list[Short]:
    """All that is short, the soonest first; without a day last."""
    rows = (
        PlanStock.objects.filter(
            item__isnull=True,
            plan__state=CutPlan.State.ACCEPTED,
            damaged="",
            set_aside=False,
        )
        .select_related("plan__metal")
        .prefetch_related("plan__jobs__client")
        .order_by("plan", "position")
    )
    found: dict[tuple[int, str, Decimal, Decimal], list[PlanStock]] = {}
    for row in rows:
        width, length = row.size()
        key = (row.plan_id, row.form, width, length if row.form != "coil" else width)
        found.setdefault(key, []).append(row)
    short = [_short(stocks) for stocks in found.values()]
    late = datetime.date.max
    return sorted(short, key=lambda it: (it.needed or late, it.plan.number, it.form))


def _short(stocks: list[PlanStock]) -> Short:
    first = stocks[0]
    plan = first.plan
    jobs = sorted(plan.jobs.all(), key=lambda job: job.number)
    days = [job.install_from for job in jobs if job.install_from]
    width, length = first.size()
    number = len(stocks)
    if first.form == "coil":
        length, number = sum((it.size()[1] for it in stocks), Decimal(0)), 1
    return Short(
        min(days, default=None),
        tuple(jobs),
        plan,
        plan.metal,
        first.form,
        width,
        length,
        number,
    )


def sum_of(short: Iterable[Short], book: PriceBook) -> Decimal:
    """Of all that has a price."""
    return sum((it.cost(book) or Decimal(0) for it in short), Decimal(0))


def as_csv(short: Iterable[Short], unit: Unit, book: PriceBook | None = None) -> str:
    """One row each; days as 2026-11-25, sizes as plain numbers in mm and in words.

    book: for the cost of each; None for those who don't see money
    """
    file = io.StringIO()
    rows = csv.writer(file)
    rows.writerow(
        [
            "needed_by", "jobs", "clients", "plan", "metal", "finish", "form",
            "width_mm", "length_mm", "size", "number", "weight_kg",
            *(("cost", "currency") if book else ()),
        ]
    )  # fmt: skip
    for it in short:
        rows.writerow(
            _plain(cell)
            for cell in (
                it.needed.isoformat() if it.needed else "",
                " ".join(str(job.number) for job in it.jobs),
                "; ".join(job.client.name for job in it.jobs),
                it.plan.number,
                it.metal.name,
                it.plan.finish,
                it.form,
                f"{it.width.normalize():f}",
                f"{it.length.normalize():f}",
                it.what(unit),
                it.number,
                f"{it.weight_kg():.2f}",
                *_cost_cells(it, book),
            )
        )
    return file.getvalue()


def _cost_cells(it: Short, book: PriceBook | None) -> tuple[str, ...]:
    """Empty where there is no price, never nought."""
    if book is None:
        return ()
    cost = it.cost(book)
    return ("", book.currency) if cost is None else (f"{cost:f}", book.currency)


def _plain(cell: object) -> str:
    """A cell that no table program takes for a formula."""
    words = str(cell)
    return f"'{words}" if words[:1] in "=+-@\t" and words else words


def as_pdf(
    short: Sequence[Short], day: datetime.date, book: PriceBook | None = None
) -> bytes:
    """The list on the shop's paper. book: as in as_csv"""
    shop = ShopProfile.current()
    unit = shop.units
    rows = [
        Listed(
            (
                told_day(it.needed) if it.needed else "no day set",
                f"{it.metal} {it.plan.finish}".strip(),
                it.what(unit),
                str(it.number),
                show_weight(it.weight_kg(), unit),
                *((_cost_told(it, book),) if book else ()),
                it.jobs_told(),
            )
        )
        for it in short
    ]
    facts = ["What accepted cut plans need and the rack has not."]
    if not rows:
        facts.append("Nothing is short.")
    elif book:
        facts.append(
            f"All that has a price: {show_money(sum_of(short, book), book.currency)}, "
            f"by the price book of {told_day(book.day)}, before tax."
        )
    about = About(shop=shop.name, day=told_day(day))
    heads, at = (HEADS_PRICED, COLUMNS_PRICED) if book else (HEADS, COLUMNS)
    return list_pdf("To order", facts, heads, rows, at, about, shop.paper)


def _cost_told(it: Short, book: PriceBook) -> str:
    cost = it.cost(book)
    return NO_PRICE if cost is None else show_money(cost, book.currency)


def told_day(day: datetime.date) -> str:
    return f"{day:%a} {day.day} {day:%b %Y}"
