"""Where a site may be pressed to, and what is not lost by it."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from lessonpress.disk import lock
from lessonpress.press.output import check_content, check_output_folder, only_press
from lessonpress.press.receipt import NAME, hash_of, receipt
from lessonpress.records.fault import UsageError

PAGES = {"index.html": b"home", "lessons/pelvis/index.html": b"lesson", "lessons/secret/index.html": b"quiet"}


@pytest.fixture
def pressed(tmp_path: Path) -> Path:
    """A pressed folder."""
    site = tmp_path / "site"
    for path, content in PAGES.items():
        (site / path).parent.mkdir(parents=True, exist_ok=True)
        (site / path).write_bytes(content)
    hashes = {path: hash_of(content) for path, content in PAGES.items()}
    (site / NAME).write_bytes(receipt(hashes))
    return site


def _newer(place: Path, content: bytes) -> None:
    place.parent.mkdir(parents=True, exist_ok=True)
    place.write_bytes(content)
    later = time.time() + 60
    os.utime(place, (later, later))


def test_a_folder_as_it_was_pressed_is_accepted(pressed: Path) -> None:
    check_content(pressed)


def test_the_receipt_names_no_path(pressed: Path) -> None:
    read = (pressed / NAME).read_text(encoding="utf-8")
    assert not [path for path in PAGES if path in read or path.removesuffix("/index.html") in read]


def test_pages_copied_elsewhere_and_back_are_still_as_pressed(pressed: Path) -> None:
    for path, content in PAGES.items():
        _newer(pressed / path, content)
    check_content(pressed)


@pytest.mark.parametrize(
    "path, named",
    [
        ("CNAME", "CNAME"),
        (".well-known/security.txt", ".well-known/"),
        ("lessons/pelvis/notes.txt", "lessons/pelvis/notes.txt"),
        ("lessons/secret/notes.txt", "lessons/secret/notes.txt"),
        ("photos/2020/one.jpg", "photos/"),
        ("index.html", "index.html"),
    ],
)
def test_what_somebody_put_there_or_changed_is_named_and_stays(pressed: Path, path: str, named: str) -> None:
    _newer(pressed / path, b"by hand")
    with pytest.raises(UsageError) as told:
        check_content(pressed)
    assert f": {named}; " in str(told.value) and "--discard" in str(told.value)
    assert (pressed / path).read_bytes() == b"by hand"
    check_content(pressed, discard=True)


def test_a_link_in_the_place_of_a_page_is_named(pressed: Path) -> None:
    (pressed / "index.html").unlink()
    (pressed / "index.html").symlink_to("lessons/pelvis/index.html")
    with pytest.raises(UsageError, match=r"index\.html"):
        check_content(pressed)


def test_of_many_the_first_are_named_and_the_rest_counted(pressed: Path) -> None:
    for number in range(30):
        (pressed / f"note-{number:02}.txt").write_text("x")
    with pytest.raises(UsageError, match=r"note-07\.txt and 22 more; ") as told:
        check_content(pressed)
    assert "note-08" not in str(told.value)


@pytest.mark.parametrize(
    "path", [".git/HEAD", ".hg/store", "lessons/pelvis/.git/HEAD", "photos/.svn/entries", ".git"]
)
def test_a_history_of_version_control_is_never_taken_away(pressed: Path, path: str) -> None:
    (pressed / path).parent.mkdir(parents=True, exist_ok=True)
    (pressed / path).write_text("ref: refs/heads/main")
    for discard in (False, True):
        with pytest.raises(UsageError, match="version control"):
            check_content(pressed, discard=discard)


@pytest.mark.parametrize("name", [".DS_Store", "Thumbs.db", "lessons/desktop.ini"])
def test_what_a_system_puts_into_folders_that_are_looked_at_is_no_matter(pressed: Path, name: str) -> None:
    (pressed / name).write_bytes(b"")
    check_content(pressed)


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
        check_content(site)
    assert (site / name).read_text() == content


def test_a_file_and_a_dangling_link_are_refused(tmp_path: Path) -> None:
    file, link = tmp_path / "file", tmp_path / "link"
    file.write_text("x")
    link.symlink_to(tmp_path / "nowhere")
    for place in (file, link):
        with pytest.raises(UsageError):
            check_content(place)


@pytest.fixture
def root(tmp_path: Path) -> Path:
    for name in ("lessons", "clips", "pages"):
        (tmp_path / "work" / "notebook" / name).mkdir(parents=True)
    return tmp_path / "work" / "notebook"


@pytest.mark.parametrize(
    "out",
    [
        ".",
        "..",
        "../..",
        "lessons",
        "lessons/new",
        "clips/swing",
        "pages/site",
        "themes/mine",
        "build",
        "build/cache",
        "build/cache/site",
        "lessons/../clips",
    ],
)
def test_the_site_and_its_own_folders_are_no_place_for_the_output(root: Path, out: str) -> None:
    with pytest.raises(UsageError, match=r"holds it|site's own"):
        check_output_folder(root / out, root)


@pytest.mark.parametrize("out", ["build/site", "build/site/en", "public", "../site", "lessons-online"])
def test_these_are(root: Path, out: str) -> None:
    check_output_folder(root / out, root)


def test_a_link_to_the_lessons_is_no_place_either(root: Path) -> None:
    (root / "online").symlink_to(root / "lessons")
    with pytest.raises(UsageError, match="site's own lessons"):
        check_output_folder(root / "online", root)


def test_a_place_that_cannot_be_is_reported_before_any_work(root: Path) -> None:
    (root / "file").write_text("x")
    (root / "circle").symlink_to(root / "circle")
    for out in ("file/site", "file/a/b", "n" * 300, "circle/site", "m" * 240):
        with pytest.raises(UsageError):
            check_output_folder(root / out, root)
            with only_press(root / out):
                pass
    assert sorted(path.name for path in root.iterdir()) == ["circle", "clips", "file", "lessons", "pages"]


@pytest.mark.parametrize("number", [errno.EACCES, errno.EROFS, errno.EPERM])
def test_a_place_that_may_not_be_written_is_reported(
    root: Path, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    def refused(*_given: object, **_named: object) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(Path, "open", refused)
    with pytest.raises(UsageError, match=os.strerror(number)), only_press(root / "build" / "site"):
        pass
    assert not (root / "build").exists()


def test_folders_made_for_nothing_go_again(tmp_path: Path) -> None:
    with only_press(tmp_path / "a" / "b" / "site"):
        pass
    assert list(tmp_path.iterdir()) == []


_HOLD = """
import sys
from pathlib import Path
from lessonpress.press.output import only_press
with only_press(Path(sys.argv[1])):
    print("held", flush=True)
    sys.stdin.read()
