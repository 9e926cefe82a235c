"""The output folder is checked first, built aside and swapped in whole."""

from __future__ import annotations

import os
import signal
import time
from pathlib import Path

import pytest

from lessonpress.press.receipt import NAME, receipt
from lessonpress.press.swap import built_aside, check
from lessonpress.records.fault import UsageError


def _pressed(folder: Path, text: str) -> None:
    folder.mkdir()
    (folder / "index.html").write_text(text)
    (folder / NAME).write_bytes(receipt({"index.html": "0" * 64}))


def _only(folder: Path, name: str = "site") -> bool:
    """Nothing but the site stands in its parent."""
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
    "name, content",
    [
        ("thesis.txt", "three years of work"),
        (NAME, "{}"),
        (NAME, '{"press": "coffee"}'),
        (NAME, "not even JSON"),
        (NAME, '{"press": "lessonpress"}'),
    ],
)
def test_a_folder_that_holds_anything_else_is_refused_untouched(
    tmp_path: Path, name: str, content: str
) -> None:
    site = tmp_path / "site"
    site.mkdir()
    (site / name).write_text(content)
    with pytest.raises(UsageError, match="left alone"):
        check(site)
    with pytest.raises(UsageError), built_aside(site):
        pass
    assert (site / name).read_text() == content
    assert _only(tmp_path)


def test_a_file_and_a_dangling_link_are_refused(tmp_path: Path) -> None:
    file, link = tmp_path / "file", tmp_path / "link"
    file.write_text("x")
    link.symlink_to(tmp_path / "nowhere")
    for place in (file, link):
        with pytest.raises(UsageError):
            check(place)


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


def test_what_a_killed_press_left_goes_after_a_day_and_not_before(tmp_path: Path) -> None:
    old, new = tmp_path / ".site.pressing-0000", tmp_path / ".site.pressing-1111"
    for left in (old, new):
        left.mkdir()
    yesterday = time.time() - 25 * 3600
    os.utime(old, (yesterday, yesterday))
    with built_aside(tmp_path / "site"):
        pass
    assert not old.exists()
    assert new.exists()


def test_a_site_folder_that_is_a_link_stays_one(tmp_path: Path) -> None:
    real, link = tmp_path / "disk" / "real", tmp_path / "site"
    real.parent.mkdir()
    _pressed(real, "before")
    link.symlink_to(real)
    with built_aside(link) as aside:
        (aside / "index.html").write_text("now")
    assert link.is_symlink()
    assert (link / "index.html").read_text() == "now"


def test_the_folder_can_be_read_by_whoever_serves_it(tmp_path: Path) -> None:
    plain = tmp_path / "plain"
    plain.mkdir()
    with built_aside(tmp_path / "site"):
        pass
    assert (tmp_path / "site").stat().st_mode == plain.stat().st_mode


@pytest.mark.parametrize("name", ["file/site", "x" * 250, "x" * 300, "y" * 300 + "/a", "a/" * 2000, "a\0b"])
def test_a_folder_that_cannot_be_made_is_refused_first(tmp_path: Path, name: str) -> None:
    (tmp_path / "file").write_text("x")
    with pytest.raises(UsageError):
        check(tmp_path / name)
