"""The exact pictures of a clip by frame number, and thumbnails.

What an author steps through is sent as a stretch: pictures one after another as they are decoded, in one pass
and not encoded again, since writing a picture without loss takes five times what decoding it takes. A single
picture is written as WebP and kept in the cache, as thumbnails are.
"""

from __future__ import annotations

import io
import math
import struct
import threading
import time
from collections.abc import Iterable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path

import cv2
import numpy as np
from numpy.typing import NDArray
from PIL import Image

from lessonpress.desk.http.responses import RequestError
from lessonpress.footage import ClipIndex, FootageError, take_pictures
from lessonpress.press import Cache, CacheEntry

THUMBNAIL = 96  # px high
NUMBER = struct.Struct("<I")  # of a frame, before its picture in a stretch
YIELD = 0.5  # s that thumbnails wait at most for a stretch that is read, at each of their pictures
READ = 0.15  # s after its last picture was read that a stretch only stands open
POLL = 0.02  # s


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
    """One thread makes thumbnails, and lets the pictures that an author steps through go first."""

    cache: Cache
    sent: int = 0  # pictures of stretches, since the desk opened
    _behind: ThreadPoolExecutor = field(default_factory=lambda: ThreadPoolExecutor(1, "thumbnails"))
    _thumbnails: dict[str, Future[None]] = field(default_factory=dict)  # by the roll's name
    _read: float = -math.inf  # when a picture of a stretch was last read, of a clock that only goes on
    _change: threading.Condition = field(default_factory=threading.Condition)

    def stretch(self, roll: Roll, first: int, last: int) -> Iterator[bytes]:
        """The intact frames from `first` to `last`: of each its number and its RGBA pixels, row by row.

        Raises RequestError for frames that are not there, and for a damaged video.
        """
        _check(roll, first)
        _check(roll, last)
        wanted = {one for one in roll.index.intact(deinterlace=roll.deinterlace) if first <= one <= last}
        self._read = time.monotonic()
        for number, pixels in _taken(roll, wanted):
            self.sent += 1
            yield NUMBER.pack(number) + cv2.cvtColor(pixels, cv2.COLOR_RGB2RGBA).tobytes()
            self._read = time.monotonic()

    def picture(self, roll: Roll, frame: int) -> bytes:
        """The frame as lossless WebP. Raises RequestError for one that is not there."""
        _check(roll, frame)
        entry = self.cache.entry("desk-pictures", (roll.index.fingerprint, roll.deinterlace, frame))
        kept = entry.kept()
        if kept is None:
            for _, pixels in _taken(roll, [frame]):
                entry.keep(_webp(Image.fromarray(pixels), lossless=True, quality=0, method=0))
        return kept or entry.content()

    def thumbnail(self, roll: Roll, frame: int) -> bytes:
        """The frame as a small WebP, waited for where the clip's are being made."""
        _check(roll, frame)
        entry = self._thumbnail_entry(roll, frame)
        making = self._thumbnails.get(roll.name)
        with self._change:
            self._change.wait_for(lambda: entry.stands() or making is None or making.done())
        kept = entry.kept()
        if kept is None:
            for _, pixels in _taken(roll, [frame]):
                entry.keep(_small(pixels))
        return kept or entry.content()

    def thumbnails_ahead(self, roll: Roll) -> None:
        """Makes those of the whole clip, in one pass, without anyone waiting."""
        made = self._thumbnails.get(roll.name)
        if made is None or (made.done() and made.exception() is not None):
            made = self._thumbnails[roll.name] = self._behind.submit(self._all_thumbnails, roll)
            made.add_done_callback(lambda _: self._tell())

    def settle(self) -> None:
        """Waits until all that was to be made beforehand is."""
        self._behind.submit(lambda: None).result()

    def close(self) -> None:
        self._behind.shutdown(wait=False, cancel_futures=True)

    def _tell(self) -> None:
        with self._change:
            self._change.notify_all()

    def _all_thumbnails(self, roll: Roll) -> None:
        intact = roll.index.intact(deinterlace=roll.deinterlace)
        missing = [n for n in intact if not self._thumbnail_entry(roll, n).stands()]
        for number, pixels in _taken(roll, missing):
            self._thumbnail_entry(roll, number).keep(_small(pixels))
            self._tell()
            self._let_go_first()

    def _let_go_first(self) -> None:
        """Waits while a stretch is read, but not for ever."""
        until = time.monotonic() + YIELD
        while time.monotonic() < min(until, self._read + READ):
            time.sleep(POLL)

    def _thumbnail_entry(self, roll: Roll, frame: int) -> CacheEntry:
        made_from = (roll.index.fingerprint, roll.deinterlace, frame, THUMBNAIL)
        return self.cache.entry("desk-thumbnails", made_from)


def _taken(roll: Roll, frames: Iterable[int]) -> Iterator[tuple[int, NDArray[np.uint8]]]:
    """The frames, decoded in one pass. Raises RequestError for a damaged video."""
    try:
        yield from take_pictures(roll.video, roll.index, set(frames), deinterlace=roll.deinterlace)
    except FootageError as error:
        raise RequestError(422, error.reason, error.way_out) from error


def _small(pixels: NDArray[np.uint8]) -> bytes:
    picture = Image.fromarray(pixels)
    size = (max(1, round(picture.width * THUMBNAIL / picture.height)), THUMBNAIL)
    return _webp(picture.resize(size, Image.Resampling.LANCZOS, reducing_gap=2.0), quality=80, method=2)


def _webp(picture: Image.Image, **options: object) -> bytes:
    written = io.BytesIO()
    picture.save(written, "WEBP", **options)
    return written.getvalue()


def _check(roll: Roll, frame: int) -> None:
    if not 0 <= frame < len(roll.index):
        raise RequestError(404, f"there is no frame {frame}", f"frames run from 0 to {len(roll.index) - 1}")
