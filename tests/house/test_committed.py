"""Nothing committed leads to a registry, to one machine, or in from elsewhere."""

from __future__ import annotations

import re

from tests.house.tree import CHECKOUT, committed

# Written apart, so that this file does not hold what it looks for.
HOSTS = [
    "".join(parts)
    for parts in (
        ("pypi", ".org"),
        ("python", "hosted.org"),
        ("npmjs", ".org"),
        ("npmjs", ".com"),
        ("yarnpkg", ".com"),
        ("debian", ".org"),
        ("jsdelivr", ".net"),
        ("unpkg", ".com"),
        ("cdnjs", "."),
        ("googleapis", ".com"),
    )
]
PLACES = ["/" + name for name in ("work/", "tmp/sb", "root/")]
LOCKS = ("requirements.lock", "requirements-test.lock")
PINNED = re.compile(r"^([A-Za-z0-9._-]+(?:\[[a-z,]+\])?)==([^ ;\\]+)", re.MULTILINE)


def test_no_committed_file_names_a_registry_or_a_machine() -> None:
    faults = []
    for path in committed():
        try:
            text = path.read_text()
        except UnicodeDecodeError:
            continue
        faults += [
            f"{path.relative_to(CHECKOUT)}: {word}"
            for word in (*HOSTS, *PLACES)
            if word in text
        ]
    assert not faults, "\n".join(faults)


def test_the_locks_hold_no_address_and_a_hash_for_every_pin() -> None:
    for name in LOCKS:
        text = (CHECKOUT / name).read_text()
        assert "://" not in text
        for requirement in re.split(r"\n(?=\S)", text.strip()):
            assert "--hash=sha256:" in requirement, requirement


def test_the_test_lock_pins_what_runs() -> None:
    runs, tests = (
        dict(PINNED.findall((CHECKOUT / name).read_text())) for name in LOCKS
    )
    assert len(runs) > 20
    assert {name: tests.get(name) for name in runs} == runs


def test_nothing_enormous_is_committed() -> None:
    for path in committed():
        assert path.stat().st_size < 2_000_000, path
