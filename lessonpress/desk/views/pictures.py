"""The exact pictures of a clip by frame number, lossless, and thumbnails; kept in the cache.

A frame that is asked for is decoded together with its neighbours: what is before it since the last key
frame has to be decoded anyway, and what comes after is what an author steps to next.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Iterable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from lessonpress.desk.http.responses import RequestError
from lessonpress.footage import ClipIndex, FootageError, take_pictures
from lessonpress.press import Cache, CacheEntry

AHEAD = 10  # frames decoded after the one asked for
BEHIND = 5
THUMBNAIL = 96  # px high
RUN = 8  # a whole clip's thumbnails are made in runs of so many, each written when it is taken


@dataclass(frozen=True)
class Roll:
    """A clip's video. deinterlace: the card's word."""

    video: Path
    index: ClipIndex
    deinterlace: bool

    @property
    def name(self) -> str:
        """What its pictures' addresses carry, so that another video's are never taken for them."""
        return self.index.fingerprint[:12] + ("-d" if self.deinterlace else "")


@dataclass
class Pictures:
    """One thread decodes ahead; a request that is not kept yet is decoded where it is asked."""

    cache: Cache
    waited: int = 0  # pictures that somebody had to wait for, since the desk opened
    _ahead: ThreadPoolExecutor = field(default_factory=lambda: ThreadPoolExecutor(1, "pictures ahead"))

    def picture(self, roll: Roll, frame: int) -> bytes:
        """The frame as lossless WebP. Raises RequestError for one that is not there."""
        _check(roll, frame)
        entry = self._entry(roll, frame)
        kept = entry.kept()
        if kept is None:
            self.waited += 1
            self._make(roll, [frame])
        self._ahead.submit(self._neighbours, roll, frame)
        return kept or entry.content()

    def thumbnail(self, roll: Roll, frame: int) -> bytes:
        """The frame as a small WebP."""
        _check(roll, frame)
        entry = self._thumbnail_entry(roll, frame)
        kept = entry.kept()
        if kept is None:
            self._make(roll, [frame], self._keep_thumbnail)
        return kept or entry.content()

    def thumbnails_ahead(self, roll: Roll) -> None:
        """Makes those of the whole clip, in one pass, without anyone waiting."""
        self._ahead.submit(self._all_thumbnails, roll)

    def settle(self) -> None:
        """Waits until all that was to be decoded ahead is."""
        self._ahead.submit(lambda: None).result()

    def close(self) -> None:
        self._ahead.shutdown(wait=False, cancel_futures=True)

    def _all_thumbnails(self, roll: Roll) -> None:
        intact = roll.index.intact(deinterlace=roll.deinterlace)
        missing = [n for n in intact if not self._thumbnail_entry(roll, n).stands()]
        for start in range(0, len(missing), RUN):
            self._make(roll, missing[start : start + RUN], self._keep_thumbnail)

    def _neighbours(self, roll: Roll, frame: int) -> None:
        intact = roll.index.intact(deinterlace=roll.deinterlace)
        wanted = [number for number in intact if frame - BEHIND <= number <= frame + AHEAD]
        missing = [number for number in wanted if not self._entry(roll, number).stands()]
        if missing:
            self._make(roll, missing)

    def _make(
        self,
        roll: Roll,
        frames: Iterable[int],
        keep: Callable[[Roll, int, NDArray[np.uint8]], None] | None = None,
    ) -> None:
        """Decodes the frames in one pass and keeps them. Raises RequestError for a damaged video."""
        keep = keep or self._keep
        try:
            for number, pixels in take_pictures(
                roll.video, roll.index, set(frames), deinterlace=roll.deinterlace
            ):
                keep(roll, number, pixels)
        except FootageError as error:
            raise RequestError(422, error.reason, error.way_out) from error

    def _keep(self, roll: Roll, frame: int, pixels: NDArray[np.uint8]) -> None:
        entry = self._entry(roll, frame)
        if entry.kept() is None:
            entry.keep(_webp(Image.fromarray(pixels), lossless=True, quality=0, method=0))

    def _keep_thumbnail(self, roll: Roll, frame: int, pixels: NDArray[np.uint8]) -> None:
        file_passage = Image.fromarray(pixels)
        size = (max(1, round(file_passage.width * THUMBNAIL / file_passage.height)), THUMBNAIL)
        small = file_passage.resize(size, Image.Resampling.LANCZOS, reducing_gap=2.0)
        self._thumbnail_entry(roll, frame).keep(_webp(small, quality=80, method=2))

    def _entry(self, roll: Roll, frame: int) -> CacheEntry:
        return self.cache.entry("desk-pictures", (roll.index.fingerprint, roll.deinterlace, frame))

    def _thumbnail_entry(self, roll: Roll, frame: int) -> CacheEntry:
        made_from = (roll.index.fingerprint, roll.deinterlace, frame, THUMBNAIL)
        return self.cache.entry("desk-thumbnails", made_from)


def _webp(picture: Image.Image, **options: object) -> bytes:
    written = io.BytesIO()
    picture.save(written, "WEBP", **options)
    return written.getvalue()


def _check(roll: Roll, frame: int) -> None:
    if not 0 <= frame < len(roll.index):
        raise RequestError(404, f"there is no frame {frame}", f"frames run from 0 to {len(roll.index) - 1}")
