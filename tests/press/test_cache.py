"""The cache holds whole entries only, and is safe to delete."""

from __future__ import annotations

import errno
from pathlib import Path

import pytest

from lessonpress.press.cache import Cache


def test_an_entry_is_found_by_what_it_was_made_from(tmp_path: Path) -> None:
    cache = Cache(tmp_path / "cache")
    place = cache.place("pictures", ("print", 3, 0.5, (1.0, 2.0)), ".webp")
    assert not place.exists()
    cache.keep(place, b"made")
    assert cache.place("pictures", ("print", 3, 0.5, (1.0, 2.0)), ".webp").read_bytes() == b"made"
    assert not cache.place("pictures", ("print", 3, 0.5, (1.0, 2.5)), ".webp").exists()


def test_an_entry_that_cannot_be_written_leaves_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    cache = Cache(tmp_path)
    place = cache.place("pictures", "key", ".webp")

    def half(path: Path, content: bytes) -> int:
        with path.open("wb") as file:
            file.write(content[:2])
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(Path, "write_bytes", half)
    with pytest.raises(OSError, match="No space"):
        cache.keep(place, b"content")
    assert list(place.parent.iterdir()) == []


def test_backups_pass_the_cache_over(tmp_path: Path) -> None:
    """Cache Directory Tagging Specification, bford.info/cachedir: the first 43 bytes of CACHEDIR.TAG."""
    cache = Cache(tmp_path)
    cache.keep(cache.place("indexes", 1, ".json"), b"{}")
    tag = (tmp_path / "CACHEDIR.TAG").read_bytes()
    assert tag[:43] == b"Signature: 8a477f597d28d172789f06886806bc55"
