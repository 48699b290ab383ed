"""What the shop has and holds to: one noun family per file."""

from shop.models.errands import Errand, ErrandQuerySet
from shop.models.metals import Brake, Metal, Stock
from shop.models.people import Person
from shop.models.prices import Price, RowsStay, StandardHours
from shop.models.standards import ShopProfile, Standard

__all__ = [
    "Brake",
    "Errand",
    "ErrandQuerySet",
    "Metal",
    "Person",
    "Price",
    "RowsStay",
    "ShopProfile",
    "Standard",
    "StandardHours",
    "Stock",
]
