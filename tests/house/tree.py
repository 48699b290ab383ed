"""The project's files, as the house tests read them."""

from __future__ import annotations

import ast
import subprocess
from collections.abc import Iterator
from pathlib import Path

CHECKOUT = Path(__file__).resolve().parents[2]
ROOMS = ("shop", "jobs", "layout", "media")
FOLDERS = ("geometry", "folding", "families", "rules", "nesting", "drawing")


def modules(*rooms: str) -> list[Path]:
    return sorted(
        path
        for room in rooms or ROOMS
        for path in (CHECKOUT / room).rglob("*.py")
        if "migrations" not in path.parts
    )


def imports(path: Path) -> Iterator[tuple[int, str]]:
    """Line and dotted name of every import in a file, wherever it stands."""
    for node in ast.walk(ast.parse(path.read_text(), str(path))):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, name.name) for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            here = path.parent.relative_to(CHECKOUT).parts
            above = here[: len(here) - node.level + 1] if node.level else ()
            start = ".".join((*above, *filter(None, [node.module])))
            yield from ((node.lineno, f"{start}.{name.name}") for name in node.names)


def committed() -> list[Path]:
    """What is, or would be, committed: git's list, or the whole tree without git."""
    try:
        listed = subprocess.run(
            ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
            cwd=CHECKOUT,
            capture_output=True,
            text=True,
            check=True,
        ).stdout.split("\0")
    except (OSError, subprocess.CalledProcessError):
        listed = [str(path) for path in CHECKOUT.rglob("*")]
    paths = (CHECKOUT / name for name in listed if name)
    return [path for path in paths if path.is_file() and ".venv" not in path.parts]
