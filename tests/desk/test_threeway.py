"""Two changes of one text."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lessonpress.desk.files.threeway import merged

BASE = "one\ntwo\nthree\nfour\nfive\n"


def test_changes_of_different_lines_are_brought_together() -> None:
    assert merged(BASE, BASE.replace("one", "ONE"), BASE + "six\n") == BASE.replace("one", "ONE") + "six\n"


def test_the_same_change_twice_is_one_change() -> None:
    assert merged(BASE, BASE.replace("two", "2"), BASE.replace("two", "2")) == BASE.replace("two", "2")


def test_different_changes_of_one_line_collide_and_are_reported_with_their_line() -> None:
    found = merged(BASE, BASE.replace("three", "mine"), BASE.replace("three", "theirs"))
    assert isinstance(found, tuple)
    assert [(one.line, one.was, one.to, one.disk) for one in found] == [(3, "three\n", "mine\n", "theirs\n")]


_LINES = st.lists(st.sampled_from("abcdefgh"), max_size=8).map(
    lambda lines: "".join(line + "\n" for line in lines)
)


@pytest.mark.skipif(shutil.which("git") is None, reason="git merge-file is the reference")
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(_LINES, _LINES, _LINES)
def test_what_merges_here_and_by_git_is_the_same_text(
    tmp_path: Path, base: str, mine: str, theirs: str
) -> None:
    """Reference: git merge-file."""
    found = merged(base, mine, theirs)
    places = [tmp_path / name for name in ("mine", "base", "theirs")]
    for place, text in zip(places, (mine, base, theirs), strict=True):
        place.write_text(text, encoding="utf-8")
    done = subprocess.run(["git", "merge-file", "-p", *map(str, places)], capture_output=True, check=False)
    if done.returncode == 0 and isinstance(found, str):
        assert found == done.stdout.decode()


@given(_LINES, _LINES)
def test_one_change_alone_is_taken_as_it_is(base: str, other: str) -> None:
    assert merged(base, other, base) == other
    assert merged(base, base, other) == other
