"""The site is built aside and swapped in whole."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from lessonpress.press import swap
from lessonpress.press.output import only_press
from lessonpress.press.receipt import NAME, receipt
from lessonpress.press.swap import built_aside
from lessonpress.records.fault import UsageError


def _pressed(folder: Path, text: str) -> None:
    folder.mkdir()
    (folder / "index.html").write_text(text)
    (folder / NAME).write_bytes(receipt({"index.html": "0" * 64}))  # not read: no file is newer than this


def _only(folder: Path, name: str = "site") -> bool:
    """Nothing but the site is in its parent."""
    return [path.name for path in folder.iterdir()] == [name]


@pytest.mark.parametrize("state", ["absent", "empty", "pressed"])
def test_an_absent_an_empty_and_a_pressed_folder_are_accepted(tmp_path: Path, state: str) -> None:
    site = tmp_path / "site"
    if state == "empty":
        site.mkdir()
    if state == "pressed":
        _pressed(site, "before")
    with built_aside(site) as aside:
        (aside / "index.html").write_text("now")
        (aside / NAME).write_bytes(receipt({}))
    assert (site / "index.html").read_text() == "now"
    assert _only(tmp_path)


@pytest.mark.parametrize(
    "stop", [KeyboardInterrupt, OSError(28, "No space left on device"), ZeroDivisionError]
)
def test_a_press_that_fails_leaves_the_last_site_and_no_litter(
    tmp_path: Path, stop: BaseException | type[BaseException]
) -> None:
    site = tmp_path / "site"
    _pressed(site, "last good")
    with pytest.raises(BaseException) as caught, built_aside(site) as aside:
        (aside / "index.html").write_text("half")
        raise stop
    assert isinstance(caught.value, stop if isinstance(stop, type) else type(stop))
    assert (site / "index.html").read_text() == "last good"
    assert _only(tmp_path)


def test_a_swap_that_fails_halfway_puts_the_last_site_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    site = tmp_path / "site"
    _pressed(site, "last good")
    monkeypatch.setattr(swap, "exchange_folders", lambda one, other: False)
    real = Path.rename

    def refusing(path: Path, target: Path) -> Path:
        if ".pressing-" in path.name:
            raise PermissionError(13, "Permission denied")
        return real(path, target)

    monkeypatch.setattr(Path, "rename", refusing)
    with pytest.raises(PermissionError), built_aside(site):
        pass
    assert (site / "index.html").read_text() == "last good"
    assert _only(tmp_path)


def test_an_interrupt_during_the_swap_comes_after_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    site = tmp_path / "site"
    _pressed(site, "before")
    monkeypatch.setattr(swap, "exchange_folders", lambda one, other: False)
    real = Path.rename

    def interrupted(path: Path, target: Path) -> Path:
        os.kill(os.getpid(), signal.SIGINT)
        return real(path, target)

    monkeypatch.setattr(Path, "rename", interrupted)
    with pytest.raises(KeyboardInterrupt), built_aside(site) as aside:
        (aside / "index.html").write_text("now")
    assert (site / "index.html").read_text() == "now"
    assert _only(tmp_path)


def test_a_site_caught_between_the_two_renames_is_put_back_by_the_next_press(tmp_path: Path) -> None:
    site = tmp_path / "site"
    _pressed(tmp_path / ".site.before-0badcafe", "last good")
    with pytest.raises(KeyboardInterrupt), built_aside(site):
        raise KeyboardInterrupt
    assert (site / "index.html").read_text() == "last good"
    assert _only(tmp_path)


def test_what_a_killed_press_left_goes_with_the_next(tmp_path: Path) -> None:
    (tmp_path / ".site.pressing-0badcafe" / "lessons").mkdir(parents=True)
    others = [tmp_path / ".site.pressing-notes", tmp_path / ".site.pressing-1.pressing-0badcafe"]
    for other in others:
        other.mkdir()
    with built_aside(tmp_path / "site"):
        pass
    assert sorted(tmp_path.iterdir()) == sorted([tmp_path / "site", *others])


def test_what_was_put_into_the_folder_during_a_press_is_not_lost(tmp_path: Path) -> None:
    site = tmp_path / "site"
    _pressed(site, "before")
    with pytest.raises(UsageError, match="CNAME"), built_aside(site):
        (site / "CNAME").write_text("club.example")
    assert (site / "index.html").read_text() == "before"
    assert (site / "CNAME").read_text() == "club.example"
    assert _only(tmp_path)


# Builds a site over the one that is there, and kills itself at the step of the disk whose number is given.
_KILLED_AT = """
import os, signal, sys
from pathlib import Path
from lessonpress.press import swap
from lessonpress.press.output import only_press
from lessonpress.press import swap
from lessonpress.press.output import only_press
from lessonpress.press.receipt import NAME, receipt
from lessonpress.press.swap import built_aside

