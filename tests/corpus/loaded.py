"""A process that has loaded the program's libraries, and forks itself for each run that it is asked for.

A line of its input is a run as JSON: `words`, `folder`, `environment`, `said` (the file for what is printed),
`light` (whether processes that the program begins are forked from it, and not begun anew with all libraries).
A line of its output is the forked process, the next one its exit code, negative for a signal.
"""

from __future__ import annotations

import contextlib
import ctypes
import importlib
import json
import multiprocessing
import os
import pkgutil
import resource
import sys
import tempfile
import traceback
from typing import Any

import lessonpress
from lessonpress.cli import main
from lessonpress.footage.video import guarded

MOST_WORK = 120  # s of processor; the sound site takes some three
MEMORY = 6_000_000_000  # bytes of addresses, of which the video and array libraries take some two unused
LARGEST_FILE = 500_000_000
_CHILD_SUBREAPER = 36  # PR_SET_CHILD_SUBREAPER of prctl(2)
_LEFT_OUT = ("lessonpress.desk", "lessonpress.footage.pose", "lessonpress.__main__")


def load() -> None:
    for module in pkgutil.walk_packages(lessonpress.__path__, "lessonpress."):
        if not module.name.startswith(_LEFT_OUT):
            importlib.import_module(module.name)


def serve() -> None:
    """Runs what it is asked for. What a run leaves behind becomes its child, so that its work is counted."""
    ctypes.CDLL(None).prctl(_CHILD_SUBREAPER, 1)
    for line in sys.stdin:
        child = os.fork()
        if not child:
            _begin(json.loads(line))
            os._exit(_code())
        print(child, flush=True)
        print(os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]), flush=True)
        _reap(os.WNOHANG)
    _reap()


def _reap(how: int = 0) -> None:
    with contextlib.suppress(ChildProcessError):
        while os.waitpid(-1, how)[0]:
            pass


def _begin(asked: dict[str, Any]) -> None:
    """A session, an output, a folder and bounds of its own."""
    os.setsid()
    said = os.open(asked["said"], os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
    for stream, to in ((0, os.open(os.devnull, os.O_RDONLY)), (1, said), (2, said)):
        os.dup2(to, stream)
    os.chdir(asked["folder"])
    os.environ.update(asked["environment"])
    tempfile.tempdir = None
    for what, most in (("AS", MEMORY), ("FSIZE", LARGEST_FILE), ("CORE", 0)):
        resource.setrlimit(getattr(resource, f"RLIMIT_{what}"), (most, most))
    resource.setrlimit(resource.RLIMIT_CPU, (MOST_WORK, resource.RLIM_INFINITY))
    sys.argv = ["lessonpress", *asked["words"]]
    if asked["light"]:
        guarded._context = lambda: multiprocessing.get_context("fork")


def _code() -> int:
    code = 0
    try:
        main()
    except SystemExit as end:
        code = end.code if isinstance(end.code, int) else int(end.code is not None)
    except BaseException:
        traceback.print_exc()
        code = 70
    sys.stdout.flush()
    sys.stderr.flush()
    return code


if __name__ == "__main__":
    load()
    serve()
