"""Who may know whom: shop <- jobs <- layout <- media, and layout's own chain."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

from tests.house.tree import CHECKOUT, FOLDERS, ROOMS, committed, imports, modules

STRINGS_ONLY = {"shop/urls.py", "shop/settings.py", "shop/celery.py"}
# Drawing inks through general-purpose libraries; nothing else leaves the standard one.
INKS = {"reportlab", "ezdxf", "segno", "fontTools", "fontpkg", "fontpkg_ibm_plex_sans"}
REFUSED_NAMES = {
    f"{name}.py"
    for name in (
        "services",
        "utils",
        "helpers",
        "base",
        "constants",
        "managers",
        "handlers",
        "signals",
    )
}
MOST_LINES = 500


def folder_of(path: Path) -> str:
    """The pure folder of layout the file lies in, or nothing."""
    parts = path.relative_to(CHECKOUT).parts
    return parts[1] if parts[0] == "layout" and parts[1] in FOLDERS else ""


def wrong(path: Path, name: str) -> str:
    """Why the file may not import the name, or nothing."""
    room = path.relative_to(CHECKOUT).parts[0]
    to, _, rest = name.partition(".")
    if folder := folder_of(path):
        within = rest.split(".")[0]
        if to == "layout" and within in FOLDERS:
            later = FOLDERS.index(within) > FOLDERS.index(folder)
            return f"{folder} comes before {within}" if later else ""
        if to in sys.stdlib_module_names or (folder == "drawing" and to in INKS):
            return ""
        return f"layout/{folder} is pure"
    if to not in ROOMS:
        return ""
    return f"{room} may not know {to}" if ROOMS.index(to) > ROOMS.index(room) else ""


@pytest.mark.parametrize("room", ROOMS)
def test_no_import_goes_the_wrong_way(room: str) -> None:
    faults = [
        f"{path.relative_to(CHECKOUT)}:{line} imports {name}: {why}"
        for path in modules(room)
        for line, name in imports(path)
        if (why := wrong(path, name))
    ]
    assert not faults, "\n".join(faults)


def test_a_wrong_import_would_be_found() -> None:
    layout, shop = CHECKOUT / "layout", CHECKOUT / "shop"
    assert wrong(shop / "views.py", "jobs.models.Job")
    assert wrong(CHECKOUT / "jobs" / "views" / "jobs.py", "layout.run.lay_out")
    assert wrong(layout / "geometry" / "point.py", "layout.folding.bend")
    assert wrong(layout / "rules" / "brake.py", "django.db")
    assert wrong(layout / "rules" / "brake.py", "shop.units")
    assert not wrong(layout / "run.py", "jobs.models.Job")
    assert not wrong(layout / "drawing" / "pdf.py", "reportlab.pdfgen")
    assert wrong(layout / "folding" / "pdf.py", "reportlab.pdfgen")


def test_no_door_is_left_ajar() -> None:
    for path in modules():
        for _, name in imports(path):
            assert not name.endswith("TYPE_CHECKING"), path
            assert not name.startswith(("django.dispatch", "django.db.models.signals"))


def test_layout_is_empty_at_its_door() -> None:
    assert (CHECKOUT / "layout" / "__init__.py").read_text() == ""


def test_the_pure_folders_load_without_a_framework() -> None:
    names = [
        ".".join(path.relative_to(CHECKOUT).with_suffix("").parts)
        for path in modules("layout")
        if folder_of(path)
    ]
    assert len(names) > 10
    code = f"import sys, {', '.join(names)}\nassert 'django' not in sys.modules"
    subprocess.run([sys.executable, "-c", code], cwd=CHECKOUT, check=True)


def test_files_are_named_for_what_they_are_and_stay_small() -> None:
    for path in modules():
        assert path.name not in REFUSED_NAMES, path
        assert len(path.read_text().splitlines()) <= MOST_LINES, path


def test_every_test_folder_is_a_package() -> None:
    files = [path for path in committed() if path.suffix == ".py"]
    for folder in {path.parent for path in files if CHECKOUT / "tests" in path.parents}:
        assert (folder / "__init__.py").exists(), folder


def test_every_pure_module_says_what_it_takes_and_gives() -> None:
    for path in modules("layout"):
        if folder_of(path) and path.name != "__init__.py":
            assert ast.get_docstring(ast.parse(path.read_text())), path
