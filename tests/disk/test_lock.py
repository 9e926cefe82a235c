"""A hold is one process's, says whose it is, and ends with it."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from lessonpress.disk.lock import LockedError, hold_lock

HOLDING = """
import sys
from pathlib import Path
from lessonpress.disk.lock import hold_lock

with hold_lock(Path(sys.argv[1]), "desk on port 8000"):
    print("held", flush=True)
    sys.stdin.readline()
"""


def test_who_comes_second_learns_by_whom_it_is_held(tmp_path: Path) -> None:
    place = tmp_path / "lock"
    with (
        hold_lock(place, "press, process 7"),
        pytest.raises(LockedError) as refused,
        hold_lock(place, "another"),
    ):
        pass
    assert refused.value.said == "press, process 7"
    assert not place.exists()


def test_a_file_that_a_killed_process_left_behind_holds_nothing_and_its_words_go(tmp_path: Path) -> None:
    """A shorter line must not end in the rest of a longer one."""
    place = tmp_path / "lock"
    with subprocess.Popen(
        [sys.executable, "-c", HOLDING, str(place)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as other:
        assert other.stdout is not None and other.stdout.readline() == "held\n"
        with pytest.raises(LockedError, match="desk on port 8000"), hold_lock(place, "second"):
            pass
        other.kill()
        other.communicate()
    assert place.read_text(encoding="utf-8") == "desk on port 8000\n"
    with hold_lock(place, "press"):
        assert place.read_text(encoding="utf-8") == "press\n"
