"""The real program in a process of its own, with bounds on time and memory.

Each process is forked from one that has loaded the program's libraries and done nothing: most of what a small
site takes is loading them.
"""

from __future__ import annotations

import contextlib
import json
import os
import signal
import subprocess
import sys
import threading
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
PATIENCE = 90.0  # s; the sound site takes some three, on a machine where nothing else runs
MEMORY = 6_000_000_000  # bytes of addresses, of which the video and array libraries take some two unused
LARGEST_FILE = 500_000_000
SAID = 5_000_000  # bytes of output that are kept
_LOADED = f"""
import importlib, json, os, pkgutil, resource, sys, tempfile
import lessonpress
from lessonpress.cli import main

for module in pkgutil.walk_packages(lessonpress.__path__, "lessonpress."):
    if not module.name.startswith(("lessonpress.desk", "lessonpress.footage.pose", "lessonpress.__main__")):
        importlib.import_module(module.name)

def began(asked):
    os.setsid()
    said = os.open(asked["said"], os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
    nothing = os.open(os.devnull, os.O_RDONLY)
    os.dup2(nothing, 0), os.dup2(said, 1), os.dup2(said, 2)
    os.chdir(asked["folder"])
    os.environ.update(asked["environment"])
    tempfile.tempdir = None
    for what, most in (("AS", {MEMORY}), ("FSIZE", {LARGEST_FILE}), ("CORE", 0)):
        resource.setrlimit(getattr(resource, f"RLIMIT_{{what}}"), (most, most))
    sys.argv = ["lessonpress", *asked["words"]]

for line in sys.stdin:
    child = os.fork()
    if not child:
        began(json.loads(line))
        try:
            main()
        except SystemExit as end:
            code = end.code if isinstance(end.code, int) else int(end.code is not None)
        except BaseException:
            import traceback
            traceback.print_exc()
            code = 70
        else:
            code = 0
        sys.stdout.flush(), sys.stderr.flush()
        os._exit(code)
    print(child, flush=True)
    print(os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]), flush=True)
"""
_own = threading.local()  # one loaded process for each thread that asks


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
    output = temporary / "said.txt"
    asked = {
        "words": list(words),
        "folder": str(sandbox),
        "environment": {"TMPDIR": str(temporary), "HOME": str(home)},
        "said": str(output),
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
    return None if late.is_set() else code


def _loaded() -> subprocess.Popen[str]:
    if getattr(_own, "loaded", None) is None:
        environment = {**os.environ, "PYTHONPATH": str(ROOT), "OPENBLAS_NUM_THREADS": "1"}
        _own.loaded = subprocess.Popen(
            [sys.executable, "-c", _LOADED],
            env=environment,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
    made: subprocess.Popen[str] = _own.loaded
    return made


def _end(child: int) -> None:
    with contextlib.suppress(ProcessLookupError, PermissionError):
        os.killpg(child, signal.SIGKILL)
