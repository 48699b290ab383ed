"""One command brings the whole shop up; parts that are killed come back or leave."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from shop.supervise import keep_up
from tests.premises import Premises, free_port, is_up, premises, wait_for

pytestmark = pytest.mark.servers


@pytest.fixture
def place(tmp_path: Path) -> Iterator[Premises]:
    with premises(tmp_path) as place:
        yield place


def children(pid: int) -> dict[str, int]:
    """The children of a process by what they run: gunicorn, celery."""
    rows = subprocess.run(
        ["ps", "-o", "pid=,args=", "--ppid", str(pid)], capture_output=True, text=True
    ).stdout.splitlines()
    return {row.split()[3]: int(row.split()[0]) for row in rows if len(row.split()) > 3}


def is_alive(pid: int) -> bool:
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    state = Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()[0]
    return state != "Z"


def test_a_killed_part_comes_back_and_a_term_ends_all(place: Premises) -> None:
    port = free_port()
    up = place.start("manage.py", "up", "--bind", f"127.0.0.1:{port}")
    wait_for(lambda: is_up(port))
    parts = children(up.pid)
    assert set(parts) == {"gunicorn", "celery"}
    os.kill(parts["gunicorn"], signal.SIGKILL)
    wait_for(lambda: children(up.pid).get("gunicorn", 0) not in (0, parts["gunicorn"]))
    wait_for(lambda: is_up(port))
    parts = children(up.pid)
    up.terminate()
    assert up.wait(timeout=90) == 0
    assert not any(is_alive(pid) for pid in parts.values())


def test_a_killed_watcher_leaves_nobody_behind(place: Premises) -> None:
    port = free_port()
    up = place.start("manage.py", "up", "--bind", f"127.0.0.1:{port}")
    wait_for(lambda: is_up(port))
    parts = children(up.pid)
    os.kill(up.pid, signal.SIGKILL)
    up.wait()
    wait_for(lambda: not any(is_alive(pid) for pid in parts.values()))


def test_what_ends_at_once_again_and_again_is_given_up() -> None:
    said: list[str] = []
    assert keep_up({"web": [sys.executable, "-c", "raise SystemExit(3)"]}, said.append)
    assert said[0] == "web ended (3) and is begun again."
    assert said[-1].startswith("web ends as soon as it starts.")
