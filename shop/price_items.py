"""The things that have a price: one line each in the price book."""

from __future__ import annotations

from dataclasses import dataclass

from django.http import Http404

from shop.models import Metal, Person, Price, Stock
from shop.prices import PERCENT_OF, PERCENTS, PriceBook

WORDS = {
    Price.Kind.CONSUMABLES: "Consumables",
    Price.Kind.OVERHEAD: "Overhead",
    Price.Kind.MARGIN: "Margin",
    Price.Kind.TAX: "Tax",
}
ROLE_WORDS = {
    Person.Role.CREW: "An hour of the crew",
    Person.Role.OFFICE: "An hour of the office",
    Person.Role.OWNER: "An hour of the owner",
}


@dataclass(frozen=True, slots=True)
class Item:
    """One thing with a price. slug: its name in an address"""

    slug: str
    kind: str
    words: str
    metal: Metal | None = None
    role: str = ""

    def units(self) -> list[tuple[str, str]]:
        """What its price may be by."""
        units = {
            Price.Kind.METAL: (Price.Unit.KG, Price.Unit.LB, Price.Unit.SHEET),
            Price.Kind.LABOUR: (Price.Unit.HOUR,),
            Price.Kind.TRAVEL: (Price.Unit.VISIT,),
        }.get(Price.Kind(self.kind), (Price.Unit.PERCENT,))
        return [(unit.value, unit_words(unit, self.kind)) for unit in units]

    def price(self, book: PriceBook) -> Price | None:
        if self.metal is not None:
            return book.metals.get(self.metal.name)
        return book.labour.get(self.role) if self.role else book.others.get(self.kind)

    def sheets(self) -> list[Stock]:
        if self.metal is None:
            return []
        return list(
            self.metal.stocks.filter(form=Stock.Form.SHEET).select_related("metal")
        )

    def written(self) -> list[Price]:
        """Every price it ever had, newest first."""
        rows = Price.objects.filter(kind=self.kind, metal=self.metal, role=self.role)
        return list(rows.select_related("set_by", "stock"))


def unit_words(unit: str, kind: str) -> str:
    if unit == Price.Unit.PERCENT:
        return f"% {PERCENT_OF[Price.Kind(kind)]}"
    return f"a {unit}" if unit != Price.Unit.HOUR else "an hour"


def items() -> list[Item]:
    """All of them, in the order of the book."""
    return [*others(), *(of_metal(metal) for metal in Metal.objects.active())]


def others() -> list[Item]:
    return [
        *(
            Item(f"labour-{role}", Price.Kind.LABOUR, words, role=role)
            for role, words in ROLE_WORDS.items()
        ),
        Item("travel", Price.Kind.TRAVEL, "Travel, there and back"),
        *(Item(kind.value, kind, WORDS[kind]) for kind in PERCENTS),
    ]


def of_metal(metal: Metal) -> Item:
    return Item(f"metal-{metal.slug}", Price.Kind.METAL, metal.name, metal)


def item_named(slug: str) -> Item:
    """Raises Http404."""
    if slug.startswith("metal-"):
        metal = Metal.objects.filter(slug=slug.removeprefix("metal-")).first()
        if metal is None:
            raise Http404("No such metal.")
        return of_metal(metal)
    for item in others():
        if item.slug == slug:
            return item
    raise Http404("No such price.")
