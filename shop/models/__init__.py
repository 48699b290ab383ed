"""What the shop has and holds to: one noun family per file."""

from shop.models.errands import Errand, ErrandQuerySet
from shop.models.metals import Brake, Metal, Stock
from shop.models.people import Person
from shop.models.prices import Price, RowsStay, StandardHours
from shop.models.rack import Claim, RackEvent, RackItem
from shop.models.seams import MetalPair, SeamKind
from shop.models.standards import ShopProfile, Standard

__all__ = [
    "Brake",
    "Claim",
    "Errand",
    "ErrandQuerySet",
    "Metal",
    "MetalPair",
    "Person",
    "Price",
    "RackEvent",
    "RackItem",
    "RowsStay",
    "SeamKind",
    "ShopProfile",
    "Standard",
    "StandardHours",
    "Stock",
]
