"""Makes the published pictures of a clip: taken, obscured, cropped, and written as WebP into the cache.

A picture is kept by what it was made from: the video's fingerprint, the frame, the crop, the blurred discs,
the width and the quality. Only those that are not kept yet are made, all of a clip in one pass.
"""

from __future__ import annotations

import io
from bisect import bisect
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import groupby
from pathlib import Path

from PIL import Image

from lessonpress.figures import BoundSite
from lessonpress.footage import CELLS, ClipIndex, FootageError, obscured, take_pictures
from lessonpress.manuscript import Clip
from lessonpress.pages import Picture, Shot, WantedShot, wanted_shots
from lessonpress.press.cache import Cache, CacheEntry
from lessonpress.press.parallel import executor_for, run_parallel
from lessonpress.press.progress import Progress
from lessonpress.records import Location, Point, Problems

QUALITY = (
    75  # of WebP; tried by eye on drawn footage, enlarged twice: lines stay clean, a phone's plate is 35 kB
)
METHOD = 2  # how long the encoder searches, 0 to 6: see DEVELOPERS.md for what others give


_PART = 16  # files that take as long to make as all that a process has to begin with


@dataclass(frozen=True)
class SizedShot:
    """A shot at one width. obscured: discs' centres and radii, px of the whole picture; entry: its file."""

    shot: Shot
    obscured: tuple[tuple[Point, float], ...]
    width: int
    height: int
    entry: CacheEntry

    @property
    def href(self) -> str:
        """Its path in the pressed site. The hash in it lets a host let browsers keep it for good."""
        return f"pictures/{self.shot.clip}/{self.shot.frame}-{self.entry.name[:10]}-{self.width}.webp"

    @property
    def picture(self) -> Picture:
        return Picture(self.href, self.width, self.height)


@dataclass(frozen=True)
class ClipJob:
    """Sized shots of one clip, made in one pass of its video. card_location: where its card names it."""

    card_location: Location
    video: Path
    index: ClipIndex
    deinterlace: bool
    sized_shots: tuple[SizedShot, ...]

    def unmade(self) -> ClipJob:
        """The same job with only the sized shots that the cache does not hold, or holds spoiled."""
        missing = tuple(sized for sized in self.sized_shots if sized.entry.kept() is None)
        return replace(self, sized_shots=missing)

    def parts(self) -> Iterator[ClipJob]:
        """The same job as several that play a part of the video each, for processes that would be idle.

        They begin at key frames, so that no picture is decoded twice.
        """
        part: list[SizedShot] = []
        for _, run in groupby(
            self._in_order, key=lambda sized: bisect(self.index.key_frames, sized.shot.frame)
        ):
            part += run
            if len(part) >= _PART:
                yield replace(self, sized_shots=tuple(part))
                part = []
        if part:
            yield replace(self, sized_shots=tuple(part))

    @property
    def _in_order(self) -> list[SizedShot]:
        return sorted(self.sized_shots, key=lambda sized: sized.shot.frame)


def sized_shots(want: WantedShot, index: ClipIndex, deinterlace: bool, cache: Cache) -> tuple[SizedShot, ...]:
    """The shot at each width wanted, narrowest first."""
    shot = want.shot
    left, top, right, bottom = shot.crop
    made_from = (
        index.fingerprint,
        shot.frame,
        shot.crop,
        want.obscured,
        deinterlace,
        QUALITY,
        METHOD,
        CELLS,
    )
    return tuple(
        SizedShot(
            shot,
            want.obscured,
            width,
            max(1, round(width * (bottom - top) / (right - left))),
            cache.entry("pictures", (*made_from, width)),
        )
        for width in sorted(want.widths)
    )


def pictures_of(
    bound: BoundSite,
    indexes: Mapping[str, ClipIndex],
    cache: Cache,
    progress: Progress,
    problems: Problems,
) -> tuple[SizedShot, ...]:
    """Every sized shot that the pages want, made where it is not kept yet; in a fixed order.

    A video that fails is reported as an error at its card. Raises OSError where the disk fails.
    """
    every: list[SizedShot] = []
    jobs: list[ClipJob] = []
    for clip, wants in _by_clip(bound):
        job = _job(clip, wants, indexes[clip.name], cache)
        every += job.sized_shots
        jobs.append(job.unmade())
    unmade = [part for job in jobs for part in job.parts()]
    unmade.sort(key=lambda job: len(job.sized_shots), reverse=True)
    if unmade:
        progress.begin("taking pictures", sum(len(job.sized_shots) for job in unmade))
    with executor_for(len(unmade)) as executor:
        for job, future in run_parallel(make, unmade, executor):
            try:
                progress.step(future.result())
            except FootageError as error:
                problems.error(job.card_location, error.reason, error.way_out)
    return tuple(every)


def _by_clip(bound: BoundSite) -> Iterator[tuple[Clip, list[WantedShot]]]:
    wants: dict[str, list[WantedShot]] = {}
    for want in wanted_shots(bound):
        wants.setdefault(want.shot.clip, []).append(want)
    return ((bound.site.clips[name], shots) for name, shots in wants.items())


def _job(clip: Clip, wants: Iterable[WantedShot], index: ClipIndex, cache: Cache) -> ClipJob:
    """All sized shots of a clip, whether they are kept already or not."""
    assert clip.card is not None and clip.video is not None  # a clip without a card binds to no panel
    deinterlace = clip.card.deinterlace
    every = tuple(sized for want in wants for sized in sized_shots(want, index, deinterlace, cache))
    return ClipJob(clip.card.location_of("video"), clip.video, index, deinterlace, every)


def make(job: ClipJob) -> int:
    """Makes the job's pictures and returns how many. Raises FootageError, or OSError from the disk."""
    by_frame: dict[int, list[SizedShot]] = {}
    for sized in job.sized_shots:
        by_frame.setdefault(sized.shot.frame, []).append(sized)
    for frame, pixels in take_pictures(job.video, job.index, by_frame, deinterlace=job.deinterlace):
        whole = Image.fromarray(pixels)
        for sized in by_frame[frame]:
            sized.entry.keep(printed(whole, sized))
    return len(job.sized_shots)


def printed(whole: Image.Image, sized: SizedShot) -> bytes:
    """The WebP of a sized shot, cut from the whole picture with the crop's fractions of a pixel kept."""
    seen = obscured(whole, sized.obscured)
    size = (sized.width, sized.height)
    cut = seen.resize(size, Image.Resampling.LANCZOS, box=sized.shot.crop)
    written = io.BytesIO()
    cut.save(written, "WEBP", quality=QUALITY, method=METHOD)
    return written.getvalue()
