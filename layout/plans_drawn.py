"""Rows of a cut plan as drawings and lists, for the screen and for paper."""

from __future__ import annotations

from collections.abc import Sequence

from jobs.models import Piece
from layout import stored
from layout.drawing.paper import Box
from layout.drawing.pen import RecordingPen
from layout.drawing.plan_book import Listed, PlanPaper
from layout.drawing.plan_sheet import (
    DrawnBlank,
    DrawnCut,
    DrawnStock,
    draw_stock,
    height_for,
)
from layout.drawing.rack_label import RackLabel, rack_label_pdf
from layout.drawing.svg import SvgPen
from layout.geometry.point import Point
from layout.models import CutPlan, LaidPiece, PlannedBlank, PlanStock, ShownCut
from shop.models import RackItem
from shop.units import Unit, show_area, show_length

SCREEN = 240.0  # width of a drawing on the screen, mm
LEAST_HIGH, MOST_HIGH, DETAIL = 48.0, 190.0, 110.0


def stock_svg(stock: PlanStock, unit: Unit) -> bytes:
    """One stock on the screen, with what is cut shown so."""
    drawn = drawn_stock(stock, unit, bench=True)
    high = min(max(height_for(drawn, SCREEN), LEAST_HIGH), MOST_HIGH)
    trial = RecordingPen()
    trial.page(SCREEN, high)
    details = draw_stock(trial, drawn, Box(0, 0, SCREEN, high))
    rooms = [min(max(height_for(it, SCREEN), LEAST_HIGH), DETAIL) for it in details]
    pen = SvgPen(f"{drawn.name}: where each blank lies")
    top = high + sum(rooms)
    pen.page(SCREEN, top)
    draw_stock(pen, drawn, Box(0, top - high, SCREEN, top))
    top -= high
    for it, room in zip(details, rooms, strict=True):
        draw_stock(pen, it, Box(0, top - room, SCREEN, top))
        top -= room
    return pen.ink()


def drawn_stock(stock: PlanStock, unit: Unit, bench: bool = False) -> DrawnStock:
    """bench: with what is done so far; paper shows the plan as it was accepted."""
    blanks = list(stock.blanks.all())
    kept = list(stock.offcuts.all())
    outlines = _outlines(blanks)
    return DrawnStock(
        stock_name(stock),
        stock_told(stock, unit),
        stock.width_mm,
        stock.length_mm,
        unit,
        tuple(
            DrawnBlank(
                str(blank),
                _size(blank.laid.width_mm, blank.laid.length_mm, unit),
                blank.box(),
                _as_it_lies(outlines[blank.laid_id], blank),
                bench and blank.cut,
            )
            for blank in blanks
        ),
        tuple(
            DrawnCut(
                cut.order,
                (Point(*cut.line[0]), Point(*cut.line[1])),
                (cut.part[0], cut.part[1], cut.part[2], cut.part[3]),
                cut_told(cut, unit),
                cut_gives(cut, stock, unit),
                bench and cut.order <= stock.cuts_done,
            )
            for cut in stock.shown_cuts()
        ),
        tuple(
            (
                _size(it.width_mm, it.length_mm, unit),
                (it.x_mm, it.y_mm, it.width_mm, it.length_mm),
            )
            for it in kept
        ),
        tuple(Point(*corner) for corner in stock.outline or ()),
        stock.damaged if bench else "",
    )


def stock_name(stock: PlanStock) -> str:
    """R12, sheet; or: sheet to order."""
    return f"{stock.item}, {stock.form}" if stock.item else f"{stock.form} to order"


def stock_told(stock: PlanStock, unit: Unit) -> str:
    size = _size(stock.width_mm, stock.length_mm, unit)
    return f"{size}, cut off the coil" if stock.form == "coil" else size


TOOLS = {"shear": "Shear", "slitter": "Slit", "snips": "Snip"}


def cut_told(cut: ShownCut, unit: Unit) -> str:
    """Where to set the stop, as the stock lies in the drawing."""
    tool = TOOLS.get(cut.tool, cut.tool)
    if cut.tool == "snips":
        return f"{tool} on the slanted line between the two"
    if not cut.gauge:
        where = "square it" if cut.line[0] != cut.line[1] else "take it whole"
        return f"{tool} {'across' if cut.across else 'along'}: {where}"
    gauge = show_length(cut.gauge, unit)
    if cut.across:
        return f"{tool} across, {gauge} from its left end"
    return f"{tool} along, {gauge} from its upper edge"


