"""A large folder has a spare, of the files that are published; the next press changes what differs in it."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

import pytest

from lessonpress.press import spare
from lessonpress.press.output import only_press
from lessonpress.press.receipt import NAME, receipt
from lessonpress.press.spare import Changes, Left, Spare
from lessonpress.press.steps.last import standing
from lessonpress.press.swap import built_aside

FIRST = {"index.html": "home", "lessons/one/index.html": "one", "lessons/two/index.html": "two"}


@pytest.fixture(autouse=True)
def _every_folder_has_one(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(spare, "WORTH_IT", 1)


def _written(folder: Path, files: Mapping[str, str]) -> None:
    for path, text in files.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).unlink(missing_ok=True)
        (folder / path).write_text(text)


def _texts(folder: Path) -> dict[str, str]:
    return {path: (folder / path).read_text() for path in standing(folder) if path != NAME}


@pytest.fixture
def site(tmp_path: Path) -> Path:
    """Pressed once, so that it has a spare."""
    folder = tmp_path / "site"
    with built_aside(folder) as aside:
        _written(aside, FIRST)
        (aside / NAME).write_bytes(receipt(dict.fromkeys(FIRST, "0" * 64)))
    return folder


def _left(folder: Path) -> Left:
    return Left(standing(folder), {})  # by whose hashes the caller knows what differs, here by heart


def _spare_of(folder: Path) -> Path:
    return folder.with_name(f".{folder.name}.spare")


def test_it_is_of_the_published_files_and_of_nothing_else(site: Path) -> None:
    assert standing(_spare_of(site)) == standing(site)  # the same inodes
    assert sorted(path.name for path in site.parent.iterdir()) == [".site.spare", "site"]


@contextmanager
def _changed(site: Path, changes: Changes, texts: Mapping[str, str]) -> Iterator[Spare]:
    """Presses again with these changes, where the spare is taken; else asserts that it is not."""
    mine = Spare(site, _left(site))
    with built_aside(site, mine) as aside:
        assert mine.changes is not None
        mine.changes = changes
        spare.remove(aside, changes.removed)
        _written(aside, texts)
        yield mine


@pytest.mark.parametrize(
    ("removed", "written"),
    [
        ((), {"index.html": "another home"}),
        (("lessons/two/index.html",), {}),
        (("lessons/one/index.html",), {"lessons/one/more/index.html": "deeper"}),
        (("lessons/one/index.html", "lessons/two/index.html"), {"lessons": "a file now"}),
        (("index.html",), {"index.html/index.html": "a folder now"}),
    ],
)
def test_what_differs_is_changed_in_both(
    site: Path, removed: tuple[str, ...], written: dict[str, str]
) -> None:
    inode = (site / "lessons/two/index.html").stat().st_ino
    with _changed(site, Changes(removed, tuple(written)), written):
        assert _texts(site) == FIRST  # until it is whole
    kept = {path: text for path, text in FIRST.items() if path not in removed}
    assert _texts(site) == kept | written
    assert standing(_spare_of(site)) == standing(site)
    if "lessons/two/index.html" in kept:
        assert (site / "lessons/two/index.html").stat().st_ino == inode
    assert not [at for folder in (site, _spare_of(site)) for at, *held in os.walk(folder) if held == [[], []]]


def test_it_is_changed_again_and_again(site: Path) -> None:
    for number in range(4):
        texts = {"index.html": f"home {number}", f"lessons/{number}/index.html": str(number)}
        with _changed(site, Changes((), tuple(texts)), texts):
            pass
    assert _texts(site)["index.html"] == "home 3" and "lessons/0/index.html" in _texts(site)
    assert standing(_spare_of(site)) == standing(site)


def _another_file(folder: Path) -> None:
    (folder / "index.html").unlink()
    (folder / "index.html").write_text("home")


UNBELIEVED: dict[str, Callable[[Path], object]] = {
    "a file that was put in": lambda folder: (folder / "CNAME").write_text("club.example"),
    "one of the system's": lambda folder: (folder / ".DS_Store").write_text("seen"),
    "a file that was taken away": lambda folder: (folder / "index.html").unlink(),
    "a file that is another": _another_file,
    "a folder that was taken away": lambda folder: shutil.rmtree(folder / "lessons"),
    "a link to another folder": lambda folder: (
        folder.rename(folder.with_name("elsewhere")),
        folder.symlink_to("elsewhere"),
    ),
}


@pytest.mark.parametrize("change", UNBELIEVED.values(), ids=UNBELIEVED)
def test_it_is_not_believed_with(site: Path, change: Callable[[Path], object]) -> None:
    change(_spare_of(site))
    mine = Spare(site, _left(site))
    with built_aside(site, mine) as aside:
        assert mine.changes is None and not any(aside.iterdir())
        _written(aside, {"index.html": "now"})
    assert _texts(site) == {"index.html": "now"}
    if not _spare_of(site).is_symlink():
        assert standing(_spare_of(site)) == standing(site)


def test_what_was_put_into_the_folder_that_was_replaced_does_not_come_back(site: Path) -> None:
    mine = Spare(site, _left(site))
    with built_aside(site, mine, discard=True) as aside:
        mine.changes = Changes((), ("index.html",))
        _written(aside, {"index.html": "now"})
        (site / "CNAME").write_text("club.example")
    assert "CNAME" not in _texts(site) and "CNAME" not in _texts(_spare_of(site))


def test_a_small_folder_has_none(site: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(spare, "WORTH_IT", 10)
    with built_aside(site, Spare(site, None)) as aside:
        _written(aside, FIRST)
    assert [path.name for path in site.parent.iterdir()] == ["site"]


def test_a_disk_that_links_no_files_has_none(site: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", refuse)
    with built_aside(site, Spare(site, None)) as aside:
        _written(aside, {"index.html": "now"})
    assert _texts(site) == {"index.html": "now"}
    assert [path.name for path in site.parent.iterdir()] == ["site"]


def test_a_press_that_fails_leaves_the_site(site: Path) -> None:
    with pytest.raises(KeyboardInterrupt), _changed(site, Changes((), ("index.html",)), {"index.html": "x"}):
        raise KeyboardInterrupt
    assert _texts(site) == FIRST


# Changes a site in its spare, and kills itself at the step of the disk whose number is given.
_KILLED_AT = """
import os, signal, sys
from pathlib import Path
from lessonpress.press import spare
from lessonpress.press.output import only_press
from lessonpress.press.steps.last import standing
from lessonpress.press.swap import built_aside

