"""What every part of the API has in common; it is the whole shop's."""

from shop.answers import (
    BIGGEST,
    CONFLICT,
    ERRORS,
    Conflict,
    Room,
    id_field,
    key_field,
    number_filter,
    version_field,
)

__all__ = [
    "BIGGEST",
    "CONFLICT",
    "ERRORS",
    "Conflict",
    "Room",
    "id_field",
    "key_field",
    "number_filter",
    "version_field",
]
