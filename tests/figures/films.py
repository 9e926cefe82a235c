"""Indexes of clips that need no film: for tests of what is bound, not of what is decoded."""

from __future__ import annotations

from fractions import Fraction

from lessonpress.footage.video.index import ClipIndex


def index_of(
    count: int, size: tuple[int, int], rate: int = 30, start_timecode: str | None = None
) -> ClipIndex:
    """The index of an even clip of `count` upright, square-pixelled pictures."""
    return ClipIndex(
        times=tuple(frame / rate for frame in range(count)),
        size=size,
        rotation=0,
        mirrored=False,
        pixel_aspect=Fraction(1),
        rate=Fraction(rate),
        start_timecode=start_timecode,
        codec="h264",
        fingerprint="9f2c" + "0" * 60,
        key_frames=(0,),
        interlaced=False,
        duration=count / rate,
        start=0.0,
        file_size=1,
        time_base=Fraction(1, rate),
        pts=tuple(range(count)),
        sums=(),
        damaged=(),
    )
