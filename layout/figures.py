"""The figures that stand in the code of the rules and folds, with what is said there.

Reads the source of the pure folders: a name in capitals, its value, and the words
that stand under it. Rows with a source of their own come one by one.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator, Mapping
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import Any, NamedTuple

FOLDERS = ("rules", "folding", "families", "kinds")
MATHEMATICS = ("INCH", "FOOT", "WHOLE")
"""Exact by definition: no trade figures."""


class Figure(NamedTuple):
    """One figure. name: dotted, and the row's own name after a blank.

    value: a number, words to numbers, or a row of numbers by their names
    words: what the code says of it, with its source
    """

    name: str
    value: Any
    words: str


@cache
def figures() -> tuple[Figure, ...]:
    """Every figure of the folders, in the order of their files."""
    here = Path(__file__).parent
    return tuple(
        figure
        for folder in FOLDERS
        for path in sorted((here / folder).glob("*.py"))
        for figure in _of_file(path, f"layout.{folder}.{path.stem}")
    )


def _of_file(path: Path, dotted: str) -> Iterator[Figure]:
    body = ast.parse(path.read_text()).body
    for i, statement in enumerate(body):
        for name in _names(statement):
            if name.startswith("_") or not name.isupper() or name in MATHEMATICS:
                continue
            value = getattr(import_module(dotted), name)
            yield from _rows(f"{dotted}.{name}", value, _words_under(body, i))


def _names(statement: ast.stmt) -> Iterator[str]:
    targets: list[ast.expr] = []
    if isinstance(statement, ast.Assign):
        targets = statement.targets
    elif isinstance(statement, ast.AnnAssign):
        targets = [statement.target]
    for target in targets:
        parts = target.elts if isinstance(target, ast.Tuple) else [target]
        yield from (part.id for part in parts if isinstance(part, ast.Name))


def _words_under(body: list[ast.stmt], i: int) -> str:
    """The string right under a statement; "" where none stands there."""
    below = body[i + 1] if i + 1 < len(body) else None
    if isinstance(below, ast.Expr) and isinstance(below.value, ast.Constant):
        if isinstance(below.value.value, str):
            return " ".join(below.value.value.split())
    return ""


def _rows(name: str, value: Any, words: str) -> Iterator[Figure]:
    """The figure, or its rows where each has a source; nothing for other values."""
    rows = list(value.items()) if isinstance(value, Mapping) else []
    if isinstance(value, tuple) and value and hasattr(value[0], "source"):
        rows = [(row.name, row) for row in value]
    sourced = [(key, row) for key, row in rows if hasattr(row, "source")]
    for key, row in sourced:
        kept = {
            field: size
            for field, size in row._asdict().items()
            if isinstance(size, float) and size
        }
        yield Figure(f"{name} {key}", kept, row.source)
    if not sourced and _is_figure(value):
        yield Figure(name, value, words)


def _is_figure(value: Any) -> bool:
    if isinstance(value, Mapping):
        return bool(value) and all(_is_number(size) for size in value.values())
    return _is_number(value)


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)
