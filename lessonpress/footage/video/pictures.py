"""The pictures of given frames, exactly: the same pixels as when the file is played from its beginning."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from pathlib import Path

import av
import numpy as np
from av.container import InputContainer
from av.video.frame import VideoFrame
from av.video.stream import VideoStream
from numpy.typing import NDArray

from lessonpress.footage.video.colour import Developer
from lessonpress.footage.video.failure import FootageError
from lessonpress.footage.video.fields import NEIGHBOURS, woven
from lessonpress.footage.video.index import ClipIndex
from lessonpress.footage.video.opening import EXPORT_AGAIN, opened
from lessonpress.footage.video.playing import check_sum, decoded

ANOTHER = f"choose another frame, or {EXPORT_AGAIN}"
WORTH_A_SEEK = 12  # pictures that must be saved before a jump is cheaper than decoding on


class _SeekError(Exception):
    """A jump into the file did not arrive at the pictures that the index lists."""


def take_pictures(
    path: Path, index: ClipIndex, frames: Collection[int], *, deinterlace: bool = False
) -> Iterator[tuple[int, NDArray[np.uint8]]]:
    """Yield (frame, picture) for the frames asked for, ascending, each once, in one pass through the file.

    picture: RGB uint8 (h, w, 3), upright and square-pixelled, (w, h) = index.size. deinterlace: the card's
    word that pictures hold two fields. Raises FootageError for frames that are not there, a file other than
    the indexed one, and damage.
    """
    developer, upright = Developer(), index.upright
    for number, frame in _wanted(path, index, frames, deinterlace):
        yield number, upright.picture(developer.rgb(frame))


def take_greys(
    path: Path, index: ClipIndex, frames: Collection[int], *, deinterlace: bool = False
) -> Iterator[tuple[int, NDArray[np.uint8]]]:
    """The same pictures without their colours, uint8 (h, w), for a tenth of what developing takes."""
    developer, upright = Developer(), index.upright
    for number, frame in _wanted(path, index, frames, deinterlace):
        yield number, upright.picture(developer.grey(frame))


def _wanted(
    path: Path, index: ClipIndex, frames: Collection[int], deinterlace: bool
) -> Iterator[tuple[int, VideoFrame]]:
    wanted = sorted(set(frames))
    _refuse_what_is_not_there(path, index, wanted)
    _refuse_the_damaged(path, index, wanted, deinterlace)
    return _frames(path, index, wanted, deinterlace)


def _refuse_what_is_not_there(path: Path, index: ClipIndex, wanted: list[int]) -> None:
    for number in wanted:
        if not 0 <= number < len(index):
            raise FootageError(
                f"{path.name} has no frame {number}", f"name a frame from 0 to {len(index) - 1}"
            )
    if path.is_file() and path.stat().st_size != index.file_size:
        raise FootageError(f"{path.name} has changed since it was indexed", "index it again")


def _refuse_the_damaged(path: Path, index: ClipIndex, wanted: list[int], deinterlace: bool) -> None:
    if not index.damaged:
        return
    damaged = sorted(set(wanted) - set(index.intact(deinterlace=deinterlace)))
    if damaged:
        raise FootageError(f"frame {damaged[0]} of {path.name} is damaged", ANOTHER)


def _frames(
    path: Path, index: ClipIndex, wanted: list[int], deinterlace: bool
) -> Iterator[tuple[int, VideoFrame]]:
    """The frames by jumps; from the first jump that goes astray on, by playing from the beginning."""
    left = list(wanted)
    try:
        for number, frame in _pass(path, index, left.copy(), deinterlace, jumping=bool(index.pts)):
            left.remove(number)
            yield number, frame
    except _SeekError:
        try:
            yield from _pass(path, index, left.copy(), deinterlace, jumping=False)
        except _SeekError as fault:
            raise FootageError(
                f"{path.name} does not show the pictures it was indexed with: it is damaged, or has changed",
                EXPORT_AGAIN,
            ) from fault


def _pass(
    path: Path, index: ClipIndex, wanted: list[int], deinterlace: bool, *, jumping: bool
) -> Iterator[tuple[int, VideoFrame]]:
    with opened(path) as (container, stream):
        try:
            for first, run in _runs(index, wanted, NEIGHBOURS if deinterlace else 0, jumping):
                numbered = _numbered(container, stream, index, first)
                yield from _chosen(stream, numbered, run, deinterlace)
        except av.FFmpegError as fault:
            raise FootageError(f"{path.name} is damaged: {fault.strerror}", EXPORT_AGAIN) from fault


def _runs(index: ClipIndex, wanted: list[int], before: int, jumping: bool) -> Iterator[tuple[int, list[int]]]:
    """The wanted frames as runs, each with the key frame to jump to (0: the beginning)."""
    run: list[int] = []
    first = 0
    for number in wanted:
        key = max((key for key in index.key_frames if key <= number - before), default=0) if jumping else 0
        reached = run[-1] if run else 0
        if key - reached > WORTH_A_SEEK:
            if run:
                yield first, run
            first, run = key, []
        run.append(number)
    if run:
        yield first, run


def _chosen(
    stream: VideoStream, numbered: Iterator[tuple[int, VideoFrame]], run: list[int], deinterlace: bool
) -> Iterator[tuple[int, VideoFrame]]:
    """The frames of one run. Raises _SeekError when one of them does not come."""
    missing = set(run)
    for number, frame in woven(stream, numbered) if deinterlace else numbered:
        if number in missing:
            missing.remove(number)
            yield number, frame
        if not missing:
            return
    raise _SeekError


def _numbered(
    container: InputContainer, stream: VideoStream, index: ClipIndex, first: int
) -> Iterator[tuple[int, VideoFrame]]:
    """Intact frames with their numbers, from frame `first` on; checked against the index one by one."""
    if first:
        container.seek(index.pts[_jump(stream, index, first)], stream=stream)
    number_of: dict[int | None, int] = {stamp: number for number, stamp in enumerate(index.pts)}
    expected, damaged = first, frozenset(index.damaged)
    for frame in (frame for packet in container.demux(stream) for frame in decoded(packet)[0]):
        number = number_of.get(frame.pts, -1) if number_of else expected
        while expected in damaged:
            expected += 1
        if number < expected or number in damaged:
            continue  # shown before the key frame, damaged, or not shown at all
        if number > expected or check_sum(frame) != index.sums[number]:
            raise _SeekError
        yield number, frame
        expected += 1


def _jump(stream: VideoStream, index: ClipIndex, first: int) -> int:
    """The frame to name in a jump that has to arrive at key frame `first` or before it.

    A container without a table of its packets (MPEG transport stream) is searched, and arrives a little late:
    there the key frame before is named.
    """
    if len(stream.index_entries):
        return first
    return max((key for key in index.key_frames if key < first), default=0)
