"""Core values as plain JSON and back, so that paper is drawn from what was stored.

Takes a LaidSet, gives JSON values; takes a stored Layout, gives the same LaidSet.
The codec follows the type annotations of the core's dataclasses, so a new field
with a default needs nothing here.
"""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from functools import cache
from types import NoneType, UnionType
from typing import Any, Literal, TypeVar, Union, get_args, get_origin, get_type_hints

from layout.folding.result import LaidSet, Piece
from layout.models import LaidPiece, Layout

Value = TypeVar("Value")


def laid_set(layout: Layout) -> LaidSet:
    """The set as it was laid out, from the stored rows only.

    Raises ValueError for a layout without a set: one refused whole, or failed.
    """
    if not layout.frame:
        raise ValueError(f"{layout} holds no set: {layout.reason}")
    pieces = [laid.pattern for laid in layout.laid_pieces.all()]
    return from_json(LaidSet, {**layout.set_without_pieces(), "pieces": pieces})


def frame(layout: Layout) -> LaidSet:
    """The set without its pieces: the site, joints and findings, quick to read."""
    if not layout.frame:
        raise ValueError(f"{layout} holds no set: {layout.reason}")
    return from_json(LaidSet, {**layout.set_without_pieces(), "pieces": []})


def laid_piece(laid: LaidPiece) -> Piece:
    """One piece as it was laid out."""
    return from_json(Piece, laid.pattern)


def to_json(value: Any) -> Any:
    """Dataclasses as objects, tuples as arrays, the rest as it is."""
    if is_dataclass(value) and not isinstance(value, type):
        return {f.name: to_json(getattr(value, f.name)) for f in fields(value)}
    if isinstance(value, dict):
        return {key: to_json(inner) for key, inner in value.items()}
    if isinstance(value, tuple | list):
        return [to_json(inner) for inner in value]
    return value


def from_json(kind: type[Value], given: Any) -> Value:
    """A value of that kind, equal to the one `to_json` was given.

    Raises ValueError where the stored JSON is not of that kind.
    """
    try:
        restored: Value = _restored(kind, given)
    except (KeyError, TypeError) as fault:
        words = f"stored {kind.__name__} can't be read: {fault}"
        raise ValueError(words) from fault
    return restored


def _restored(kind: Any, given: Any) -> Any:
    origin = get_origin(kind)
    if origin in (Union, UnionType):
        if given is None:
            return None
        kinds = [inner for inner in get_args(kind) if inner is not NoneType]
        return _restored(kinds[0], given) if len(kinds) == 1 else given
    if origin is tuple:
        return _tuple(get_args(kind), given)
    if origin in (dict, Literal) or not isinstance(kind, type):
        return given
    if is_dataclass(kind):
        hints = _hints(kind)
        return kind(**{name: _restored(hints[name], given[name]) for name in given})
    if issubclass(kind, tuple):
        return kind(*given)
    return given


def _tuple(kinds: tuple[Any, ...], given: Any) -> tuple[Any, ...]:
    if len(kinds) == 2 and kinds[1] is Ellipsis:
        return tuple(_restored(kinds[0], inner) for inner in given)
    return tuple(
        _restored(kind, inner) for kind, inner in zip(kinds, given, strict=True)
    )


@cache
def _hints(kind: type) -> dict[str, Any]:
    return get_type_hints(kind)
