"""The index of each clip a site uses: read from the video once, and kept while its size and time stay."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from concurrent.futures import Future
from dataclasses import dataclass
from pathlib import Path

from lessonpress.footage.failure import FootageError
from lessonpress.footage.index import ClipIndex, read_index
from lessonpress.manuscript.clip import Clip
from lessonpress.press.cache import Cache
from lessonpress.press.progress import Progress
from lessonpress.press.spread import executor_for, spread
from lessonpress.records.problem import Problems


@dataclass(frozen=True)
class _Unread:
    """A video whose index is not kept yet; place: where it will be."""

    clip: str
    video: Path
    place: Path


def indexes_of(
    clips: Collection[Clip], cache: Cache, progress: Progress, problems: Problems
) -> dict[str, ClipIndex]:
    """Clip → index of its video. A video that cannot be read is left out and told as an error at its card.

    Raises OSError where the cache cannot be written.
    """
    found: dict[str, ClipIndex] = {}
    unread: list[_Unread] = []
    cards = {clip.name: clip.card for clip in clips if clip.card is not None}
    for name, video in _videos(clips):
        place = _place(video, cache)
        kept = _kept(place)
        if kept is None:
            unread.append(_Unread(name, video, place))
        else:
            found[name] = kept
    for name, index in _read(unread, cache, progress):
        if isinstance(index, FootageError):
            problems.error(cards[name].place_of("video"), index.reason, index.way_out)
        else:
            found[name] = index
    return found


def _videos(clips: Iterable[Clip]) -> Iterator[tuple[str, Path]]:
    """Clip and video of those whose video is there; where card or video is missing, reading has told it."""
    for clip in clips:
        if clip.video is not None and clip.video.is_file():
            yield clip.name, clip.video


def _place(video: Path, cache: Cache) -> Path:
    state = video.stat()
    return cache.place("indexes", (str(video.resolve()), state.st_size, state.st_mtime_ns), ".json")


def _kept(place: Path) -> ClipIndex | None:
    """The index kept there; one that cannot be read is as good as none."""
    try:
        return ClipIndex.from_json(place.read_text(encoding="utf-8"))
    except (OSError, ValueError, KeyError, TypeError):
        return None


def _read(
    unread: list[_Unread], cache: Cache, progress: Progress
) -> Iterator[tuple[str, ClipIndex | FootageError]]:
    if not unread:
        return
    progress.begin("reading videos", len(unread))
    with executor_for(len(unread)) as executor:
        for job, future in spread(_index, unread, executor):
            progress.step()
            index = _opened(future)
            if isinstance(index, ClipIndex):
                cache.keep(job.place, index.to_json().encode())
            yield job.clip, index


def _index(job: _Unread) -> ClipIndex:
    return read_index(job.video)


def _opened(future: Future[ClipIndex]) -> ClipIndex | FootageError:
    try:
        return future.result()
    except FootageError as error:
        return error
