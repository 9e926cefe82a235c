"""One damaged film: each picture that the program shows, held against a plain decode from the start.

The plain decode is FFmpeg's by PyAV, as it comes, twice: every picture let go at once, and every picture
kept, so that the decoder works in other memory. A picture counts as the same where either shows it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import av
import numpy as np
from av.video.frame import VideoFrame
from numpy.typing import NDArray

from lessonpress.footage.video.colour import Developer
from lessonpress.footage.video.failure import FootageError
from lessonpress.footage.video.index import ClipIndex, read_index
from lessonpress.footage.video.pictures import take_pictures

Picture = NDArray[np.uint8]


@dataclass(frozen=True)
class Held:
    """refused: why the whole film was, "" where it was read. left_out: frames that are not shown.

    other: frames shown with another picture than both plain decodes show, or with one that neither has.
    unsure: frames shown of which the two plain decodes do not show the same.
    """

    refused: str = ""
    left_out: int = 0
    other: tuple[int, ...] = ()
    unsure: tuple[int, ...] = ()


def held(path: Path) -> Held:
    """Each frame is asked for by itself, so that each is jumped to."""
    try:
        index = read_index(path)
    except FootageError as fault:
        return Held(str(fault))
    handed = {number: picture for number in index.intact() for picture in _taken(path, index, number)}
    loose, kept = _plain(path, index, keep=False), _plain(path, index, keep=True)
    stamps = {number: index.pts[number] for number in handed}
    other = [
        number
        for number, picture in handed.items()
        if not any(np.array_equal(picture, one.get(stamps[number])) for one in (loose, kept))
    ]
    unsure = [
        number
        for number, stamp in stamps.items()
        if not np.array_equal(loose.get(stamp, 0), kept.get(stamp, 0))
    ]
    return Held("", len(index) - len(handed), tuple(other), tuple(unsure))


def _taken(path: Path, index: ClipIndex, number: int) -> list[Picture]:
    try:
        return [picture for _, picture in take_pictures(path, index, [number])]
    except FootageError:
        return []


def _plain(path: Path, index: ClipIndex, *, keep: bool) -> Mapping[int | None, Picture]:
    """The pictures by their timestamps."""
    pictures: dict[int | None, Picture] = {}
    frames: list[VideoFrame] = []
    with av.open(str(path)) as container:
        container.streams.video[0].thread_count = 1
        for packet in container.demux(video=0):
            try:
                shown = packet.decode()
            except av.FFmpegError:
                continue
            for frame in shown:
                pictures[frame.pts] = index.upright.picture(Developer().rgb(frame))
            frames += shown if keep else []
    return pictures
