"""Built-in numbers of metal: the sheet, its warmth, pairs, seams, brakes and stock."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from layout.folding import brake as usual
from layout.numbers_held import tests_of
from shop import tables
from shop.brake_section import picture
from shop.models import Metal, MetalPair, SeamKind
from shop.pairs_table import PAIRS, PairRow
from shop.seams_table import SEAMS
from shop.units import Unit, show_length
from shop.warmth_table import WARMTH, Warmth


class Number(NamedTuple):
    """name: as the table of tests knows it; here: what this shop holds to instead.

    drawn: a picture as SVG text, our own, or ""
    """

    name: str
    what: str
    value: str
    source: str
    here: str = ""
    drawn: str = ""

    @property
    def tests(self) -> tuple[str, ...]:
        return tests_of(self.name)

    def has(self, words: Sequence[str]) -> bool:
        text = " ".join((self.name, self.what, self.value, self.source, self.here))
        return all(word in text.casefold() for word in words)


def length(mm: float, unit: Unit) -> str:
    """A length exact in the unit it was printed in, and in the shop's beside it.

    Example for a shop in inches: 101.6 -> "4 in (101.6 mm)", 25 -> "25 mm (about
    1 in)", for a millimetre is no sixteenth of an inch.
    """
    exact = f"{round(mm, 4):g} mm"
    if unit == "mm" or mm < 2:
        return exact
    sixteenths = mm / 25.4 * 16
    if abs(sixteenths - round(sixteenths)) < 0.001:
        return f"{show_length(mm, unit)} ({exact})"
    return f"{exact} (about {show_length(mm, unit)})"


def metals() -> Iterator[Number]:
    kept = {row.name: row for row in Metal.objects.all()}
    for row in tables.METALS:
        own = kept.get(row.name, row)
        changed = [
            f"{words(own)}. {source}"
            for words, source in (
                (_sheet, own.source),
                (warmth_words, own.expansion_source),
            )
            if words(own) != words(row)
        ]
        name = row.name.capitalize()
        yield Number(
            f"metal {row.name}", name, _sheet(row), row.source, " ".join(changed)
        )


def _sheet(row: tables.MetalRow | Metal) -> str:
    return (
        f"{float(row.thickness_mm):g} mm thick, {float(row.density_kg_m3):g} kg/m³, "
        f"inside radius {float(row.smallest_radius_mm):g} mm or more, stretches "
        f"{float(row.stretch):.0%}"
    )


def warmth_words(row: Warmth | tables.MetalRow | Metal) -> str:
    """Movement and folding temperature of one metal, in words with units."""
    along, across = (
        float(size) for size in (row.expansion_along_mm_m, row.expansion_across_mm_m)
    )
    words = f"{along:g} mm a metre for 1 °C"
    if across != along:
        words += f" along the rolling, {across:g} mm across it"
    if row.fold_from_c is not None:
        words += f"; folded at {float(row.fold_from_c):g} °C or warmer"
    return words


def warmths() -> Iterator[Number]:
    for kind, row in WARMTH.items():
        source = "; ".join(filter(None, (row.expansion_source, row.fold_source)))
        yield Number(f"warmth {kind}", kind.capitalize(), warmth_words(row), source)


def pairs() -> Iterator[Number]:
    kept = {
        (row.meeting, row.first, row.second): row for row in MetalPair.objects.all()
    }
    for row in PAIRS:
        own = kept.get((row.meeting, row.first, row.second))
        here = "" if own is None or own.active else "Set aside in this shop."
        yield Number(
            f"pair {row.meeting} {row.first} {row.second}",
            _met(row),
            row.why,
            row.source,
            here,
        )


def _met(row: PairRow) -> str:
    if row.meeting == "contact":
        return f"{row.first.capitalize()} touching {row.second}"
    return f"Run-off from {row.first} on to {row.second}"


def seams(unit: Unit) -> Iterator[Number]:
    aside = {
        (row.metal_kind, row.made, float(row.height_mm), float(row.lost_mm))
        for row in SeamKind.objects.filter(active=False)
    }
    for row in SEAMS:
        words = f"{length(row.lost_mm, unit)} lost a bay"
        if row.receiving_mm and row.covering_mm:
            legs = (length(leg, unit) for leg in (row.receiving_mm, row.covering_mm))
            words = f"legs {' and '.join(legs)}, {words}"
        if row.play_mm:
            words += f", play {row.play_mm:g} mm"
        key = (row.metal_kind, row.made, row.height_mm, row.lost_mm)
        yield Number(
            f"seam {row.metal_kind} {row.made} {row.height_mm:g} {row.lost_mm:g}",
            f"{row.metal_kind.capitalize()} by {row.made}, {row.fold} fold, "
            f"{length(row.height_mm, unit)} high",
            words,
            row.source,
            "Set aside in this shop." if key in aside else "",
        )


def brakes(unit: Unit) -> Iterator[Number]:
    for row in tables.BRAKES:
        yield Number(
            f"brake {row.name}",
            row.name.capitalize(),
            f"{length(row.length_mm, unit)} long, throat {length(row.throat_mm, unit)},"
            f" narrowest leg {length(row.smallest_flange_mm, unit)}, turns "
            f"{row.largest_angle_deg:g}°, nose {row.radius_mm:g} mm inside",
            tables.BRAKES_SOURCE,
        )
    parts = {"jaw": usual.JAW, "bed": usual.BED, "leaf": usual.LEAF}
    shapes = {
        part: [tuple((p.x, p.y) for p in shape) for shape in given]
        for part, given in parts.items()
    }
    yield Number(
        "section usual",
        "Section of a brake that has none of its own",
        "Jaw above the metal, bed below it, leaf in front; the fold line is the dot.",
        "A hollow-ground nose of common make. Common practice, no source",
        drawn=picture(shapes, "The usual section: jaw, bed and leaf"),
    )


def stocks(unit: Unit) -> Iterator[Number]:
    for kind, forms in tables.STOCK_OF_KIND.items():
        said = [
            f"{form} {length(width, unit)} wide"
            + (f", {length(long, unit)} long" if long else "")
            for form, width, long in forms
        ]
        yield Number(
            f"stock {kind}",
            f"Stock of {kind}",
            "; ".join(said),
            tables.STOCK_SOURCES[kind],
        )
