"""Keys that make a second tap on the same button harmless; the whole shop's."""

from shop.keys import key_of, new_key

__all__ = ["key_of", "new_key"]
