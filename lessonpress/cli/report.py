"""The report of a fault: what a maintainer needs to find it, and nothing else unless its author adds it.

It lies on this machine and is sent by its author or not at all. It names the versions, the command and the
options that were asked for, and the way through the program and its libraries to the fault. It leaves out
what may come out of a lesson, or name a person or a machine: words that were typed, what errors say, source
lines, and where files lie.
"""

from __future__ import annotations

import os
import platform
import re
import sys
import traceback
from collections.abc import Iterable, Iterator
from pathlib import Path

from lessonpress import __version__

_OWN_WORDS = re.compile(r"--?[a-z][a-z-]*")
_FRAME = re.compile(r'^\s*File "([^"]+)", line (\d+), in (\S+)')
_END = """
Left out, since they may hold words or names of yours: what was typed, and what the errors say. The terminal
showed the first line of it. Add below what may be known; what was done just before helps most.

"""


def write_report(error: BaseException) -> Path | None:
    """Where the report of a fault is; None where none could be written."""
    import tempfile

    try:
        handle, name = tempfile.mkstemp(prefix="lessonpress-report-", suffix=".txt", text=True)
        with os.fdopen(handle, "w", encoding="utf-8", errors="replace") as file:
            file.write(report_of(error, sys.argv[1:]))
    except OSError:
        return None
    return Path(name)


def report_of(error: BaseException, words: Iterable[str]) -> str:
    """The text of a report. words: as typed after the program's name."""
    lines = [
        f"lessonpress {__version__}, Python {platform.python_version()}, {platform.platform()}",
        *_libraries(),
        f"asked for: {' '.join(_masked(words))}",
        "",
    ]
    for one in _chain(error):
        lines += [*_way_to(one), f"{_kind(one)}", ""]
    return "\n".join(lines) + _END


def _libraries() -> Iterator[str]:
    from importlib.metadata import PackageNotFoundError, requires, version

    try:
        needed = [
            re.split(r"[^A-Za-z0-9_.-]", one)[0]
            for one in requires("lessonpress") or ()
            if "extra" not in one
        ]
    except PackageNotFoundError:
        return
    for name in needed:
        try:
            yield f"  {name} {version(name)}"
        except PackageNotFoundError:
            yield f"  {name} is not installed"


def _masked(words: Iterable[str]) -> Iterator[str]:
    """The command and its options as typed; of all else that there was something."""
    from lessonpress.cli.commands import COMMANDS

    for place, word in enumerate(words):
        option = word.partition("=")[0]
        if place == 0 and word in COMMANDS:
            yield word
        elif _OWN_WORDS.fullmatch(option):
            yield f"{option}=…" if "=" in word else option
        else:
            yield "…"


def _chain(error: BaseException) -> list[BaseException]:
    """The error, after those that it came from."""
    chain: list[BaseException] = []
    one: BaseException | None = error
    while one is not None and one not in chain:
        chain.append(one)
        one = one.__cause__ or (None if one.__suppress_context__ else one.__context__)
    return chain[::-1]


def _kind(error: BaseException) -> str:
    kind = type(error)
    number = f", number {error.errno}" if isinstance(error, OSError) and error.errno is not None else ""
    return f"{kind.__module__}.{kind.__qualname__}{number}"


def _way_to(error: BaseException) -> Iterator[str]:
    """Where it went through: file, line and function. A worker's way is in what its error says."""
    for frame in traceback.extract_tb(error.__traceback__):
        yield _frame(frame.filename, frame.lineno or 0, frame.name)
    for line in str(error).splitlines() if type(error).__name__ == "_RemoteTraceback" else ():
        found = _FRAME.match(line)
        if found:
            yield _frame(found[1], int(found[2]), found[3])


def _frame(file: str, line: int, name: str) -> str:
    return f"  {_in_its_package(file)}:{line} {name}"


def _in_its_package(file: str) -> str:
    """A module's file from its package on, without where that is installed."""
    parts = Path(file).parts
    for folder in ("site-packages", "dist-packages"):
        if folder in parts:
            return "/".join(parts[len(parts) - parts[::-1].index(folder) :])
    if "lessonpress" in parts:
        return "/".join(parts[len(parts) - 1 - parts[::-1].index("lessonpress") :])
    return parts[-1] if parts else file
