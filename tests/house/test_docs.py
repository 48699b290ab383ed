"""DEVELOPERS.md and README.md keep up with the code."""

from __future__ import annotations

import re

import pytest

from shop.access import ACTS
from tests.house.tree import CHECKOUT, modules

DEVELOPERS = (CHECKOUT / "DEVELOPERS.md").read_text()
README = (CHECKOUT / "README.md").read_text()


def found(pattern: str, *rooms: str) -> set[str]:
    return {
        name
        for path in modules(*rooms)
        for name in re.findall(pattern, path.read_text())
    }


def settings() -> set[str]:
    return found(r'"(SEAMBOOK_[A-Z_]+)"', "shop")


def commands() -> set[str]:
    return {
        path.stem
        for path in modules()
        if path.parent.name == "commands" and path.stem != "__init__"
    }


def families() -> set[str]:
    return found(r'Label\(\s*[^,]+,\s*"([a-z_]+)"', "layout")


def test_there_is_something_to_name() -> None:
    assert len(settings()) > 10 and {"up", "demo", "lay_out"} <= commands()
    assert {"apron", "side_pan"} <= families()


@pytest.mark.parametrize("kind", [settings, commands, families, lambda: set(ACTS)])
def test_developers_names_them_all(kind: object) -> None:
    missing = {name for name in kind() if f"`{name}`" not in DEVELOPERS}  # type: ignore[operator]
    assert not missing


def test_readme_has_two_commands_of_one_line_each() -> None:
    blocks = re.findall(r"```(?:sh|console)\n(.*?)```", README, re.DOTALL)
    first, second = (block.strip() for block in blocks[:2])
    assert first.endswith("manage.py demo") and "\n" not in first
    assert second.endswith("pytest") and "\n" not in second
    for block in (first, second):
        assert "--require-hashes" in block


def test_what_readme_links_to_is_there() -> None:
    for target in re.findall(r"\]\(([^)#:]+)\)", README + DEVELOPERS):
        assert (CHECKOUT / target).exists(), target
