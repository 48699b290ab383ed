"""Can the shop's own brake and stock make it."""

from __future__ import annotations

from collections.abc import Iterator

from layout.folding.facts import StockFacts
from layout.folding.pattern import FlatPattern
from layout.folding.result import Finding, Fold, Piece
from layout.geometry.line import is_on_segment
from layout.rules.case import Case

BRAKE = "the shop's own brake"
STOCK = "the shop's own stock"


def flange(pattern: FlatPattern, fold: Fold) -> float:
    """The smaller of the two faces beside a fold, square to it, mm."""
    a, b = fold.line
    along = b.minus(a).unit()
    deep: dict[bool, float] = {}
    for crease in pattern.creases:
        ends = pattern.vertices[crease.a], pattern.vertices[crease.b]
        if abs(crease.angle) < 1e-6 or not all(is_on_segment(p, a, b) for p in ends):
            continue
        for face in crease.faces:
            for p in pattern.polygon(pattern.faces[face]):
                off = along.cross(p.minus(a))
                side = off > 0
                deep[side] = max(deep.get(side, 0.0), abs(off))
    return min(deep.values())


def flanges(case: Case) -> Iterator[Finding]:
    """Edges smaller than the brake can fold."""
    least = case.shop.brake.smallest_flange
    small: dict[tuple[str, float], list[str]] = {}
    for piece in case.pieces:
        for fold in piece.folds:
            size = round(flange(piece.pattern, fold), 6)
            if fold.where == "brake" and size < least:
                marks = small.setdefault((fold.what, size), [])
                if piece.mark not in marks:
                    marks.append(piece.mark)
    for (what, size), marks in small.items():
        yield Finding(
            "warning",
            "shop",
            "edge too small for the brake",
            f"{', '.join(marks)}: the {what} is {case.show(size)} wide; "
            f"{case.shop.brake.name} folds {case.show(least)} or more",
            "Fold it on a bar folder or by hand.",
            ", ".join(marks),
            BRAKE,
        )


def angles(case: Case) -> Iterator[Finding]:
    """Folds past the leaf's largest angle, closed hems left out."""
    largest = case.shop.brake.largest_angle
    for piece in case.pieces:
        for fold in piece.folds:
            if fold.where == "brake" and largest < fold.angle < 180 - 1e-6:
                yield Finding(
                    "warning",
                    "shop",
                    "angle past the brake's",
                    f"{piece.title}: fold {fold.order} goes {fold.angle:.1f}°; "
                    f"{case.shop.brake.name} swings {largest:.0f}°",
                    "Finish it with hand tools.",
                    piece.mark,
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