site, last, at_once = Path(sys.argv[1]), int(sys.argv[2]), sys.argv[3] == "True"
step = 0

def count(event, given):
    global step
    written = event == "open" and (given[2] or 0) & (os.O_WRONLY | os.O_RDWR | os.O_CREAT)
    moved = event in ("os.mkdir", "os.rename", "os.remove", "os.rmdir") or event.startswith("ctypes.dlsym")
    if step is not None and (written or moved):
        step += 1
        if step == last:
            os.kill(os.getpid(), signal.SIGKILL)

if not at_once:
    swap.exchanged = lambda one, other: False
sys.addaudithook(count)
with only_press(site), built_aside(site) as aside:
    for name in ("index.html", "a.html"):
        (aside / name).write_bytes(b"now")
    (aside / NAME).write_bytes(receipt(dict.fromkeys(["index.html", "a.html"], "0" * 64)))
step = None
"""


def _killed_at(site: Path, step: int, *, at_once: bool) -> bool:
    """Whether the press was killed, and had not ended before that step."""
    words = [sys.executable, "-c", _KILLED_AT, str(site), str(step), str(at_once)]
    done = subprocess.run(words, capture_output=True, text=True)
    assert done.returncode in (0, -signal.SIGKILL), done.stderr
    return done.returncode != 0


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="needs kill -9")
@pytest.mark.parametrize("at_once", [True, False], ids=["trading places", "two renamings"])
def test_a_press_killed_at_any_step_leaves_a_whole_site_and_the_next_one_is_clean(
    tmp_path: Path, at_once: bool
) -> None:
    """SIGKILL at every step of the disk; without trading places the site may be away until the next press."""
    site, step = tmp_path / "site", 1
    while True:
        _pressed(site, "before")
        killed = _killed_at(site, step, at_once=at_once)
        if not killed:
            break
        if site.exists() or at_once:
            left = {path.name: path.read_text() for path in site.iterdir() if path.name != NAME}
            assert left in ({"index.html": "before"}, {"index.html": "now", "a.html": "now"}), f"step {step}"
        with pytest.raises(KeyboardInterrupt), only_press(site), built_aside(site):
            assert (site / "index.html").read_text() in ("before", "now"), f"step {step}"
            raise KeyboardInterrupt
        assert _only(tmp_path), f"step {step}"
        shutil.rmtree(site)
        step += 1
    assert step > 10


def test_a_site_folder_that_is_a_link_stays_one(tmp_path: Path) -> None:
    real, link = tmp_path / "disk" / "real", tmp_path / "site"
    real.parent.mkdir()
    _pressed(real, "before")
    link.symlink_to(real)
    with built_aside(link) as aside:
        (aside / "index.html").write_text("now")
    assert link.is_symlink()
    assert (link / "index.html").read_text() == "now"


def test_the_folder_can_be_read_by_the_server(tmp_path: Path) -> None:
    plain = tmp_path / "plain"
    plain.mkdir()
    with built_aside(tmp_path / "site"):
        pass
    assert (tmp_path / "site").stat().st_mode == plain.stat().st_mode
