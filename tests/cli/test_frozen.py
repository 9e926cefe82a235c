"""A site on a disk that can only be read: every command says so in a line, and nothing is written."""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

from lessonpress.intake import start_site
from tests.cli.conftest import Ask
from tests.press.conftest import files

CLIP = "shingle-face-on"


@pytest.fixture(scope="module")
def frozen(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """The starter; root too may only read it."""
    disk = tmp_path_factory.mktemp("frozen")
    mount = shutil.which("mount")
    if mount is None or subprocess.run([mount, "-t", "tmpfs", "none", disk], check=False).returncode:
        pytest.skip("no disk may be mounted here")
    try:
        start_site(disk / "notebook")
        subprocess.run([mount, "-o", "remount,ro", disk], check=True)
        yield disk / "notebook"
    finally:
        subprocess.run(["umount", disk], check=True)


@pytest.mark.parametrize(
    "words",
    [
        ("press", "SITE"),
        ("withdraw", CLIP, "--site", "SITE"),
        ("sheet", CLIP, "--around", "top", "--site", "SITE"),
        ("mail", "first-lesson", "--attach", "--site", "SITE"),
        ("diagram", "first-lesson", "top", "--site", "SITE"),
    ],
    ids=lambda words: words[0],
)
def test_a_command_that_would_write_says_that_it_may_not(
    ask: Ask, frozen: Path, words: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    before = files(frozen)
    code, _, told = ask(*(str(frozen) if word == "SITE" else word for word in words))
    assert code in (2, 3), told
    assert ("can only be read" in told or "Read-only file system" in told) and "Traceback" not in told
    assert files(frozen) == before
