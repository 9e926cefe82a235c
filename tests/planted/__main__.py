"""Plants the faults of the table one by one in a copy of the program and says which tests notice.

    PYTHONPATH=. python -m tests.planted [WORD …]

With words only the faults with one of them in their file. The tests that must notice are run without a fault
first, since tests that fail anyway notice nothing. The exit code is 1 where a fault went unnoticed.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

from tests.planted.faults import FAULTS, Fault

ROOT = Path(__file__).parents[2]
LEFT_OUT = shutil.ignore_patterns(".*", "build", "__pycache__")


def main(words: Sequence[str]) -> int:
    wanted = [one for one in FAULTS if not words or any(word in one.file for word in words)]
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(shutil.copytree(ROOT, Path(folder) / "program", ignore=LEFT_OUT))
        files = sorted({one.tests for one in wanted})
        if failed := first_failure(copy, files):
            print(f"without any fault there fails {failed}")
            return 1
        unnoticed = sum(not noticed(one, copy) for one in wanted)
    print(f"{len(wanted) - unnoticed} of {len(wanted)} faults were noticed")
    return 1 if unnoticed else 0


def noticed(fault: Fault, copy: Path) -> bool:
    """Plant one fault, say which test fails first, and take it out. ValueError where it has no place."""
    path = copy / fault.file
    sound = path.read_text(encoding="utf-8")
    if sound.count(fault.was) != 1:
        raise ValueError(f"{fault.file} has {sound.count(fault.was)} places for: {fault.was}")
    path.write_text(sound.replace(fault.was, fault.now), encoding="utf-8")
    try:
        failed = first_failure(copy, [fault.tests])
    finally:
        path.write_text(sound, encoding="utf-8")
    print(f"{fault.file}: {fault.was} → {fault.now or '(nothing)'}\n    {failed or 'UNNOTICED'}", flush=True)
    return bool(failed)


def first_failure(copy: Path, files: Sequence[str]) -> str:
    """The first test of these files that fails, or why none could be run; "" where all pass."""
    done = subprocess.run(
        [sys.executable, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", "--no-header", *files],
        cwd=copy,
        env={**os.environ, "PYTHONPATH": str(copy), "PYTHONDONTWRITEBYTECODE": "1"},
        capture_output=True,
        text=True,
    )
    if done.returncode == 0:
        return ""
    found = re.search(r"^(?:FAILED|ERROR) (\S+)", done.stdout, re.MULTILINE)
    return found[1] if found else done.stdout[-500:] + done.stderr[-500:]


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
