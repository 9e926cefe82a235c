"""The index of each clip a site uses: read from the video once, and kept by the video's content."""

from __future__ import annotations

import os
import stat
from collections.abc import Collection, Iterable, Iterator
from concurrent.futures import Future
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from lessonpress.footage import ClipIndex, FootageError, read_index
from lessonpress.manuscript import Clip
from lessonpress.press.cache import Cache, CacheEntry
from lessonpress.press.file_hashes import FileHashes
from lessonpress.press.parallel import executor_for, run_parallel
from lessonpress.press.progress import Progress
from lessonpress.records import Problems

_UNREADABLE = ("the video cannot be read: no permission", "let your account read the file")


@dataclass(frozen=True)
class _Unread:
    """A video whose index is not kept yet. fingerprint: of its content; entry: where the index will be."""

    clip: str
    video: Path
    fingerprint: str
    entry: CacheEntry


def indexes_of(
    clips: Collection[Clip], file_hashes: FileHashes, cache: Cache, progress: Progress, problems: Problems
) -> dict[str, ClipIndex]:
    """Clip → index of its video. A video that cannot be read is left out and reported at its card.

    file_hashes: where the hash of a video at rest is found. Raises OSError where the cache
    cannot be written.
    """
    made: dict[str, ClipIndex] = {}
    unread: list[_Unread] = []
    cards = {clip.name: clip.card for clip in clips if clip.card is not None}
    for name, video, state in _videos(clips):
        try:
            fingerprint = file_hashes.hash_of(f"clips/{name}/{video.name}", video, state)
        except PermissionError:
            problems.error(cards[name].location_of("video"), *_UNREADABLE)
            continue
        entry = cache.entry("indexes", fingerprint)
        kept = _kept(entry)
        if kept is None:
            unread.append(_Unread(name, video, fingerprint, entry))
        else:
            made[name] = kept
    for name, index in _read(unread, progress):
        if isinstance(index, FootageError):
            problems.error(cards[name].location_of("video"), index.reason, index.way_out)
        else:
            made[name] = index
    return made


def _videos(clips: Iterable[Clip]) -> Iterator[tuple[str, Path, os.stat_result]]:
    """Clip, video and its state of those whose video is there; reading has reported all others."""
    for clip in clips:
        with suppress(OSError):  # also for a name that no file can have
            if clip.video is not None and stat.S_ISREG((state := clip.video.stat()).st_mode):
                yield clip.name, clip.video, state


def _kept(entry: CacheEntry) -> ClipIndex | None:
    """The index kept there; one that is not of today's form is as good as none."""
    kept = entry.kept()
    try:
        return None if kept is None else ClipIndex.from_json(kept.decode())
    except (ValueError, KeyError, TypeError):
        return None


def _read(unread: list[_Unread], progress: Progress) -> Iterator[tuple[str, ClipIndex | FootageError]]:
    if not unread:
        return
    progress.begin("reading videos", len(unread))
    with executor_for(len(unread)) as executor:
        for job, future in run_parallel(_index, unread, executor):
            progress.step()
            index = _opened(future)
            if isinstance(index, ClipIndex):
                job.entry.keep(index.to_json().encode())
            yield job.clip, index


def _index(job: _Unread) -> ClipIndex:
    index = read_index(job.video)
    if index.fingerprint != job.fingerprint:
        raise FootageError(f"{job.video.name} was changed while it was read", "ask again when it is whole")
    return index


def _opened(future: Future[ClipIndex]) -> ClipIndex | FootageError:
    try:
        return future.result()
    except FootageError as error:
        return error
