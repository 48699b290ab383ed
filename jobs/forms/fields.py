"""Fields that read what a person writes; they are the whole shop's."""

from shop.forms import DayField, KeyedForm, LengthField, reason_field, shop_unit

__all__ = ["DayField", "KeyedForm", "LengthField", "reason_field", "shop_unit"]
