"""What the metal of a cut plan costs its jobs: the rack's price follows the blanks.

A stock that is cut up costs what was paid for it, less its kept offcuts, parted over
the blanks that came out of it by their area. Nothing paid known: the price book's.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from django.utils import timezone

from jobs import spending
from jobs.costing import MetalNeed
from jobs.models import Cost, Job, Piece
from layout.models import CutPlan, Layout, PlannedBlank, PlanStock
from shop.models import Person, ShopProfile
from shop.money import rounded
from shop.prices import NoPrice, PriceBook, metal_cost

AREA = Decimal("0.000001")


def charge(stock: PlanStock, by: Person) -> list[Cost]:
    """Writes the metal of a stock that is over to its jobs; none twice."""
    if standing(stock):
        return []
    worth = _worth(stock)
    if not worth:
        return []
    shares = _shares(stock)
    total = sum((area for _, _, area in shares), Decimal(0))
    currency = ShopProfile.current().currency
    turn = Cost.objects.filter(key__startswith=_mark(stock)).count()
    made, left = [], worth
    for number, (job, piece, area) in enumerate(shares, start=1):
        last = number == len(shares)
        amount = left if last else rounded(worth * area / total, currency)
        left -= amount
        made.append(
            spending.write(
                job,
                by,
                part=Cost.Part.METAL,
                words=_words(stock),
                amount=amount,
                on_day=timezone.localdate(),
                piece=piece,
                from_rack=str(stock.item),
                key=f"{_mark(stock)}{turn + number}",
            )
        )
    return made


def uncharge(stock: PlanStock, by: Person, reason: str) -> None:
    """Takes back what `charge` wrote: the stock is not cut up after all."""
    for cost in standing(stock):
        spending.take_back(cost, by, reason)


def standing(stock: PlanStock) -> list[Cost]:
    return list(Cost.objects.standing().filter(key__startswith=_mark(stock)))


def needs(layout: Layout) -> dict[str, MetalNeed]:
    """Metal -> how much more than its blanks a plan takes, where one has them all.

    The newest plan that is found, accepted or cut, and of these very pieces.
    """
    found: dict[str, MetalNeed] = {}
    pieces = list(layout.laid_pieces.light())
    states = (CutPlan.State.READY, CutPlan.State.ACCEPTED, CutPlan.State.DONE)
    plans = CutPlan.objects.of(layout.job).filter(state__in=states).newest_first()
    for plan in plans:
        if plan.metal.name in found:
            continue
        wanted = {it.pk for it in pieces if it.metal == plan.metal.name}
        blanks = PlannedBlank.objects.filter(stock__plan=plan, live=True)
        planned = set(blanks.values_list("laid", flat=True))
        if wanted and wanted <= planned:
            found[plan.metal.name] = _need(plan)
    return found


def _need(plan: CutPlan) -> MetalNeed:
    """All stock less offcuts kept, over all blanks, to four decimals."""
    stock = blanks = Decimal(0)
    for row in plan.stocks.filter(set_aside=False).prefetch_related(
        "blanks", "offcuts"
    ):
        stock += _area(row.width_mm, row.length_mm)
        stock -= sum(_area(it.width_mm, it.length_mm) for it in row.offcuts.all())
        blanks += sum(
            (_area(it.width_mm, it.length_mm) for it in row.blanks.all() if it.live),
            Decimal(0),
        )
    factor = (stock / blanks).quantize(Decimal("0.0001"))
    waste = ((factor - 1) * 100).quantize(Decimal("0.1"))
    return MetalNeed(factor, f"With {waste} % waste, from cut plan {plan.number}.")


def _worth(stock: PlanStock) -> Decimal:
    """What the stock cost, less what is kept of it."""
    item = stock.item
    if item is None:
        return Decimal(0)
    currency = ShopProfile.current().currency
    if item.paid is not None:
        paid = item.paid
        if item.is_coil():
            paid = paid * stock.size()[1] / item.length_mm
        kept = sum(
            (it.item.paid for it in stock.offcuts.all() if it.item and it.item.paid),
            Decimal(0),
        )
        return rounded(max(paid - kept, Decimal(0)), currency)
    area = _area(stock.width_mm, stock.length_mm)
    area -= sum(_area(it.width_mm, it.length_mm) for it in stock.offcuts.all())
    try:
        price = PriceBook.on(timezone.localdate()).of_metal(item.metal.name)
    except NoPrice:
        return Decimal(0)
    return rounded(metal_cost(price, item.metal, area).amount, currency)


def _shares(stock: PlanStock) -> Sequence[tuple[Job, Piece | None, Decimal]]:
    """Who the metal was for: pieces by the area cut, else the plan's jobs alike."""
    areas: dict[int, Decimal] = {}
    pieces: dict[int, Piece] = {}
    for blank in stock.blanks.filter(cut=True).select_related("piece__job"):
        pieces[blank.piece_id] = blank.piece
        area = areas.get(blank.piece_id, Decimal(0))
        areas[blank.piece_id] = area + _area(blank.width_mm, blank.length_mm)
    if pieces:
        return [(it.job, it, areas[pk]) for pk, it in sorted(pieces.items())]
    return [(job, None, Decimal(1)) for job in stock.plan.jobs.order_by("pk")]


def _words(stock: PlanStock) -> str:
    what = "spoiled" if stock.damaged else "cut up"
    return f"{stock.plan.metal}, {stock} {what}, {stock.plan}"


def _mark(stock: PlanStock) -> str:
    return f"plan-stock:{stock.pk}:"


def _area(width: float, length: float) -> Decimal:
    return (Decimal(str(width)) * Decimal(str(length)) / 1_000_000).quantize(AREA)