def cut_gives(cut: ShownCut, stock: PlanStock, unit: Unit) -> str:
    """What comes free: marks, and offcuts to keep."""
    blanks = list(stock.blanks.all())
    kept = list(stock.offcuts.all())
    said = [str(blanks[place]) for place in cut.blanks]
    for place in cut.offcuts:
        it = kept[place]
        label = f" as {it.item}" if it.item else ""
        said.append(f"keep {_size(it.width_mm, it.length_mm, unit)}{label}")
    return ", ".join(said)


def plan_paper(plan: CutPlan, unit: Unit) -> PlanPaper:
    """All that the paper of a plan says."""
    stocks = list(plan.stocks.whole())
    jobs = list(plan.jobs.order_by("number"))
    told = "; ".join(f"{job}, {job.title}" for job in jobs)
    figures = plan.figures
    facts = (
        told,
        f"{plan.metal}{f' {plan.finish}' if plan.finish else ''}. "
        f"{len(stocks)} pieces of stock, {figures['cuts']} cuts. Of the metal used"
        f" {100 * figures['yield']:.0f} % becomes blanks"
        f" ({show_area(figures['blanks_mm2'], unit)} of"
        f" {show_area(figures['used_mm2'], unit)}).",
        "Weather side up, as the layout has it. The stock lies with its length to the"
        " right. Make the cuts in their order.",
    )
    return PlanPaper(
        f"Plan {plan.number}",
        facts,
        tuple(_take_row(stock, unit) for stock in stocks),
        tuple(blank_rows(stocks, unit)),
        tuple(drawn_stock(stock, unit) for stock in stocks),
    )


def _take_row(stock: PlanStock, unit: Unit) -> Listed:
    place = stock.item.place if stock.item else ""
    cells = (str(stock.position + 1), stock_name(stock), stock_told(stock, unit), place)
    return Listed(cells)


def blank_rows(stocks: Sequence[PlanStock], unit: Unit) -> list[Listed]:
    """Mark, copies, size, job, and from which stock: one row a mark and stock."""
    found: dict[tuple[int, int], list[PlannedBlank]] = {}
    for stock in stocks:
        for blank in stock.blanks.all():
            key = (blank.piece_id, stock.position)
            found.setdefault(key, []).append(blank)
    rows = []
    for (_, position), blanks in found.items():
        piece: Piece = blanks[0].piece
        laid = blanks[0].laid
        size = _size(laid.width_mm, laid.length_mm, unit)
        copies = f"{len(blanks)} of {piece.quantity}"
        rows.append(
            (
                (piece.job.number, piece.mark, position),
                Listed((str(piece), copies, size, str(piece.job), f"{position + 1}.")),
            )
        )
    return [row for _, row in sorted(rows, key=lambda it: it[0])]


def _size(width: float, length: float, unit: Unit) -> str:
    return f"{show_length(width, unit)} x {show_length(length, unit)}"


def _outlines(blanks: Sequence[PlannedBlank]) -> dict[int, tuple[Point, ...]]:
    """Outline of each laid piece in its bench frame."""
    laid: dict[int, LaidPiece] = {blank.laid_id: blank.laid for blank in blanks}
    return {
        pk: tuple(stored.laid_piece(row).pattern.outline) for pk, row in laid.items()
    }


def _as_it_lies(outline: tuple[Point, ...], blank: PlannedBlank) -> tuple[Point, ...]:
    """Turned and set down in its place on the stock."""
    points = list(outline)
    for _ in range(blank.turn % 4):
        points = [Point(-p.y, p.x) for p in points]
    left, foot = min(p.x for p in points), min(p.y for p in points)
    return tuple(
        Point(p.x - left + blank.x_mm, p.y - foot + blank.y_mm) for p in points
    )


def label_pdf(item: RackItem, address: str, unit: Unit) -> bytes:
    """The label of an item on the rack. address: what its code opens."""
    length = item.length_mm
    lines = (
        f"{item.metal} {item.finish}".strip(),
        f"{item.form} {_size(float(item.width_mm), float(length), unit)}",
        f"lot {item.lot}" if item.lot else "",
    )
    told = tuple(line for line in lines if line)
    return rack_label_pdf(RackLabel(str(item), told, address))
