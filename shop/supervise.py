"""Keep a few processes up together: start, watch, begin again, end.

Killed by -9, the watcher leaves nobody behind: the kernel sends each child the signal
to end (Linux; elsewhere they must be ended by hand).
"""

from __future__ import annotations

import ctypes
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Mapping
from contextlib import nullcontext
from pathlib import Path
from types import FrameType

_PR_SET_PDEATHSIG = 1  # linux/prctl.h
PATIENCE = 25.0  # seconds a child has to end by itself
QUICK = 5.0  # seconds: a child that ends sooner did not start
MOST_QUICK_ENDS = 5

Say = Callable[[str], object]


def start(words: list[str], log: Path | None = None) -> subprocess.Popen[bytes]:
    """Start a child from the main thread: the death signal follows the thread.

    log: where its lines go, instead of among ours
    """
    parent = os.getpid()

    def tie_to_parent() -> None:
        if sys.platform == "linux":
            ctypes.CDLL(None).prctl(_PR_SET_PDEATHSIG, signal.SIGTERM)
            if os.getppid() != parent:
                os._exit(1)  # the parent died in between

    with open(log, "wb") if log else nullcontext() as lines:
        return subprocess.Popen(
            words,
            start_new_session=True,
            preexec_fn=tie_to_parent,
            stdout=lines,
            stderr=lines,
        )


def end(children: Mapping[str, subprocess.Popen[bytes]]) -> None:
    """Ask every child to end; after a while, end it and all it began."""
    for child in children.values():
        if child.poll() is None:
            child.terminate()
    late = time.monotonic() + PATIENCE
    for child in children.values():
        try:
            child.wait(max(0.1, late - time.monotonic()))
        except subprocess.TimeoutExpired:
            os.killpg(child.pid, signal.SIGKILL)
            child.wait()


def keep_up(commands: Mapping[str, list[str]], say: Say) -> int:
    """Run the commands until a TERM or INT; begin again what ends.

    Returns 0 after a signal, 1 if a command ends at once again and again.
    """
    asked_to_end = False

    def on_signal(number: int, frame: FrameType | None) -> None:
        nonlocal asked_to_end
        asked_to_end = True

    before = {
        number: signal.signal(number, on_signal)
        for number in (signal.SIGTERM, signal.SIGINT)
    }
    begun = dict.fromkeys(commands, time.monotonic())
    quick_ends = dict.fromkeys(commands, 0)
    children = {name: start(words) for name, words in commands.items()}
    try:
        while not asked_to_end:
            time.sleep(0.2)
            for name, words in commands.items():
                if children[name].poll() is None or asked_to_end:
                    continue
                quick = time.monotonic() - begun[name] < QUICK
                quick_ends[name] = quick_ends[name] + 1 if quick else 0
                if quick_ends[name] == MOST_QUICK_ENDS:
                    say(f"{name} ends as soon as it starts. Read its lines above.")
                    return 1
                say(f"{name} ended ({children[name].returncode}) and is begun again.")
                time.sleep(min(quick_ends[name], 3))
                begun[name] = time.monotonic()
                children[name] = start(words)
        return 0
    finally:
        end(children)
        for number, handler in before.items():
            signal.signal(number, handler)


def web(bind: str, *, reload: bool = False) -> list[str]:
    """gunicorn with threads: a slow phone holds a thread, not the shop."""
    words = [sys.executable, "-m", "gunicorn", "shop.wsgi", "--bind", bind]
    words += ["--worker-class", "gthread", "--workers", "2", "--threads", "4"]
    words += ["--log-level", "warning", "--graceful-timeout", "15"]
    return words + ["--reload"] if reload else words


def worker() -> list[str]:
    words = [sys.executable, "-m", "celery", "--quiet", "-A", "shop", "worker"]
    return words + ["--concurrency", "1", "--loglevel", "WARNING"]
