"""A shop of its own for tests with real processes: home, database, bell, worker, web.

Embedded by default; where SEAMBOOK_DATABASE and SEAMBOOK_BROKER are set, a database
made for the test on that server, and that broker.
"""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit, urlunsplit

CHECKOUT = Path(__file__).resolve().parent.parent


class Premises:
    def __init__(self, home: Path, **extra: str) -> None:
        self.home = home
        self.started: list[subprocess.Popen[str]] = []
        self.env = os.environ | {"SEAMBOOK_HOME": str(home), "SEAMBOOK_LEASE": "3"}
        self.env |= extra | {"PYTHONPATH": str(CHECKOUT)}
        self.env.pop("SEAMBOOK_MEDIA", None)

    def run(self, *words: str, check: bool = True) -> subprocess.CompletedProcess[str]:
        """One management command, to its end."""
        done = subprocess.run(
            [sys.executable, "manage.py", *words],
            cwd=CHECKOUT,
            env=self.env,
            capture_output=True,
            text=True,
            timeout=180,
        )
        assert done.returncode == 0 or not check, done.stderr
        return done

    def python(self, code: str) -> str:
        """What a few lines print when run inside the shop, without any fixture."""
        lines = ["import django", "django.setup()", code]
        done = subprocess.run(
            [sys.executable, "-c", "\n".join(lines)],
            cwd=CHECKOUT,
            env=self.env | {"DJANGO_SETTINGS_MODULE": "shop.settings"},
            capture_output=True,
            text=True,
            timeout=60,
        )
        assert done.returncode == 0, done.stderr
        return done.stdout.strip()

    def start(self, *words: str) -> subprocess.Popen[str]:
        """A process in a group of its own, ended with the premises."""
        log = open(self.home / f"log-{len(self.started)}", "w")  # noqa: SIM115
        with log:
            process = subprocess.Popen(
                [sys.executable, *words],
                cwd=CHECKOUT,
                env=self.env,
                stdout=log,
                stderr=subprocess.STDOUT,
                text=True,
                start_new_session=True,
            )
        self.started.append(process)
        return process

    def worker(self, *words: str) -> subprocess.Popen[str]:
        return self.start(
            "-m", "celery", "-A", "shop", "worker", "--concurrency", "1", *words
        )

    def kill(self, process: subprocess.Popen[str]) -> None:
        """kill -9 of the process and all it began."""
        os.killpg(process.pid, signal.SIGKILL)
        process.wait()

    def close(self) -> None:
        for process in self.started:
            if process.poll() is None:
                process.terminate()
        for process in self.started:
            try:
                process.wait(timeout=20)
            except subprocess.TimeoutExpired:
                self.kill(process)

    def logs(self) -> str:
        return "\n".join(
            log.read_text()[-3000:] for log in sorted(self.home.glob("log-*"))
        )


def wait_for(what: Callable[[], Any], seconds: float = 180) -> Any:
    """What it says as soon as that is true; an AssertionError after the time."""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        if said := what():
            return said
        time.sleep(0.2)
    raise AssertionError(f"Nothing after {seconds} s.")


@contextmanager
def premises(home: Path, **extra: str) -> Iterator[Premises]:
    with _database() as address:
        place = Premises(home, **extra, **address)
        place.run("migrate", "--verbosity", "0")
        try:
            yield place
        except BaseException:
            print(place.logs())
            raise
        finally:
            place.close()


@contextmanager
def _database() -> Iterator[dict[str, str]]:
    """The embedded one, or a new one on the server, dropped afterwards."""
    server = os.environ.get("SEAMBOOK_DATABASE")
    if not server:
        yield {}
        return
    import psycopg
    from psycopg import sql

    name = f"premises_{os.getpid()}_{time.monotonic_ns()}"
    with psycopg.connect(server, autocommit=True) as connection:
        connection.execute(sql.SQL("CREATE DATABASE {}").format(sql.Identifier(name)))
        try:
            yield {
                "SEAMBOOK_DATABASE": urlunsplit(urlsplit(server)._replace(path=name))
            }
        finally:
            connection.execute(
                sql.SQL("DROP DATABASE {} WITH (FORCE)").format(sql.Identifier(name))
            )


def free_port() -> int:
    with socket.socket() as door:
        door.bind(("127.0.0.1", 0))
        return int(door.getsockname()[1])


def is_up(port: int) -> bool:
    try:
        page = urllib.request.urlopen(f"http://127.0.0.1:{port}/health/", timeout=5)
    except (OSError, urllib.error.HTTPError):
        return False
    with page:
        return page.status == 200
