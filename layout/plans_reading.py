"""What a cut plan is made from: blanks still to cut, stock on the rack and on offer.

Takes the jobs, a metal and the shop's terms, gives plain values. Blanks come from each
job's newest layout; what is cut, held, scrapped, or in an accepted plan is left out.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal
from typing import Any, NamedTuple

from django.utils import timezone

from jobs.models import Job, Piece
from layout import stored
from layout.geometry.tolerance import EPS
from layout.models import LaidPiece, Layout, PlannedBlank
from shop import rack_shape
from shop.models import Claim, Metal, Person, RackItem, Standard, Stock
from shop.prices import NoPrice, PriceBook, metal_cost
from shop.tables import STANDARDS
from shop.units import Unit, show_length

LONGEST_CUT_OFF = 6000.0
"""Longest piece taken off a coil at once, mm: what two people carry to the bench.
Common practice, no source."""


class Copies(NamedTuple):
    """Copies of one laid piece to cut. size: mm along and away from the datum edge.

    outline: of the cut, bench frame, mm; copies: (piece, copy) each
    """

    laid: LaidPiece
    size: tuple[float, float]
    outline: tuple[tuple[float, float], ...]
    copies: tuple[tuple[Piece, int], ...]


class Offered(NamedTuple):
    """Stock the plan may take. Sizes in mm; width and length before trimming.

    item: on the rack; buy: to order; length: 0 for coil
    longest: of what may be cut off it at once; left: of the coil, 0 = no end
    price: of a square mm, as the search weighs it; money: as it is paid
    squared: for an offcut with an outline, the rectangle in it that is used: x, y,
    width, length in the frame of the outline
    """

    item: RackItem | None
    buy: Stock | None
    form: str
    width: float
    length: float
    longest: float
    left: float
    price: float
    money: float
    trim: float
    squared: tuple[float, float, float, float] | None = None

    def room(self) -> tuple[float, float]:
        """Width and length that blanks may lie on at most."""
        edge = 0.0 if self.form == "coil" else 2 * self.trim
        return self.width - 2 * self.trim, self.longest - edge

    def name(self, unit: Unit) -> str:
        wide = show_length(self.width, unit)
        what = str(self.item) if self.item else f"{self.form} to order"
        return f"{what}, {wide} x {show_length(self.longest, unit)}"


class Order(NamedTuple):
    """All that a plan is made from. terms: the shop's standards, as in CutPlan."""

    metal: Metal
    finish: str
    blanks: tuple[Copies, ...]
    offered: tuple[Offered, ...]
    terms: dict[str, Any]

    def from_the_rack(self) -> Order:
        """The same without anything to order."""
        there = tuple(it for it in self.offered if it.item is not None)
        return self._replace(offered=there)


class Refused(ValueError):
    """There can be no plan as asked. `faults` holds one sentence a fault."""

    def __init__(self, *faults: str) -> None:
        self.faults = list(faults)
        super().__init__("\n".join(faults))


def order(
    jobs: Sequence[Job],
    metal: Metal,
    terms: dict[str, Any],
    unit: Unit,
    finish: str = "",
    may_order: bool = True,
) -> Order:
    """Raises Refused: nothing to cut, no price, no stock, a blank larger than any."""
    blanks = to_cut(jobs, metal)
    if not blanks:
        numbers = ", ".join(str(job.number) for job in jobs)
        raise Refused(
            f"Nothing of {metal} is to be cut for job {numbers}. Lay the job out first;"
            " what is cut, held or in an accepted plan is not planned again."
        )
    try:
        price = price_of_area(metal)
    except NoPrice as none:
        raise Refused(
            f"{none} A plan weighs stock against offcuts by what the metal costs."
        ) from none
    offered = stock_for(metal, finish, price, terms, may_order)
    if not offered:
        what = f"{metal} {finish}".strip()
        raise Refused(
            f"There is no free {what} on the rack, and no sheet or coil of it is listed"
            " to be bought. Put metal on the rack, or list what can be bought under"
            " Shop, stock."
        )
    found = Order(metal, finish, blanks, offered, terms)
    if faults := too_large(found, unit):
        raise Refused(*faults)
    return found


# --- blanks ----------------------------------------------------------------------


def metals_to_cut(jobs: Iterable[Job]) -> list[str]:
    """Names of the metals of which these jobs have blanks to cut."""
    rows = _ready(jobs).values_list("metal", flat=True).order_by("metal")
    return [name for name in dict.fromkeys(rows) if name]


def _ready(jobs: Iterable[Job]) -> Any:
    return Piece.objects.living().filter(
        job__in=list(jobs), state=Piece.State.LAID_OUT, held=False
    )