"""


def test_a_second_press_of_a_folder_hears_of_the_first_until_that_is_killed(tmp_path: Path) -> None:
    site = tmp_path / "site"
    words = [sys.executable, "-c", _HOLD, str(site)]
    with subprocess.Popen(words, stdin=subprocess.PIPE, stdout=subprocess.PIPE) as first:
        assert first.stdout is not None and first.stdout.readline().strip() == b"held"
        with pytest.raises(UsageError, match=rf"another press \(process {first.pid}\)"), only_press(site):
            pass
        first.kill()
        first.wait()
    with only_press(site):
        pass
    assert list(tmp_path.iterdir()) == []


def test_a_lock_taken_away_between_opening_and_locking_is_taken_anew(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    place, real, times = tmp_path / "lock", lock.lock, []

    def raced(file: object) -> bool:
        times.append(file)
        if len(times) == 1:
            place.unlink()  # as the holder before does when it ends
        return real(file)  # type: ignore[arg-type]

    monkeypatch.setattr(lock, "lock", raced)
    with lock.hold_lock(place, "second"):
        assert place.read_text(encoding="utf-8") == "second\n"
        with pytest.raises(lock.LockedError), lock.hold_lock(place, "third"):
            pass
    assert len(times) == 3


def test_a_pipe_called_like_the_receipt_is_none(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / NAME)
    with pytest.raises(UsageError, match="left alone"):
        check_content(tmp_path)


@pytest.mark.parametrize("name", ["file/site", "x" * 250, "x" * 300, "y" * 300 + "/a", "a/" * 2000, "a\0b"])
def test_a_folder_that_cannot_be_made_is_refused_first(tmp_path: Path, name: str) -> None:
    (tmp_path / "file").write_text("x")
    root = tmp_path / "notebook"
    with pytest.raises(UsageError):
        check_output_folder(tmp_path / name, root)
        with only_press(tmp_path / name):
            pass
