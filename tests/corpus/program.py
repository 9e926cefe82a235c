"""The real program in a process of its own, with bounds on time and memory."""

from __future__ import annotations

import contextlib
import os
import signal
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
PATIENCE = 90.0  # s; the sound site takes some three, on a machine where nothing else runs
MEMORY = 6_000_000_000  # bytes of addresses, of which the video and array libraries take some two unused
LARGEST_FILE = 500_000_000
SAID = 5_000_000  # bytes of output that are kept
# the process bounds itself: Python run between fork and exec stands still where a thread held a lock
_RUN = f"""
import resource
for what, most in (("AS", {MEMORY}), ("FSIZE", {LARGEST_FILE}), ("CORE", 0)):
    resource.setrlimit(getattr(resource, f"RLIMIT_{{what}}"), (most, most))
from lessonpress.cli import main
main()
"""


@dataclass(frozen=True)
class Done:
    """code: as the shell has it, negative for a signal; None for a process that had to be ended."""

    words: tuple[str, ...]
    code: int | None
    said: str


def run(words: Sequence[str], sandbox: Path, patience: float = PATIENCE) -> Done:
    """What the program says, and its exit code. Its home and its temporary files lie in `sandbox`."""
    temporary, home = sandbox / "tmp", sandbox / "home"
    temporary.mkdir(exist_ok=True)
    home.mkdir(exist_ok=True)
    environment = {**os.environ, "TMPDIR": str(temporary), "HOME": str(home), "PYTHONPATH": str(ROOT)}
    output = temporary / "said.txt"
    with output.open("wb") as said:
        child = subprocess.Popen(
            [sys.executable, "-c", _RUN, *words],
            cwd=sandbox,
            env={**environment, "OPENBLAS_NUM_THREADS": "1"},
            stdin=subprocess.DEVNULL,
            stdout=said,
            stderr=said,
            start_new_session=True,
        )
        try:
            code: int | None = child.wait(patience)
        except subprocess.TimeoutExpired:
            code = None
        finally:
            _end(child)
    with output.open("rb") as said:
        text = said.read(SAID).decode("utf-8", "replace")
    return Done(tuple(words), code, text)


def _end(child: subprocess.Popen[bytes]) -> None:
    """Ends the process and the workers it began, which share its session."""
    with contextlib.suppress(ProcessLookupError):
        os.killpg(child.pid, signal.SIGKILL)
    child.wait()
