"""The real program in a process of its own, with bounds on time and memory.

Each is forked from one that has loaded the program's libraries and done nothing (`loaded.py`): most of what a
small site takes is loading them.
"""

from __future__ import annotations

import contextlib
import json
import os
import resource
import signal
import subprocess
import sys
import threading
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
PATIENCE = 900.0  # s; for what waits without working, however busy the machine is with other things
SAID = 5_000_000  # bytes of output that are kept
_own = threading.local()  # one loaded process for each thread that asks
_every: list[subprocess.Popen[str]] = []


@dataclass(frozen=True)
class Done:
    """code: as the shell has it, negative for a signal; None for a process that took too long."""

    words: tuple[str, ...]
    code: int | None
    said: str


def run(words: Sequence[str], sandbox: Path, patience: float = PATIENCE, *, light: bool = False) -> Done:
    """What the program says, and its exit code. Its home and its temporary files lie in `sandbox`.

    light: whether processes that it begins are forked from it; loading all libraries again is most of a run.
    """
    temporary, home = sandbox / "tmp", sandbox / "home"
    temporary.mkdir(exist_ok=True)
    home.mkdir(exist_ok=True)
    output = temporary / "said.txt"
    asked = {
        "words": list(words),
        "folder": str(sandbox),
        "environment": {"TMPDIR": str(temporary), "HOME": str(home)},
        "said": str(output),
        "light": light,
    }
    code = _code(json.dumps(asked), patience)
    with output.open("rb") as said:
        text = said.read(SAID).decode("utf-8", "replace")
    return Done(tuple(words), code, text)


def _code(asked: str, patience: float) -> int | None:
    """Has one process forked and run; None where it had to be ended."""
    loaded = _loaded()
    assert loaded.stdin is not None and loaded.stdout is not None
    loaded.stdin.write(f"{asked}\n")
    loaded.stdin.flush()
    child = int(loaded.stdout.readline())
    late = threading.Event()

    def end() -> None:
        late.set()
        _end(child)

    clock = threading.Timer(patience, end)
    clock.start()
    code = int(loaded.stdout.readline())
    clock.cancel()
    _end(child)  # the workers it began, which share its session
    return None if late.is_set() or code == -signal.SIGXCPU else code


def _loaded() -> subprocess.Popen[str]:
    if getattr(_own, "loaded", None) is None:
        environment = {**os.environ, "PYTHONPATH": str(ROOT), "OPENBLAS_NUM_THREADS": "1"}
        _own.loaded = subprocess.Popen(
            [sys.executable, "-m", "tests.corpus.loaded"],
            env=environment,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        _every.append(_own.loaded)
    made: subprocess.Popen[str] = _own.loaded
    return made


def finish() -> tuple[float, int]:
    """Ends the loaded processes: s of processor and the most bytes of memory that any run took."""
    while _every:
        loaded = _every.pop()
        assert loaded.stdin is not None
        loaded.stdin.close()
        loaded.wait()
    _own.__dict__.clear()
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime, used.ru_maxrss * 1024


def _end(child: int) -> None:
    with contextlib.suppress(ProcessLookupError, PermissionError):
        os.killpg(child, signal.SIGKILL)