site, last, step = Path(sys.argv[1]), int(sys.argv[2]), 0
spare.WORTH_IT = 1

def count(event, given):
    global step
    written = event == "open" and (given[2] or 0) & (os.O_WRONLY | os.O_RDWR | os.O_CREAT)
    moved = event in ("os.mkdir", "os.rename", "os.remove", "os.rmdir", "os.link")
    if step is not None and (written or moved or event.startswith("ctypes.dlsym")):
        step += 1
        if step == last:
            os.kill(os.getpid(), signal.SIGKILL)

mine = spare.Spare(site, spare.Left(standing(site), {}))
sys.addaudithook(count)
with only_press(site), built_aside(site, mine) as aside:
    mine.changes = spare.Changes(("lessons/two/index.html",), ("index.html",))
    spare.remove(aside, mine.changes.removed)
    (aside / "index.html").unlink()
    (aside / "index.html").write_text("now")
step = None
"""


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="needs kill -9")
def test_killed_at_any_step_the_site_is_whole_and_the_next_press_does_what_this_one_did(
    site: Path, tmp_path: Path
) -> None:
    now = {path: text for path, text in FIRST.items() if "two" not in path} | {"index.html": "now"}
    step, killed, seen = 0, True, []
    while killed:
        step += 1
        folder = tmp_path / str(step)
        folder.mkdir()
        with built_aside(folder / "site") as aside:
            _written(aside, FIRST)
            (aside / NAME).write_bytes(receipt(dict.fromkeys(FIRST, "0" * 64)))
        words = [sys.executable, "-c", _KILLED_AT, str(folder / "site"), str(step)]
        done = subprocess.run(words, capture_output=True, text=True)
        killed = done.returncode == -signal.SIGKILL
        assert killed or done.returncode == 0, done.stderr
        left = _texts(folder / "site")
        assert left in (FIRST, now), f"step {step}"
        seen.append(left == now)
        mine = Spare(folder / "site", _left(folder / "site"))
        with only_press(folder / "site"), built_aside(folder / "site", mine) as aside:
            if mine.changes is None:
                _written(aside, left)
        assert _texts(folder / "site") == left
        assert sorted(path.name for path in folder.iterdir()) == [".site.spare", "site"], f"step {step}"
    assert step > 10 and seen == sorted(seen) and seen[-1]
