"""The cache believes only what proves itself, holds whole entries, and is safe to delete."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from lessonpress.press.cache import Cache, CacheEntry


def test_an_entry_is_found_by_what_it_was_made_from(tmp_path: Path) -> None:
    cache = Cache(tmp_path / "cache")
    entry = cache.entry("pictures", ("print", 3, 0.5, (1.0, 2.0)))
    assert entry.kept() is None and not entry.stands()
    entry.keep(b"made")
    assert cache.entry("pictures", ("print", 3, 0.5, (1.0, 2.0))).kept() == b"made"
    assert cache.entry("pictures", ("print", 3, 0.5, (1.0, 2.5))).kept() is None
    assert cache.entry("diagrams", ("print", 3, 0.5, (1.0, 2.0))).kept() is None


def _flip(path: Path) -> None:
    content = bytearray(path.read_bytes())
    content[-1] ^= 1
    path.write_bytes(content)


def _copy_another(path: Path) -> None:
    other = Cache(path.parents[2]).entry(path.parents[1].name, "another key")
    other.keep(b"content")
    shutil.copyfile(other.path, path)


def _put_in_place(made: Callable[[Path], object]) -> Callable[[Path], None]:
    def put(path: Path) -> None:
        path.unlink()
        made(path)

    return put


def _folder(path: Path) -> None:
    path.mkdir()
    (path / "something").write_text("in it", encoding="utf-8")


def _shelf_elsewhere(path: Path) -> None:
    """The entries' folder as a link out of the cache."""
    elsewhere = path.parents[2].parent / "elsewhere"
    elsewhere.mkdir()
    shutil.rmtree(path.parent)
    path.parent.symlink_to(elsewhere)


DAMAGE: dict[str, Callable[[Path], object]] = {
    "one bit flipped": _flip,
    "cut in the content": lambda path: os.truncate(path, path.stat().st_size - 2),
    "cut in the head": lambda path: os.truncate(path, 20),
    "emptied": lambda path: os.truncate(path, 0),
    "lengthened": lambda path: path.write_bytes(path.read_bytes() + b"!"),
    "of an older form": lambda path: path.write_bytes(b"content"),
    "bytes of no form": lambda path: path.write_bytes(b"\xff \xff \xff\n"),
    "another entry's": _copy_another,
    "a folder": _put_in_place(_folder),
    "a link to what it held": _put_in_place(lambda path: path.symlink_to(path.with_name("held"))),
    "a link to nothing": _put_in_place(lambda path: path.symlink_to("nowhere")),
    "a pipe": _put_in_place(os.mkfifo),
    "a folder of it a file": lambda path: (shutil.rmtree(path.parent), path.parent.write_text("x")),
    "a folder of it a link out": _shelf_elsewhere,
}


@pytest.mark.parametrize("damage", DAMAGE.values(), ids=DAMAGE.keys())
def test_an_entry_that_was_damaged_is_none_and_heals(
    tmp_path: Path, damage: Callable[[Path], object]
) -> None:
    entry = Cache(tmp_path / "cache").entry("pictures", "key")
    entry.keep(b"content")
    shutil.copyfile(entry.path, entry.path.with_name("held"))
    damage(entry.path)
    assert entry.kept() is None
    with pytest.raises(OSError, match="ask again"):
        entry.content()
    entry.keep(b"content")
    assert entry.kept() == entry.content() == b"content"
    assert not (tmp_path / "elsewhere").exists() or not any((tmp_path / "elsewhere").iterdir())


def _litter(entry: CacheEntry) -> list[Path]:
    return [*(entry.cache / "unfinished").iterdir(), *entry.path.parent.iterdir()]


def test_an_entry_that_cannot_be_written_leaves_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    entry = Cache(tmp_path).entry("pictures", "key")

    def full(_aside: Path, _place: Path) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    with pytest.raises(OSError, match="No space"):
        entry.keep(b"content")
    assert _litter(entry) == []


def test_what_a_killed_press_left_half_written_is_cleared(tmp_path: Path) -> None:
    entry = Cache(tmp_path).entry("pictures", "key")
    entry.keep(b"content")
    (tmp_path / "unfinished" / ".name.0badcafe.saving").write_bytes(b"half")
    Cache(tmp_path).tidy()
    assert _litter(entry) == [entry.path]


def test_backups_pass_the_cache_over(tmp_path: Path) -> None:
    """Cache Directory Tagging Specification, bford.info/cachedir: the first 43 bytes of CACHEDIR.TAG."""
    Cache(tmp_path).entry("indexes", 1).keep(b"{}")
    tag = (tmp_path / "CACHEDIR.TAG").read_bytes()
    assert tag[:43] == b"Signature: 8a477f597d28d172789f06886806bc55"


def test_a_link_in_an_entrys_place_is_replaced_and_what_it_leads_to_is_left_alone(tmp_path: Path) -> None:
    """A cache may have come with a site, and a link in it may lead to any file of its owner's."""
    entry = Cache(tmp_path / "cache").entry("pictures", ("print", 3))
    entry.keep(b"made")
    other = tmp_path / "letters.txt"
    other.write_bytes(b"dear")
    entry.path.unlink()
    entry.path.symlink_to(other)
    entry.keep(b"made")
    assert other.read_bytes() == b"dear"
    assert not entry.path.is_symlink() and entry.kept() == b"made"