def to_cut(jobs: Iterable[Job], metal: Metal) -> tuple[Copies, ...]:
    """Every copy still to cut, by laid piece, in the order of jobs and marks."""
    newest = {}
    done = Layout.objects.done().filter(job__in=list(jobs)).order_by("number")
    for layout in done.only("pk", "job"):
        newest[layout.job_id] = layout.pk
    ready = _ready(jobs).filter(metal__iexact=metal.name).select_related("job")
    taken = set(
        PlannedBlank.objects.filter(live=True, piece__in=ready).values_list(
            "piece", "copy"
        )
    )
    rows = (
        LaidPiece.objects.filter(layout__in=newest.values(), pieces__in=ready)
        .distinct()
        .order_by("layout__job__number", "position")
        .prefetch_related("pieces")
    )
    by_pk = {piece.pk: piece for piece in ready}
    found = []
    for laid in rows:
        pieces = [by_pk[it.pk] for it in laid.pieces.all() if it.pk in by_pk]
        copies = tuple(
            (piece, copy)
            for piece in pieces
            for copy in range(1, piece.quantity + 1)
            if (piece.pk, copy) not in taken
        )
        if copies:
            outline = stored.laid_piece(laid).pattern.outline
            points = tuple((p.x, p.y) for p in outline)
            size = laid.width_mm, laid.length_mm
            found.append(Copies(laid, size, points, copies))
    return tuple(found)


# --- stock -----------------------------------------------------------------------


def terms_of_the_shop(turned: bool = True, may_order: bool = True) -> dict[str, Any]:
    """The shop's standards for cut plans, as plain JSON."""
    return {
        "keep_width_mm": standard("offcut_width"),
        "keep_length_mm": standard("offcut_length"),
        "worth_percent": standard("offcut_worth"),
        "trim_mm": standard("trim_edge"),
        "turned": turned,
        "may_order": may_order,
    }


def standard(key: str) -> float:
    row = Standard.objects.filter(key=key).first()
    if row is None:
        return float(next(it.value for it in STANDARDS if it.key == key))
    return float(row.read())


def price_of_area(metal: Metal) -> float:
    """What a square mm of the metal costs today. Raises NoPrice."""
    book = PriceBook.on(timezone.localdate())
    price = book.of_metal(metal.name)
    return float(metal_cost(price, metal, Decimal(1)).amount) / 1e6


def stock_for(
    metal: Metal,
    finish: str,
    price: float,
    terms: dict[str, Any],
    may_order: bool,
) -> tuple[Offered, ...]:
    """Offcuts, then sheets and coil on the rack, then what can be ordered.

    Metal on the rack is weighed a little cheaper than the same to order, so that what
    is there goes first; an offcut costs what it is worth.
    """
    worth = terms["worth_percent"] / 100
    trim = terms["trim_mm"]
    there = RackItem.objects.free().of(metal).filter(finish__iexact=finish)
    found = []
    for item in there.order_by("form", "number"):
        if item.form == RackItem.Form.OFFCUT:
            # Worth nothing, it would be taken first and cut up without a thought.
            found.append(_offcut(item, price * max(worth, 0.01)))
        else:
            found.append(_bought(item, item, price * THERE, price, trim))
    if may_order:
        for buy in metal.stocks.order_by("form", "width_mm", "length_mm"):
            found.append(_bought(None, buy, price, price, trim))
    return tuple(it for it in found if min(it.room()) > 0)


THERE = 0.9
"""How metal on the rack is weighed against the same to order, which takes a trip and
days. Common practice, no source."""


def _offcut(item: RackItem, price: float) -> Offered:
    """An offcut is not trimmed; one with an outline is used as the largest rectangle
    in it."""
    squared = rack_shape.largest_rectangle(item.outline) if item.outline else None
    wide, long = float(item.width_mm), float(item.length_mm)
    width, length = squared[2:] if squared else (wide, long)
    return Offered(
        item, None, item.form, width, length, length, 0.0, price, price, 0.0, squared
    )


def _bought(
    item: RackItem | None,
    source: RackItem | Stock,
    price: float,
    money: float,
    trim: float,
) -> Offered:
    buy = source if isinstance(source, Stock) else None
    form, width = source.form, float(source.width_mm)
    length, left = float(source.length_mm or 0), 0.0
    longest = length
    if form == RackItem.Form.COIL:
        left = float(item.free_mm()) if item else 0.0
        length, longest = 0.0, min(left or LONGEST_CUT_OFF, LONGEST_CUT_OFF)
    return Offered(item, buy, form, width, length, longest, left, price, money, trim)


def too_large(found: Order, unit: Unit) -> list[str]:
    """A sentence for each blank that no stock on offer holds."""
    faults = []
    rooms = [at.room() for at in found.offered]
    for it in found.blanks:
        # Not turned, the longer side lies along the rolling direction.
        across, along = sorted(it.size)
        ways = [(across, along)]
        if found.terms["turned"]:
            ways.append((along, across))
        if any(
            w <= wide + EPS and h <= long + EPS for wide, long in rooms for w, h in ways
        ):
            continue
        largest = max(found.offered, key=lambda at: at.room()[0] * at.room()[1])
        faults.append(
            f"{it.laid.mark} of {it.copies[0][0].job} is"
            f" {show_length(it.size[0], unit)} x {show_length(it.size[1], unit)}."
            f" The largest stock is {largest.name(unit)}. Divide the piece, or put a"
            " larger sheet on the rack."
        )
    return faults


def held_elsewhere(metal: Metal, finish: str) -> list[Claim]:
    """What other jobs hold of this metal, for the page to say."""
    return list(
        Claim.objects.filter(
            open=True, item__metal=metal, item__finish__iexact=finish
        ).select_related("item")
    )


def jobs_to_plan(person: Person) -> Any:
    """Open jobs with pieces laid out and not yet cut."""
    ready = Piece.objects.living().filter(state=Piece.State.LAID_OUT, held=False)
    return Job.objects.open().filter(pk__in=ready.values("job")).newest_first()
