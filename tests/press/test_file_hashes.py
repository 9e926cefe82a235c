"""Content decides which file it is; size and time only save the hashing, and only where they are safe."""

from __future__ import annotations

import hashlib
import os
import sys
import time
from pathlib import Path

import pytest

from lessonpress.press import file_hashes
from lessonpress.press.cache import Cache
from lessonpress.press.file_hashes import FileHashes


def _sha256(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


def fingerprint_of(video: Path, cache: Cache) -> str:
    """As a press finds it, and keeps it for the next."""
    kept = FileHashes.kept(cache)
    found = kept.hash_of(video.name, video, video.stat())
    kept.keep(cache)
    return found


@pytest.fixture
def video(tmp_path: Path) -> Path:
    path = tmp_path / "swing.mp4"
    path.write_bytes(b"first film")
    return path


@pytest.fixture
def later(monkeypatch: pytest.MonkeyPatch) -> None:
    """A clock an hour ahead of the disk's, by which files written now are at rest."""
    now = time.time_ns
    monkeypatch.setattr(file_hashes.time, "time_ns", lambda: now() + 3600 * 10**9)


def test_a_video_written_over_at_its_size_and_time_is_another(
    tmp_path: Path, video: Path, later: None
) -> None:
    cache, found = Cache(tmp_path / "cache"), video.stat()
    assert fingerprint_of(video, cache) == _sha256(b"first film")
    video.write_bytes(b"other film")
    os.utime(video, ns=(found.st_atime_ns, found.st_mtime_ns))
    assert video.stat().st_size == found.st_size and video.stat().st_mtime_ns == found.st_mtime_ns
    assert fingerprint_of(video, cache) == _sha256(b"other film")


@pytest.mark.skipif(sys.platform == "win32", reason="every file is hashed there")
def test_a_video_at_rest_is_hashed_once(
    tmp_path: Path, video: Path, later: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    cache = Cache(tmp_path / "cache")
    first = fingerprint_of(video, cache)
    monkeypatch.setattr(file_hashes, "file_digest", None)  # hashing again would fail
    assert fingerprint_of(video, cache) == first


def test_a_video_changed_just_before_it_was_hashed_is_hashed_again(tmp_path: Path, video: Path) -> None:
    """Git's documentation, racy-git: a change in the same tick of the clock hides itself."""
    cache = Cache(tmp_path / "cache")
    fingerprint_of(video, cache)
    assert FileHashes.kept(cache).known == {}


def test_a_time_in_the_future_is_not_trusted(tmp_path: Path, video: Path, later: None) -> None:
    cache = Cache(tmp_path / "cache")
    ahead = time.time_ns() + 3600 * 10**9
    os.utime(video, ns=(ahead, ahead))
    fingerprint_of(video, cache)
    assert FileHashes.kept(cache).known == {}


def test_a_touched_video_is_the_same(tmp_path: Path, video: Path, later: None) -> None:
    cache = Cache(tmp_path / "cache")
    first = fingerprint_of(video, cache)
    video.touch()
    assert fingerprint_of(video, cache) == first
