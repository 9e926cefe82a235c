"""Makes the moving pictures of loops, with their overlays drawn into every frame, and keeps them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from io import BytesIO
from itertools import chain
from pathlib import Path

import numpy as np
from PIL import Image

from lessonpress.drawing import burned, plate_svg
from lessonpress.figures import BoundSite, Loop, Plate
from lessonpress.footage import MANNER, ClipIndex, FootageError, encoded_loop, obscured, take_pictures
from lessonpress.manuscript import Clip
from lessonpress.pages import LAID_OUT, film_size, loop_path
from lessonpress.press.cache import Cache, CacheEntry
from lessonpress.press.pictures import METHOD, QUALITY
from lessonpress.records import Location

_SCALING = Image.Resampling.BICUBIC  # most are made hardly smaller, where nothing finer shows in a film


@dataclass(frozen=True, eq=False)
class LoopJob:
    """One loop to be made. size: of its pictures, both sides even, as the codec needs them.

    card_location: where the card names the video. faults: why it could not be made.
    """

    lesson: str
    plate: Plate
    loop: Loop
    card_location: Location
    video: Path
    index: ClipIndex
    deinterlace: bool
    size: tuple[int, int]
    film: CacheEntry
    poster: CacheEntry
    faults: list[FootageError] = field(default_factory=list, compare=False)

    def path(self, suffix: str) -> str:
        """Where the page expects it; suffix: "mp4", or "webp" for its first picture."""
        return loop_path(self.lesson, self.plate.id, suffix)


def make_loops(bound: BoundSite, indexes: Mapping[str, ClipIndex], cache: Cache) -> list[LoopJob]:
    """Makes every loop that is not kept yet; why one failed is in the job's faults. Raises OSError."""
    jobs = [
        _job(lesson.lesson.folder, plate, plate.loop, bound, indexes, cache)
        for lesson in bound.lessons
        for plate in lesson.plates
        if plate.loop is not None
    ]
    for job in jobs:
        if job.film.kept() is None or job.poster.kept() is None:
            try:
                _make(job)
            except FootageError as fault:
                job.faults.append(fault)
    return jobs


def _job(
    lesson: str,
    plate: Plate,
    loop: Loop,
    bound: BoundSite,
    indexes: Mapping[str, ClipIndex],
    cache: Cache,
) -> LoopJob:
    first = loop.panels[0]
    clip: Clip = bound.site.clips[first.clip]
    assert clip.card is not None and clip.video is not None  # a clip without a card binds to no panel
    index = indexes[clip.name]
    size = film_size(first)
    drawn = [
        plate_svg(panel, float(LAID_OUT), ids_prefix="l", mirrored=panel.mirrored) for panel in loop.panels
    ]
    key = (
        index.fingerprint,
        clip.card.deinterlace,
        [panel.frame for panel in loop.panels],
        [panel.obscured for panel in loop.panels],
        loop.shown,
        first.crop,
        size,
        drawn,
        MANNER,
        int(_SCALING),
    )
    return LoopJob(
        lesson,
        plate,
        loop,
        clip.card.location_of("video"),
        clip.video,
        index,
        clip.card.deinterlace,
        size,
        cache.entry("loops", key),
        cache.entry("posters", [*key, QUALITY, METHOD]),
    )


def _make(job: LoopJob) -> None:
    pictures = _burned(job)
    first = next(pictures)
    every = (np.asarray(one) for one in chain([first], pictures))
    job.film.keep(encoded_loop(every, job.loop.shown, job.size))
    poster = BytesIO()
    first.save(poster, "WEBP", quality=QUALITY, method=METHOD)
    job.poster.keep(poster.getvalue())


def _burned(job: LoopJob) -> Iterator[Image.Image]:
    by_frame = {panel.frame: panel for panel in job.loop.panels}
    for frame, pixels in take_pictures(job.video, job.index, by_frame, deinterlace=job.deinterlace):
        panel = by_frame[frame]
        seen = obscured(Image.fromarray(pixels), panel.obscured)
        cut = seen.resize(job.size, _SCALING, box=panel.crop)
        yield burned(panel, cut, LAID_OUT)
