"""Can the shop's own brake and stock make it."""

from __future__ import annotations

from collections.abc import Iterator

from layout.folding.facts import StockFacts
from layout.folding.result import Finding, Piece
from layout.rules.case import Case

BRAKE = "the shop's own brake"
STOCK = "the shop's own stock"


def by_hand(case: Case) -> Iterator[Finding]:
    """Folds the brake can't make, and what would let it."""
    left: dict[tuple[str, str, str], list[str]] = {}
    for piece in case.pieces:
        for fold in piece.folds:
            if fold.frees:
                marks = left.setdefault((fold.what, fold.why, fold.frees), [])
                if piece.mark not in marks:
                    marks.append(piece.mark)
    for (what, why, frees), marks in left.items():
        yield Finding(
            "warning",
            "shop",
            "fold left to hand tools",
            f"the {what} can't be made on {case.shop.brake.name}: {why}",
            f"Fold it by hand; {frees} would do it.",
            ", ".join(marks),
            BRAKE,
        )


def lengths(case: Case) -> Iterator[Finding]:
    """Folds longer than the brake."""
    most = case.shop.brake.length
    for piece in case.pieces:
        sizes = [f.line[1].minus(f.line[0]).length() for f in piece.folds]
        if sizes and max(sizes) > most:
            yield Finding(
                "blocking",
                "shop",
                "piece longer than the brake",
                f"{piece.title}: a fold is {case.show(max(sizes))} long; "
                f"{case.shop.brake.name} takes {case.show(most)}",
                "Divide the piece with a seam, or fold it on a longer brake.",
                piece.mark,
                BRAKE,
            )


def radius(case: Case) -> Iterator[Finding]:
    """A brake that folds sharper than the metal stands."""
    metal, brake = case.shop.metal, case.shop.brake
    if brake.radius < metal.smallest_radius - 1e-6 and not case.assembly.bend:
        yield Finding(
            "note",
            "shop",
            "brake sharper than the metal stands",
            f"{brake.name} folds on {brake.radius:.2f} mm inside; {metal.name} "
            f"stands {metal.smallest_radius:.2f} mm",
            "Pack the nose of the brake, or fold in two passes.",
            "",
            metal.source,
        )


def stock(case: Case) -> Iterator[Finding]:
    """Blanks that come out of no stock of the metal."""
    if not case.shop.stocks:
        return
    for piece in case.pieces:
        if not any(_holds(stock, piece) for stock in case.shop.stocks):
            width, length = piece.pattern.size()
            yield Finding(
                "blocking",
                "shop",
                "piece larger than the stock",
                f"{piece.title}: its blank {case.show(width)} by {case.show(length)} "
                f"comes out of no {piece.metal} the shop keeps",
                "Order a wider sheet, or divide the piece with a seam.",
                piece.mark,
                STOCK,
            )


def _holds(stock: StockFacts, piece: Piece) -> bool:
    """True when the blank, turned or not, fits the stock."""
    small, large = sorted(piece.pattern.size())
    if not stock.length:
        return small <= stock.width
    narrow, long = sorted((stock.width, stock.length))
    return small <= narrow and large <= long
