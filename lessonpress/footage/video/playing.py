"""A file played once from its beginning: the packets that were sent to the decoder, the pictures that came.

The decoder runs on one thread. With more it gives a fault to another packet than the faulty one, or to none,
and on which one depends on the machine's cores. Measured on 120 pictures of 1920 × 1080 px in H.264 and HEVC:
no more work than with a thread for each core (1.4 s and 3.0 s against 1.6 s and 2.9 s), and the press plays
several videos at a time anyway.
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, cast

import av
import numpy as np
from av.container import InputContainer
from av.packet import Packet
from av.video.frame import VideoFrame
from av.video.stream import VideoStream
from numpy.typing import NDArray

from lessonpress.footage.video.bounds import refuse_too_many
from lessonpress.footage.video.failure import FootageError
from lessonpress.footage.video.opening import EXPORT_AGAIN, opened
from lessonpress.footage.video.second_decoder import SecondDecoder, pixels_of

CHECKED_LINES = 8  # every eighth line of a picture goes into its check sum with its place
_SUMS = 1 << 62  # what sums of words are kept below


@dataclass(frozen=True)
class Sent:
    """A packet. hidden: decoded and not shown. faulty: the decoder, or the container, finds fault with it."""

    pts: int | None
    key: bool
    hidden: bool
    faulty: bool


@dataclass(frozen=True)
class Shown:
    """What the index keeps of one decoded picture. corrupt: by the decoder's own word.

    matrix: how the file asks to turn it, as its first sound picture says.
    """

    pts: int | None
    ticks: int
    key: bool
    interlaced: bool
    size: tuple[int, int]
    matrix: tuple[int, ...] | None
    check: int
    corrupt: bool


@dataclass
class Played:
    """sent: in the order of storing; shown: in the order of showing."""

    sent: list[Sent] = field(default_factory=list)
    shown: list[Shown] = field(default_factory=list)


@dataclass(frozen=True)
class _Turn:
    """matrix: of a display, or None. doubtful: whether the picture that carries it is damaged."""

    matrix: tuple[int, ...] | None
    doubtful: bool


def play(container: InputContainer, stream: VideoStream, path: Path) -> Played:
    """Every packet and picture of the file. Raises FootageError where its container breaks off."""
    played, turn = Played(), None
    refuse_too_many(stream.frames, path)
    second = SecondDecoder(stream, path)
    try:
        for packet in container.demux(stream):
            frames, faulty = decoded(packet)
            faulty = second.differs(packet, frames) or faulty
            if packet.size:
                sent = Sent(packet.pts, packet.is_keyframe, packet.is_discard, faulty or packet.is_corrupt)
                played.sent.append(sent)
                refuse_too_many(len(played.sent), path)
            for frame in frames:
                if turn is None or turn.doubtful:
                    turn = _Turn(_display_matrix(frame), doubtful=faulty or frame.is_corrupt)
                played.shown.append(_seen(frame, turn.matrix))
    except av.FFmpegError as fault:
        raise FootageError(f"{path.name} is damaged: {fault.strerror}", EXPORT_AGAIN) from fault
    return played


def decoded(packet: Packet[VideoStream]) -> tuple[list[VideoFrame], bool]:
    """The pictures that a packet brings out of the decoder, and whether the decoder finds fault with it."""
    try:
        return packet.decode(), False
    except av.FFmpegError:
        return [], True


def whole_of(path: Path) -> tuple[int, float]:
    """How many pictures an MP4 or MOV holds with its edit list left aside, and the seconds they fill."""
    with opened(path, {"ignore_editlist": "1"}) as (container, stream):
        tick = stream.time_base
        times = [(packet.dts, packet.duration or 0) for packet in container.demux(stream) if packet.size]
    stamps = [(at, lasts) for at, lasts in times if at is not None]
    if not stamps or tick is None:
        return len(times), 0.0
    return len(times), float((stamps[-1][0] + stamps[-1][1] - stamps[0][0]) * tick)


def check_sum(frame: VideoFrame) -> int:
    """A number that distinguishes decoded pictures.

    CRC-32 of every eighth line of the first plane, which knows where things are, and the sum of all planes'
    words, which misses no line. Both together take a fifth of what the CRC-32 of every line takes.
    """
    planar = frame.format.is_planar
    bits = frame.format.components[0].bits if planar else frame.format.padded_bits_per_pixel
    drawn = [pixels_of(plane, -(-bits // 8)) for plane in frame.planes]
    return zlib.crc32(drawn[0][::CHECKED_LINES].tobytes()) + sum(map(_words, drawn)) % _SUMS


def _words(pixels: NDArray[np.uint8]) -> int:
    """The sum of a plane as words of eight bytes; what is left at the end of its lines is not in it."""
    whole = pixels.shape[1] // 8 * 8
    return int(pixels[:, :whole].view(np.uint64).sum(dtype=np.uint64))


def _seen(frame: VideoFrame, matrix: tuple[int, ...] | None) -> Shown:
    return Shown(
        pts=frame.pts,
        ticks=frame.duration or 0,
        key=frame.key_frame,
        interlaced=frame.interlaced_frame,
        size=(frame.width, frame.height),
        matrix=matrix,
        check=check_sum(frame),
        corrupt=frame.is_corrupt,
    )


def _display_matrix(frame: VideoFrame) -> tuple[int, ...] | None:
    """Asked of every picture it would keep all in memory: PyAV holds side data and picture by each other."""
    carried: Mapping[str, Any] = cast(Any, frame.side_data)
    data = carried.get("DISPLAYMATRIX")
    return None if data is None else struct.unpack("=9i", bytes(data)[:36])
