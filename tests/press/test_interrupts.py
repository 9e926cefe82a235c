"""Ctrl-C and SIGTERM end a press of a real process with code 130; after kill -9 too the last site remains."""

from __future__ import annotations

import shutil
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from lessonpress.press.progress import Silent
from lessonpress.press.run import press
from tests.studio.site import kinds_lesson

# Sends itself the signal when the third file of the site is about to be written.
_WHILE_WRITING = """
import os, sys
from lessonpress.cli import main
from lessonpress.press import filling

number, bring, files = int(sys.argv.pop()), filling._bring, []

def interrupted(*given):
    files.append(given)
    if len(files) == 3:
        os.kill(os.getpid(), number)
    return bring(*given)

filling._bring = interrupted
main()
"""

# Sends the signal to itself and its workers, as a terminal does, when the first of many lessons is printed.
_WHILE_IN_PARALLEL = """
import os, sys
from lessonpress.cli import main
from lessonpress.press.steps import apart

number, run_parallel = int(sys.argv.pop()), apart.run_parallel
apart.WORTH_A_POOL = 1

def interrupted(*given):
    for done in run_parallel(*given):
        os.killpg(0, number)
        yield done

apart.run_parallel = interrupted
main()
"""


def _interrupted(script: str, site: Path, out: Path, number: signal.Signals) -> str:
    """What the press said; it returns only when no worker holds its standard error open any more."""
    done = subprocess.run(
        [sys.executable, "-c", script, "press", str(site), "--out", str(out), str(int(number))],
        capture_output=True,
        text=True,
        start_new_session=True,
        timeout=120,
    )
    assert done.returncode == 130, done.stderr
    return done.stderr


def _change(site: Path, script: str) -> None:
    """Something to do: the site is called otherwise, and for many diagrams what was drawn is lost."""
    file = site / "site.yaml"
    file.write_text(file.read_text(encoding="utf-8").replace("title: ", "title: Other ", 1), encoding="utf-8")
    if script is _WHILE_IN_PARALLEL:
        shutil.rmtree(site / "build" / "cache" / "diagrams")
        shutil.rmtree(site / "build" / "cache" / "dockets")


def _change_back(site: Path) -> None:
    file = site / "site.yaml"
    file.write_text(file.read_text(encoding="utf-8").replace("title: Other ", "title: "), encoding="utf-8")


def _files(folder: Path) -> dict[Path, bytes]:
    return {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}


@pytest.fixture
def few(own_site: Path) -> Path:
    """With a few plates in each of the two lessons: an interrupted press has to draw them all again."""
    (own_site / "lessons" / "kinds.md").write_text(kinds_lesson(("vertical", "ring")), encoding="utf-8")
    return own_site


@pytest.mark.parametrize("script", [_WHILE_WRITING, _WHILE_IN_PARALLEL], ids=["writing", "in parallel"])
@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_an_interrupted_press_leaves_the_last_site_and_no_litter(
    few: Path, tmp_path: Path, number: signal.Signals, script: str
) -> None:
    out = tmp_path / "host" / "site"
    press(few, out, Silent())
    before = _files(out)
    _change(few, script)
    said = _interrupted(script, few, out, number)
    assert said.splitlines()[-1] == "lessonpress: interrupted; what was there before is unchanged"
    assert "Traceback" not in said
    assert _files(out) == before
    assert sorted(path.name for path in out.parent.iterdir()) == ["site", "site.changes.json"]


def test_the_next_press_takes_up_what_an_interrupted_one_had_made(few: Path, tmp_path: Path) -> None:
    pictures = few / "build" / "cache" / "pictures"
    shutil.rmtree(few / "build", ignore_errors=True)
    _interrupted(_WHILE_WRITING, few, tmp_path / "site", signal.SIGINT)
    assert not (tmp_path / "site").exists()
    made = {path: path.stat().st_mtime_ns for path in pictures.glob("*/*")}
    assert made
    assert not list((few / "build" / "cache").glob("last/*/*"))
    press(few, tmp_path / "site", Silent())
    assert {path: path.stat().st_mtime_ns for path in pictures.glob("*/*")} == made


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="needs kill -9")
@pytest.mark.parametrize("script", [_WHILE_WRITING, _WHILE_IN_PARALLEL], ids=["writing", "in parallel"])
def test_a_killed_press_leaves_the_last_site_and_the_next_one_is_right_and_clean(
    own_site: Path, pressed_site: Path, tmp_path: Path, script: str
) -> None:
    """Only the press itself is killed: its workers have to notice, and what they had begun is cleared."""
    out, cache = tmp_path / "host" / "site", own_site / "build" / "cache"
    press(own_site, out, Silent())
    _change(own_site, script)
    words = [sys.executable, "-c", script.replace("os.killpg(0", "os.kill(os.getpid()")]
    words += ["press", str(own_site), "--out", str(out), str(int(signal.SIGKILL))]
    done = subprocess.run(words, capture_output=True, text=True, timeout=120)  # waits for workers as well
    assert done.returncode == -signal.SIGKILL, done.stderr
    assert _files(out) == _files_of(pressed_site, out)
    _change_back(own_site)
    assert len(list(out.parent.iterdir())) > 2
    (cache / "unfinished" / ".name.0badcafe.saving").write_bytes(b"half")
    (out.parent / ".site.changes.json.0badcafe.saving").write_bytes(b"half")
    press(own_site, out, Silent())
    assert _files(out) == _files_of(pressed_site, out)
    assert sorted(path.name for path in out.parent.iterdir()) == ["site", "site.changes.json"]
    assert list((cache / "unfinished").iterdir()) == []


def _files_of(site: Path, as_if_at: Path) -> dict[Path, bytes]:
    return {as_if_at / path.relative_to(site): content for path, content in _files(site).items()}
