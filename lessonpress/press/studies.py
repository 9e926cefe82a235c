"""What playing each clip teaches, kept while its video and the marks that mask its golfer stay."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from pathlib import Path

from lessonpress.figures import handheld_of
from lessonpress.footage import ClipIndex, FootageError, Handheld, Study, study_video
from lessonpress.manuscript import Clip
from lessonpress.press.cache import Cache, CacheEntry, Key
from lessonpress.press.parallel import executor_for, run_parallel
from lessonpress.press.progress import Progress
from lessonpress.records import Problems


@dataclass(frozen=True)
class _Job:
    clip: str
    video: Path
    index: ClipIndex
    deinterlace: bool
    handheld: Handheld | None
    entry: CacheEntry


def studies_of(
    clips: Collection[Clip],
    indexes: Mapping[str, ClipIndex],
    cache: Cache,
    progress: Progress,
    problems: Problems,
) -> dict[str, Study]:
    """Clip → study, for the clips that have an index. Raises OSError where the cache cannot be written."""
    studies: dict[str, Study] = {}
    unplayed: list[_Job] = []
    cards = {clip.name: clip.card for clip in clips if clip.card is not None}
    for clip in clips:
        job = _job(clip, indexes, cache)
        if job is None:
            continue
        kept = _kept(job.entry)
        if kept is None:
            unplayed.append(job)
        else:
            studies[clip.name] = kept
    if unplayed:
        unplayed.sort(key=_size, reverse=True)
        progress.begin("playing videos", len(unplayed))
        with executor_for(len(unplayed)) as executor:
            for job, future in run_parallel(_study, unplayed, executor):
                progress.step()
                try:
                    studies[job.clip] = future.result()
                except FootageError as fault:
                    problems.error(cards[job.clip].location_of("video"), fault.reason, fault.way_out)
                    continue
                job.entry.keep(studies[job.clip].to_json().encode())
    return studies


def _job(clip: Clip, indexes: Mapping[str, ClipIndex], cache: Cache) -> _Job | None:
    if clip.card is None or clip.video is None or clip.name not in indexes:
        return None
    index = indexes[clip.name]
    moving = handheld_of(clip, len(index))
    masked: Key = None
    if moving is not None:
        marked = [(frame, [tuple(point) for point in moving.masks[frame]]) for frame in sorted(moving.masks)]
        masked = (moving.reference, marked)
    key = (index.fingerprint, clip.card.deinterlace, masked)
    entry = cache.entry("studies", key)
    return _Job(clip.name, clip.video, index, clip.card.deinterlace, moving, entry)


def _size(job: _Job) -> tuple[bool, int]:
    """How long a job takes against others: a camera's motion takes several times what else is looked for."""
    return job.handheld is not None, len(job.index)


def _kept(entry: CacheEntry) -> Study | None:
    """The study kept there; one that is not of today's form is as good as none."""
    kept = entry.kept()
    try:
        return None if kept is None else Study.from_json(kept.decode())
    except (ValueError, KeyError, TypeError):
        return None


def _study(job: _Job) -> Study:
    return study_video(job.video, job.index, deinterlace=job.deinterlace, handheld=job.handheld)
